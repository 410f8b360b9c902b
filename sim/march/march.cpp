#include "sim/march/march.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "sim/control/transitions.hpp"
#include "sim/heat/balance.hpp"
#include "sim/hydraulics/flows.hpp"
#include "sim/march/stepper.hpp"

namespace steadyfire {
namespace {

/// 1/(error allowed) by place; 0 for places without error control. Scaled so that the
/// library's mean over all places is the mean over the controlled ones.
std::vector<double> error_weights(Plan const& plan, MarchOptions const& options) {
  std::vector<double> allowed(plan.places());
  for (int i = 0; i < plan.places(); ++i) allowed[i] = plan.tolerance[i] * options.tolerance;
  // A joint of 5 g follows the water through it within a tenth of a second, so that what it errs by is
  // soon forgotten and carries little heat, while each front that passes would cost steps.
  double constexpr joint_share = 25, small_heat = 50 /* [J/K] */;
  for (int i = plan.first_joint; i < plan.first_joint + plan.joints; ++i)
    if (plan.capacity[i] < small_heat) allowed[i] *= joint_share;
  // Burner guards look at the water that leaves the boiler: an error there moves events.
  for (auto const& run : plan.branches)
    if (run.cells > 0 && plan.pieces[run.piece].kind->role == Role::boiler)
      allowed[run.first_cell + run.cells - 1] = std::min(allowed[run.first_cell + run.cells - 1], options.guarded_tolerance);
  auto const controlled = std::count_if(allowed.begin(), allowed.end(), [](double a) { return a > 0; });
  double const scale = std::sqrt(plan.places() / std::max(1.0, double(controlled)));
  for (double& a : allowed) a = a > 0 ? scale / a : 0;
  return allowed;
}

/// Branches in line have one number, the least of theirs: nothing leaves or joins between them.
std::vector<int> lines_of(Plan const& plan) {
  int const count = int(plan.branches.size());
  std::vector<std::vector<int>> at(plan.joints);
  for (int b = 0; b < count; ++b)
    for (int const joint : {plan.branches[b].inlet, plan.branches[b].outlet}) at[joint - plan.first_joint].push_back(b);
  std::vector<int> line(count);
  std::iota(line.begin(), line.end(), 0);
  for (bool changed = true; changed;) {
    changed = false;
    for (auto const& met : at)
      if (met.size() == 2 && line[met[0]] != line[met[1]])
        line[met[0]] = line[met[1]] = std::min(line[met[0]], line[met[1]]), changed = true;
  }
  return line;
}

/// Where between 0 and 1 a parabola through three values is highest; −1 if at an end.
double peak(double begin, double middle, double end) {
  double const bend = 2 * (begin - 2 * middle + end), rise = -3 * begin + 4 * middle - end;
  double const at = bend < 0 ? -rise / (2 * bend) : -1;
  return at < 1 ? at : -1;
}

}  // namespace

void stop_unconverged(Stage& stage, double time, double const* x, std::string const& library_says) {
  std::vector<double> rates(stage.plan.places());
  stage.rates(time, x, rates.data());
  int fastest = first_free_place;
  auto const speed = [&](int i) { return std::isfinite(rates[i]) ? std::abs(rates[i]) * stage.weights()[i] : 1e300; };
  for (int i = fastest; i < stage.plan.places(); ++i)
    if (speed(i) > speed(fastest)) fastest = i;
  auto const where = fastest < stage.plan.places() ? stage.plan.names[fastest] : std::string("no place");
  throw Stopped("E411", time, "the heat balance does not converge in time", where + " (changes fastest)", library_says,
                "check this part for a very small water content or mass");
}

struct March::Parts {
  Plan& plan;
  Forcing const& forcing;
  MarchOptions options;
  MarchStatistics statistics{};
  State state{plan};
  Balance balance{plan};
  Stage stage{plan, balance, state, error_weights(plan, options), statistics};
  FlowSolver flow_solver{plan};
  std::unique_ptr<Stepper> stepper = (options.by_cvode ? cvode_stepper : arkode_stepper)(stage, options, statistics);
  std::vector<Watcher*> watchers{};
  bool begun = false;

  double pace = 0;     // the step that the integrator would take if nothing stopped it [s]
  double look_at = 0;  // where a margin may have passed through zero and back [s]
  std::vector<double> before = std::vector<double>(plan.places()), between = before, rates_before = before, rates_after = before;
  std::vector<double> margins_before = std::vector<double>(guard_slots(plan)), margins_between = margins_before,
                      margins_after = margins_before;
  std::unique_ptr<bool[]> forced{new bool[guard_slots(plan) + 1]};
  std::vector<WithSlope> losses = std::vector<WithSlope>(plan.branches.size()), losses_now = losses;  // at the flows solved last
  std::vector<Way> ways = std::vector<Way>(plan.branches.size()), ways_now = ways;
  std::vector<double> water = std::vector<double>(plan.branches.size());  // mean temperature by branch when its head loss was found [K]
  std::vector<int> line = lines_of(plan);                                 // by branch: which it is in line with
  std::vector<double> matters = water, drift = water;                     // by branch: its share in that of its line; by line [K]
  std::vector<double> moved_by = std::vector<double>(plan.flow_movers.size());  // own states on which head losses hang, then
  std::vector<Trip> trips{};

  double constexpr static first_step = 2;   // after equations change [s]
  double constexpr static instant = 1e-6;   // shorter than what the library resolves at the end of a year [s]

  Now now() const { return state.now(plan); }

  double mean_water(Plan::Run const& run) const {
    double sum = 0;
    for (int i = 0; i < run.cells; ++i) sum += state.x[run.first_cell + i];
    return sum / run.cells;
  }
  /// Something between two modes has moved by so much that flows are no longer these.
  bool position_moved() const {
    for (std::size_t i = 0; i < moved_by.size(); ++i)
      if (auto const [place, matters] = plan.flow_movers[i]; std::abs(state.x[place] - moved_by[i]) > matters) return true;
    return false;
  }
  /// Water has warmed or cooled by so much that flows are no longer these: on the mean of branches in line, each as far as it
  /// resists. A shut one does not matter.
  bool flows_drifted() {
    std::fill(drift.begin(), drift.end(), 0);
    for (std::size_t b = 0; b < water.size(); ++b)
      if (matters[b] > 0) drift[line[b]] += matters[b] * std::abs(mean_water(plan.branches[b]) - water[b]);
    return std::any_of(drift.begin(), drift.end(), [&](double d) { return d > options.flow_refresh; });
  }
  /// How far each branch's temperature matters for the flow through its line.
  void weigh_losses() {
    double constexpr next_to_none = 1;  // [Pa] where hardly anything flows, all count alike
    std::fill(drift.begin(), drift.end(), 0);
    for (std::size_t b = 0; b < matters.size(); ++b) {
      matters[b] = plan.branches[b].cells == 0 || ways[b] == Way::shut ? 0 : std::abs(losses[b].value) + next_to_none;
      drift[line[b]] += matters[b];
    }
    for (std::size_t b = 0; b < matters.size(); ++b)
      if (matters[b] > 0) matters[b] /= drift[line[b]];
  }
  void ask_losses(std::vector<WithSlope>& losses, std::vector<Way>& ways) const {
    for (auto const& batch : plan.batches) batch->losses(now(), losses.data()), batch->ways(now(), ways.data());
  }
  /// Whether branches resist otherwise than when the flows were solved.
  bool hydraulics_changed() {
    double constexpr unlike = 1;  // [Pa]
    ask_losses(losses_now, ways_now);
    for (std::size_t b = 0; b < losses.size(); ++b)
      if (ways[b] != ways_now[b] || !(std::abs(losses[b].value - losses_now[b].value) < unlike)) return true;
    return false;
  }
  void solve_flows(bool near = false) {
    if (plan.branches.empty()) return;
    refresh_local_fluid(plan, state);
    if (near) flow_solver.follow(state);
    else flow_solver.solve(state);
    ++statistics.flow_solves;
    ask_losses(losses, ways);
    for (std::size_t b = 0; b < water.size(); ++b)
      if (plan.branches[b].cells > 0) water[b] = mean_water(plan.branches[b]);
    weigh_losses();
    for (std::size_t i = 0; i < moved_by.size(); ++i) moved_by[i] = state.x[plan.flow_movers[i].first];
  }
  void settle() {
    balance.settle(now());
    ++statistics.settled;
    stage.equations_changed();
  }
  void feel_outdoors() {
    state.x[given::outdoors] = forcing.at(state.time);
    balance.outdoor_slope = forcing.slope(state.time);
  }

  /// Controllers and flows follow each other until both rest. Returns whether any mode changed.
  bool follow_modes(bool const* forced_slots) {
    int constexpr most_rounds = 60;
    trips.clear();
    for (int round = 0; change_modes(plan, state, forced_slots, trips); ++round, forced_slots = nullptr) {
      if (round == most_rounds)
        throw Stopped("E412", state.time, "controls and flows do not settle", plan.pieces[trips.back().piece].name,
                      words_of(trips.back()).in(UnitSystem::us), "add a differential or a delay to the control that senses flow");
      if (hydraulics_changed()) solve_flows();
      settle();
    }
    return !trips.empty();
  }

  void tell_trips() {
    statistics.events += long(trips.size());
    for (auto* w : watchers) w->tripped(trips, state);
  }

  void begin() {
    begun = true;
    feel_outdoors();
    for (auto const& batch : plan.batches) batch->begin(now(), state.x.data());
    solve_flows();
    settle();
    if (follow_modes(nullptr)) tell_trips();
    pace = first_step;
    restart(first_step);
  }

  void restart(double step) {
    stepper->restart(state.time, state.x.data(), step);
    stage.margins(state.time, state.x.data(), margins_before.data());
  }

  /// How much farther apart old and new equations come in one step of the present pace,
  /// in errors allowed: the largest over all places.
  double jump() const {
    double most = 0;
    for (int i = 0; i < plan.places(); ++i) most = std::max(most, std::abs(rates_after[i] - rates_before[i]) * stage.weights()[i]);
    return most * pace;
  }

  /// Signs at the ends of a step miss a margin that passes through zero and back: where
  /// the dense output says so, the step is taken again, to stop where the margin is highest.
  bool passed_and_back(double from) {
    double constexpr too_short = 0.1;  // [s]
    double const length = stepper->time - from;
    if (margins_before.empty()) return false;
    stage.margins(stepper->time, stepper->x, margins_after.data());
    if (length < too_short || look_at > from) return false;
    auto const look = [&](double share) {
      stepper->look_back(from + share * length, between.data());
      margins(plan, stage.now(from + share * length, between.data()), margins_between.data());
    };
    look(0.5);
    double highest = -1;
    for (std::size_t i = 0; i < margins_before.size(); ++i) {
      if (margins_before[i] >= 0 || margins_after[i] >= 0) continue;
      if (margins_between[i] >= 0) return look_at = from + length / 2, true;
      double const at = peak(margins_before[i], margins_between[i], margins_after[i]);
      if (at <= 0) continue;
      double const bend = 2 * (margins_before[i] - 2 * margins_between[i] + margins_after[i]);
      double const top = margins_before[i] - bend * at * at;
      if (top >= 0) highest = at;
    }
    if (highest <= 0) return false;
    look(highest);
    for (std::size_t i = 0; i < margins_before.size(); ++i)
      if (margins_before[i] < 0 && margins_after[i] < 0 && margins_between[i] >= 0) return look_at = from + highest * length, true;
    return false;
  }

  void run(double until, std::function<bool()> const& interrupted) {
    int constexpr steps_between_questions = 50;
    if (!begun) begin();
    for (long count = 1; state.time < until; ++count) {
      if (interrupted && count % steps_between_questions == 0 && interrupted()) return;
      double const due = next_due(plan, now()), knot = forcing.next_knot(state.time);
      double stop = std::min({until, due, knot});
      if (look_at > state.time + instant) stop = std::min(stop, look_at);
      auto end = Stepper::End::stop;
      if (stop - state.time > instant) {
        double const from = state.time;
        before = state.x;
        end = stepper->step(stop);
        if (end != Stepper::End::root && passed_and_back(from)) {
          stepper->restart(from, before.data(), look_at - from);
          continue;
        }
        double const taken = stepper->time - from;
        pace = end == Stepper::End::step ? taken : std::max(pace, taken);
        state.time = end == Stepper::End::stop ? stop : stepper->time;
        std::copy(stepper->x, stepper->x + plan.places(), state.x.begin());
        for (auto* w : watchers) w->stepped(from, before, state);
        std::swap(margins_before, margins_after);
      }
      if (end == Stepper::End::stop) state.time = stop;
      follow_events(end, end == Stepper::End::stop && stop == due, end == Stepper::End::stop && stop == knot);
    }
  }

  /// What happens at the end of a step.
  void follow_events(Stepper::End end, bool timer, bool knot) {
    bool const root = end == Stepper::End::root;
    bool again = root || end == Stepper::End::stop;
    double step = pace;
    if (knot) feel_outdoors();
    if (root || timer) {
      if (root) stepper->found(forced.get());
      stage.rates(state.time, state.x.data(), rates_before.data());
      if (follow_modes(root ? forced.get() : nullptr)) {
        stage.rates(state.time, state.x.data(), rates_after.data());
        if (jump() > 1) step = first_step;
        tell_trips();
      }
    }
    if (bool const moved = position_moved(); moved || flows_drifted()) {
      if (moved) stage.rates(state.time, state.x.data(), rates_before.data());
      solve_flows(!moved);
      settle();
      if (moved) stage.rates(state.time, state.x.data(), rates_after.data());
      if (moved && jump() > 1) step = first_step;
      // A one-step method does not notice a drift so small; what a multistep method remembers would no longer fit.
      again = again || moved || options.by_cvode;
    }
    if (again) restart(step);
  }
};

March::March(Plan& plan, Forcing const& forcing, MarchOptions options) : parts_{new Parts{plan, forcing, options}} {}
March::~March() = default;
void March::watch(Watcher& w) { parts_->watchers.push_back(&w); }
void March::begin() {
  if (!parts_->begun) parts_->begin();
}
void March::run(double until) { parts_->run(until, interrupted); }
State& March::state() { return parts_->state; }
Balance const& March::balance() const { return parts_->balance; }
MarchStatistics const& March::statistics() const { return parts_->statistics; }

}  // namespace steadyfire
