#include "sim/study/need_of_tees.hpp"

#include <algorithm>

#include "sim/core/gravity.hpp"

namespace steadyfire {
namespace {

class NeedOfTees {
 public:
  NeedOfTees(Plan const& plan, Installation const& in, State const& state) : plan_{plan}, in_{in}, state_{state} {}

  void tell(std::vector<Finding>& findings, std::vector<Finding>& passed) {
    int const n = int(plan_.branches.size());
    boiler_ = plan_.seat(in_.boiler).branch;
    int coupling = -1;
    for (int b = 0; b < n; ++b) {
      auto const& piece = piece_of(b);
      if (piece.kind->role == Role::tank || plan_.plays(plan_.branches[b].piece, Part::gap)) coupling = b;
      if (piece.kind->role == Role::circulator && plan_.branches[b].outlet == plan_.branches[boiler_].inlet) circulator_ = b;
    }
    if (coupling < 0 || circulator_ < 0 || !find_flows(coupling)) return;
    find_losses();

    double const own_head = -loss_[circulator_], boiler_loss = loss_[boiler_];
    for (int b = 0; b < n; ++b)
      if (piece_of(b).kind->role == Role::circulator) loss_[b] = 0;
    pressure_.assign(plan_.joints, std::numeric_limits<double>::quiet_NaN());
    int const outlet = joint(plan_.branches[boiler_].outlet), inlet = joint(plan_.branches[boiler_].inlet);
    go(outlet, 0);
    if (!std::isnan(pressure_[inlet])) return;  // a way round the zones, as in a single pipe
    go(inlet, 0);
    double needed = 0;
    std::string farthest;
    for (auto const& z : in_.zones) {
      auto const& run = plan_.branches[plan_.seat(z.emitter).branch];
      double const way = -pressure_[joint(run.inlet)] + loss_[plan_.seat(z.emitter).branch] + pressure_[joint(run.outlet)];
      if (std::isnan(way)) return;
      if (way > needed) needed = way, farthest = z.name;
    }
    auto const head = [&](double pascal) { return pascal / (plan_.fluid.density * gravity); };
    double const flow = flow_[boiler_] / plan_.fluid.density, left = own_head - boiler_loss;
    bool const reaches = left >= needed;
    auto const alone = smallest_alone();
    bool const trips = reaches && alone.rise > alone.differential / 2;
    bool const enough = reaches && !trips;
    auto const& coupled = piece_of(coupling);
    bool const tees = plan_.plays(plan_.branches[coupling].piece, Part::gap);
    (enough ? findings : passed)
        .push_back({.id = enough ? "tees.not_needed" : "tees.needed",
                    .place = tees ? "tees" : coupled.name,
                    .severity = Severity::note,
                    .figures = {{"flow", flow, measure::flow},
                                {"head_left", head(left), measure::head},
                                {"head_needed", head(needed), measure::head}},
                    .limit = std::nullopt,
                    .whose = "head losses at the flows needed",
                    .words = say("at {} for all zones, '{}' has {} left after the boiler; the longest zone, '{}', needs {}.{}{}",
                                 Amount{flow, measure::flow}, piece_of(circulator_).name,
                                 left > 0 ? Words(Amount{head(left), measure::head}) : "no head", farthest,
                                 Amount{head(needed), measure::head}, trips ? trips_in_one_pass(alone) : Words(),
                                 enough ? " One circulator with zone valves and a bypass can do it."
                                 : tees ? " Keep the tees."
                                        : " Keep it."),
                    .order = 9,
                    .fix = enough ? "none needed; to save a circulator, pipe the zones straight through the boiler." : ""});
  }

 private:
   /// The zone of least flow, and by how much one pass straight through the boiler would warm that flow at minimum fire, were all its
   /// fuel heat: the burner stops at half its differential or more before the loop is warm (`ReasonFigures::one_pass_decides`).
   struct Alone {
     std::string zone;
     double flow, rise, differential;  ///< [m³/s], [K], [K]
   };
   Alone smallest_alone() const {
     auto const& z =
         *std::min_element(in_.zones.begin(), in_.zones.end(), [](auto const& a, auto const& b) { return a.wanted_flow < b.wanted_flow; });
     auto const& boiler = in_.pieces[in_.boiler];
     auto const& water = plan_.fluid;
     return {z.name, z.wanted_flow, number_of(boiler, FieldRole::least_input, 0) / (water.density * water.heat_capacity * z.wanted_flow),
             number_of(boiler, FieldRole::on_below, 0) + number_of(boiler, FieldRole::off_above, 0)};
   }
   static Words trips_in_one_pass(Alone const& a) {
     return say(
         " But '{}' alone takes {}: straight through the boiler, one pass at minimum fire would warm it by {}, and the burner would "
         "stop at once, as the on/off differential is {}.",
         a.zone, Amount{a.flow, measure::flow}, Amount{a.rise, measure::temperature_change},
         Amount{a.differential, measure::temperature_change});
   }

  Piece const& piece_of(int b) const { return plan_.pieces[plan_.branches[b].piece]; }
  int joint(int place) const { return place - plan_.first_joint; }

  /// Flows that follow from the wanted ones by continuity; false if there is a choice.
  bool find_flows(int coupling) {
    int const n = int(plan_.branches.size());
    std::vector<Way> ways(n);
    for (auto const& batch : plan_.batches) batch->ways(state_.now(plan_), ways.data());
    flow_.assign(n, 0), takes_part_.assign(n, true);
    std::vector<double> surplus(plan_.joints);
    auto const set = [&](int b, double flow) {
      flow_[b] = flow, takes_part_[b] = false;
      surplus[joint(plan_.branches[b].inlet)] -= flow, surplus[joint(plan_.branches[b].outlet)] += flow;
    };
    double all = 0;
    for (auto const& z : in_.zones) {
      double const m = z.wanted_flow * plan_.fluid.density;
      set(plan_.seat(z.emitter).branch, m), all += m;
    }
    set(boiler_, all);
    for (int b = 0; b < n; ++b)
      if (b == coupling || ways[b] == Way::shut || piece_of(b).kind->family == "bypass") takes_part_[b] = false;
    std::vector<int> degree(plan_.joints);
    for (int b = 0; b < n; ++b)
      if (takes_part_[b]) ++degree[joint(plan_.branches[b].inlet)], ++degree[joint(plan_.branches[b].outlet)];
    auto pending = takes_part_;
    for (bool changed = true; changed;) {
      changed = false;
      for (int b = 0; b < n; ++b) {
        int const in = joint(plan_.branches[b].inlet), out = joint(plan_.branches[b].outlet);
        if (!pending[b] || (degree[in] != 1 && degree[out] != 1)) continue;
        flow_[b] = degree[in] == 1 ? surplus[in] : -surplus[out];
        surplus[in] -= flow_[b], surplus[out] += flow_[b];
        pending[b] = false, changed = true;
        --degree[in], --degree[out];
      }
    }
    return std::none_of(pending.begin(), pending.end(), [](bool p) { return p; });
  }

  void find_losses() {
    auto now = state_.now(plan_);
    std::vector<WithSlope> at(flow_.size()), below(flow_.size());
    std::vector<double> less = flow_;
    for (double& q : less) q *= 0.99;  // where a limiter is still at its least difference
    now.flow = flow_.data();
    for (auto const& batch : plan_.batches) batch->losses(now, at.data());
    now.flow = less.data();
    for (auto const& batch : plan_.batches) batch->losses(now, below.data());
    loss_.resize(flow_.size());
    for (std::size_t b = 0; b < flow_.size(); ++b) loss_[b] = piece_of(int(b)).kind->family == "limiter" ? below[b].value : at[b].value;
  }

  /// Pressures along the branches that take part.
  void go(int from, double pressure) {
    if (!std::isnan(pressure_[from])) return;
    pressure_[from] = pressure;
    for (std::size_t b = 0; b < flow_.size(); ++b) {
      if (!takes_part_[b]) continue;
      int const in = joint(plan_.branches[b].inlet), out = joint(plan_.branches[b].outlet);
      if (in == from) go(out, pressure - loss_[b]);
      if (out == from) go(in, pressure + loss_[b]);
    }
  }

  Plan const& plan_;
  Installation const& in_;
  State const& state_;
  int boiler_ = -1, circulator_ = -1;
  std::vector<double> flow_, loss_, pressure_;
  std::vector<bool> takes_part_;
};

}  // namespace

void add_need_of_tees(Plan const& plan, Installation const& in, State const& state, std::vector<Finding>& findings,
                      std::vector<Finding>& passed) {
  bool const one_boiler = in.boiler >= 0 && in.lag_boiler < 0;
  if (one_boiler && !in.zones.empty()) NeedOfTees{plan, in, state}.tell(findings, passed);
}

}  // namespace steadyfire
