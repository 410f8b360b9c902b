#include "sim/study/operating_points.hpp"

#include <algorithm>
#include <cmath>

#include "sim/core/diagnostic.hpp"
#include "sim/hydraulics/flows.hpp"

namespace steadyfire {
namespace {

int constexpr samples = 60;

/// The network without a circulator, whose flow is prescribed instead: at rest its own check shuts it.
class Rest {
 public:
  Rest(Installation in, State const& solved, int circulator) : circulator_{circulator} {
    value_of(in.pieces[circulator], FieldRole::has_check).numbers = {1};
    plan_ = lay_out(in);
    state_ = std::make_unique<State>(plan_);
    state_->x = solved.x, state_->mode = solved.mode, state_->since = solved.since, state_->local = solved.local,
    state_->time = solved.time;
    state_->mode[circulator] = 0;
  }
  /// What the rest asks for at a flow [Pa].
  double operator()(double flow) {
    auto const& run = plan_.branches[plan_.first_branch[circulator_]];
    int const in = run.inlet - plan_.first_joint, out = run.outlet - plan_.first_joint;
    auto const inflow = plan_.joint_inflow;
    plan_.joint_inflow[in] -= flow / plan_.fluid.density, plan_.joint_inflow[out] += flow / plan_.fluid.density;
    FlowSolver{plan_}.solve(*state_);
    plan_.joint_inflow = inflow;
    return state_->pressure[out] - state_->pressure[in];
  }

 private:
  int circulator_;
  Plan plan_;
  std::unique_ptr<State> state_;
};

double bisect(auto const& f, double low, double high) {
  bool const rises = f(high) > 0;
  for (int i = 0; i < 50; ++i) {
    double const middle = (low + high) / 2;
    ((f(middle) > 0) == rises ? high : low) = middle;
  }
  return (low + high) / 2;
}

/// Which running circulators have more head at some flow than at none: asked of all at once.
std::vector<int> humped(Plan const& plan, State const& solved) {
  std::vector<int> running;
  for (std::size_t p = 0; p < plan.pieces.size(); ++p)
    if (plan.pieces[p].kind->role == Role::circulator && solved.mode[p] != 0 && solved.flow[plan.first_branch[p]] >= 0)
      running.push_back(int(p));
  auto flow = solved.flow;
  auto now = solved.now(plan);
  now.flow = flow.data();
  std::vector<WithSlope> losses(plan.branches.size());
  auto const gains = [&](std::vector<double> const& q) {
    for (std::size_t i = 0; i < running.size(); ++i) flow[plan.first_branch[running[i]]] = q[i];
    for (auto const& batch : plan.batches)
      if (!batch->seats.empty() && plan.pieces[batch->seats.front().piece].kind->role == Role::circulator)
        batch->losses(now, losses.data());
    std::vector<double> gain;
    for (int p : running) gain.push_back(-losses[plan.first_branch[p]].value);
    return gain;
  };
  std::vector<double> end, highest(running.size());
  for (int p : running) end.push_back(std::max(1e-3, solved.flow[plan.first_branch[p]]));
  for (bool grew = true; grew;) {
    auto const gain = gains(end);
    grew = false;
    for (std::size_t i = 0; i < end.size(); ++i)
      if (gain[i] > 0 && end[i] < 1e4) end[i] *= 1.2, grew = true;
  }
  for (int s = 1; s <= samples; ++s) {
    auto q = end;
    for (double& one : q) one *= double(s) / samples;
    auto const gain = gains(q);
    for (std::size_t i = 0; i < gain.size(); ++i) highest[i] = std::max(highest[i], gain[i]);
  }
  auto const at_rest = gains(std::vector<double>(running.size()));
  std::vector<int> found;
  for (std::size_t i = 0; i < running.size(); ++i)
    if (highest[i] > 1.001 * at_rest[i]) found.push_back(running[i]);
  return found;
}

}  // namespace

std::vector<double> other_operating_points(Installation const& in, Plan const& plan, State const& solved, int circulator) {
  int const branch = plan.first_branch[circulator];
  auto flow = solved.flow;
  auto now = solved.now(plan);
  now.flow = flow.data();
  std::vector<WithSlope> losses(plan.branches.size());
  auto const gain = [&](double q) {
    flow[branch] = q;
    plan.batches[plan.batch_of[circulator]]->losses(now, losses.data());
    return -losses[branch].value;
  };
  double end = std::max(1e-3, solved.flow[branch]);
  while (gain(end) > 0 && end < 1e4) end *= 1.2;
  double highest = 0;
  for (int i = 1; i <= samples; ++i) highest = std::max(highest, gain(end * i / samples));
  if (!(highest > 1.001 * gain(0))) return {};

  std::vector<double> found;
  try {
    Rest rest{in, solved, circulator};
    auto const left_over = [&](double q) { return gain(q) - rest(q); };
    double before = left_over(0);
    for (int i = 1; i <= samples; ++i) {
      double const q = end * i / samples, here = left_over(q);
      if ((here > 0) != (before > 0)) {
        double const root = bisect(left_over, end * (i - 1) / samples, q);
        if (std::abs(root - solved.flow[branch]) > 0.01 * end) found.push_back(root);
      }
      before = here;
    }
  } catch (Stopped const&) {  // nothing else leads through: only its own flow can be
    return {};
  }
  return found;
}

void add_operating_points(Installation const& in, Plan const& plan, State const& solved, std::vector<Finding>& list) {
  for (int const p : humped(plan, solved)) {
    auto const& piece = plan.pieces[p];
    int const branch = plan.first_branch[p];
    for (double const other : other_operating_points(in, plan, solved, p)) {
      double const density = solved.local[branch].density;
      Amount const flow{solved.flow[branch] / density, measure::flow}, other_flow{other / density, measure::flow};
      list.push_back({.id = "circulator.second_point",
                      .place = piece.name,
                      .severity = Severity::minor,
                      .figures = {{"flow", flow.si, measure::flow}, {"other_flow", other_flow.si, measure::flow}},
                      .limit = std::nullopt,
                      .whose = "its curve and the circuit",
                      .words = say("the circulator curve has a hump; it can run at {} or at {} and may jump between them.", flow,
                                   other_flow),
                      .order = 35,
                      .fix = "choose a circulator with a falling curve."});
    }
  }
}

}  // namespace steadyfire
