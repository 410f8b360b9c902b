#include "sim/study/run_study.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "sim/march/march.hpp"
#include "sim/network/topology.hpp"
#include "sim/record/reasons.hpp"
#include "sim/study/draws_watcher.hpp"
#include "sim/study/flows_study.hpp"
#include "sim/study/network_picture.hpp"
#include "sim/study/plan_writer.hpp"
#include "sim/study/pressures.hpp"
#include "sim/study/recorder.hpp"
#include "sim/study/room_findings.hpp"

namespace steadyfire {
namespace {

Moment moment_of(Plan const& plan, State const& s, std::string words) {
  Moment m{s.time, std::move(words), {}, {}};
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    auto const& run = plan.branches[b];
    if (!is_drawn(plan, run)) continue;
    bool const back = s.flow[b] < 0;
    int const left = run.cells == 0 ? (back ? run.outlet : run.inlet) : back ? run.first_cell : run.first_cell + run.cells - 1;
    m.flow.push_back(s.flow[b] / s.local[b].density), m.temperature.push_back(s.x[left]);
  }
  return m;
}

/// Keeps the moment in the middle of the longest burn, and the worst of each finding of a piece.
class Onlooker final : public Watcher {
 public:
   Onlooker(Plan const& plan, int boiler, double duration, double clock, std::function<void(double)> progress)
       : plan_{plan}, boiler_{boiler}, duration_{duration}, clock_{clock}, progress_{std::move(progress)} {}

   void stepped(double, std::vector<double> const&, State const& now) override {
     if (burns(now.mode[boiler_]) && moments_.wants(now.time)) moments_.add(now.time, moment_of(plan_, now, "middle of the longest burn"));
     if (through_.wants(now.time))
       through_.add(now.time, moment_of(plan_, now, "burner " + std::string{plan_.pieces[boiler_].kind->modes[now.mode[boiler_]]}));
     if (int const percent = int(100 * now.time / duration_); progress_ && percent > percent_)
       progress_(now.time / duration_), percent_ = percent;
   }
  void tripped(std::vector<Trip> const& trips, State const& now) override {
    for (auto const& t : trips) {
      if (t.piece != boiler_) continue;
      if (burns(t.to) && !burns(t.from)) since_ = now.time, moments_.clear();
      if (burns(t.from) && !burns(t.to)) end_burn(now.time);
    }
    look_for_findings(now);  // what warms up is warmest, what fills is fullest, when a control has just acted
  }
  void look_for_findings(State const& now) {
    found_.clear();
    for (auto const& b : plan_.batches) b->findings(now.now(plan_), found_);
    for (auto& f : found_) f.place = plan_.pieces[f.piece].name;
    add_pressure_findings(plan_, now, found_);
    // What has no limit is a state of the piping: it must last, as the way is shut for a moment while a valve turns.
    for (auto& [key, worst] : worst_) worst.is_here = false;
    for (auto& f : found_) {
      auto [at, is_new] = worst_.try_emplace({f.id, f.place}, Worst{f, now.time, now.x[given::outdoors]});
      auto& w = at->second;
      if (w.since < 0) w.since = now.time;
      w.is_here = true;
      if (!is_new && beyond(f) > beyond(w.finding)) w.finding = std::move(f), w.time = now.time, w.outdoors = now.x[given::outdoors];
    }
    for (auto& [key, worst] : worst_) worst.end_unless_here(now.time);
  }
  Moment moment(State const& now) {
    if (burns(now.mode[boiler_])) end_burn(now.time);
    return longest_ > 0 ? best_ : moment_of(plan_, now, "end of the run");
  }
  std::vector<Moment> const& moments() const { return through_.samples(); }
  std::vector<Finding> findings() const {
    std::vector<Finding> list;
    double constexpr lasting = 60;  // [s]
    for (auto const& [key, worst] : worst_) {
      if (!worst.finding.limit && worst.longest < lasting) continue;
      list.push_back(worst.finding);
      if (worst.finding.limit) list.back().words += say(" Worst {}.", occasion(worst.time, clock_, worst.outdoors));
    }
    return list;
  }

 private:
  bool burns(int mode) const {
    return plan_.traits_of(boiler_, mode) & trait::burns;
  }
  /// How far a finding lies from its limit.
  static double beyond(Finding const& f) { return f.limit && !f.figures.empty() ? std::abs(f.figures[0].value - f.limit->value) : 0; }
  void end_burn(double time) {
    auto const& all = moments_.samples();
    if (time - since_ <= longest_ || all.empty()) return;
    longest_ = time - since_;
    double const middle = (since_ + time) / 2;
    best_ = *std::min_element(all.begin(), all.end(),
                              [&](auto const& a, auto const& b) { return std::abs(a.time - middle) < std::abs(b.time - middle); });
  }

  Plan const& plan_;
  int boiler_;
  double duration_, clock_;
  std::function<void(double)> progress_;
  int percent_ = -1;
  Thinned<Moment> moments_{5, 32}, through_{60, 288};
  Moment best_;
  double since_ = 0, longest_ = 0;
  std::vector<Finding> found_;
  struct Worst {
    Finding finding;
    double time, outdoors;
    double since = -1, longest = 0;  ///< [s] it has been here, -1 if it is not; the longest time that it was
    bool is_here = true;

    void end_unless_here(double now) {
      if (since < 0) return;
      longest = std::max(longest, now - since);
      if (!is_here) since = -1;
    }
  };
  std::map<std::pair<std::string, std::string>, Worst> worst_;
};

/// The corners of a clamped line through two points, from the coldest to the mildest.
std::vector<std::pair<double, double>> corners(double cold, double cold_supply, double mild, double mild_supply, double lowest,
                                               double highest) {
  double const slope = (cold_supply - mild_supply) / (mild - cold);
  if (std::isnan(lowest)) lowest = std::min(cold_supply, mild_supply);
  if (std::isnan(highest)) highest = std::max(cold_supply, mild_supply);
  std::vector<double> outdoors{cold, mild};
  if (slope != 0)
    for (double const limit : {lowest, highest}) outdoors.push_back(mild + (mild_supply - limit) / slope);
  std::sort(outdoors.begin(), outdoors.end());
  std::vector<std::pair<double, double>> curve;
  for (double const o : outdoors)
    if (curve.empty() || o > curve.back().first + 1e-6)
      curve.emplace_back(o, std::min(std::max(mild_supply + slope * (mild - o), lowest), highest));
  return curve;
}

std::vector<ResetRecord> resets(Installation const& in) {
  std::vector<ResetRecord> list;
  for (auto const& z : in.zones) {
    if (z.reset < 0) continue;
    using enum FieldRole;
    auto const at = [&](FieldRole role) { return number_of(in.pieces[z.reset], role); };
    double const cold = at(cold_outdoors), cold_water = at(cold_supply), mild = at(mild_outdoors), mild_water = at(mild_supply);
    if (std::isnan(cold + cold_water + mild + mild_water)) continue;
    list.push_back({z.name, corners(cold, cold_water, mild, mild_water, at(lowest_supply), at(highest_supply))});
  }
  return list;
}

/// Extremes at the samples, between which the temperature runs straight; means of hours and days exact.
WeatherRecord weather_of(Forcing const& outdoors, double duration, std::string source) {
  double constexpr hour = 3600, base = 291.4833333333333;  // 65 °F
  WeatherRecord w;
  w.source = std::move(source), w.hours = duration / hour;
  if (duration <= 0) return w;
  std::vector<double> hours;
  double day = 0, of_day = 0;
  w.min = w.max = outdoors.at(0);
  for (double from = 0; from < duration; from += hour) {
    double const to = std::min(from + hour, duration);
    double sum = 0;  // [K·s] of this hour
    for (double t = from; t < to;) {
      double const end = std::min(to, outdoors.next_knot(t)), at_end = outdoors.at(end);
      sum += (outdoors.at(t) + at_end) / 2 * (end - t);
      w.min = std::min(w.min, at_end), w.max = std::max(w.max, at_end);
      t = end;
    }
    hours.push_back(sum / (to - from));
    w.mean += sum / duration, day += sum, of_day += to - from;
    if (of_day < 24 * hour && to < duration) continue;
    w.degree_days_65F += std::max(0.0, base - day / of_day) * of_day / (24 * hour);
    day = of_day = 0;
  }
  std::sort(hours.begin(), hours.end());
  w.cold_1_percent = hours[std::size_t(0.01 * double(hours.size()))];
  return w;
}

/// Branches of hot water, which the boiler's water never enters.
std::vector<bool> potable_branches(Plan const& plan) {
  std::vector<bool> is_potable(plan.branches.size());
  for (auto const& main : plan.branches) {
    if (plan.pieces[main.piece].kind->role != Role::cold_main) continue;
    auto const island = study_topology(plan).island;
    for (std::size_t b = 0; b < plan.branches.size(); ++b)
      is_potable[b] = island[plan.branches[b].inlet - plan.first_joint] == island[main.inlet - plan.first_joint];
  }
  return is_potable;
}

/// What the smallest zone takes by itself with the water of the run, and what then flows through the boiler. While it called in
/// the run the water was warmed as well: that heat is no load.
void ask_zone_alone(Installation const& in, Record const& r, double outdoors, RunOptions const& options, ReasonFigures& f) {
  auto const zone = std::find_if(r.zones.begin(), r.zones.end(), [&](auto const& z) { return z.name == f.smallest_zone; });
  if (zone == r.zones.end() || zone->call_time <= 0 || options.figures_only) return;
  f.smallest_water = zone->target > 0 ? zone->target : r.supply_mean;
  FlowsOptions alone;
  alone.calls = {{f.smallest_zone}}, alone.supply = f.smallest_water, alone.outdoors = outdoors, alone.tell_findings = false;
  alone.ground = options.ground, alone.unheated = options.unheated;
  try {
    auto const state = study_flows(in, alone).states.front();
    if (!std::isnan(state.zones.front().heat)) f.smallest_load = state.zones.front().heat;
    if (state.boiler_flow > 0) f.flow = state.boiler_flow;
  } catch (Stopped const&) {  // its mean load stands for it
  }
}

ReasonFigures figures_of(Installation const& in, Plan const& plan, Record const& r, Recorder const& recorder, RunOptions const& options) {
  ReasonFigures f;
  auto const& boiler = in.pieces[in.boiler];
  f.output_least = r.burner.output_least, f.input_least = r.burner.input_least;
  f.output_most = r.burner.input_least > 0 ? r.burner.output_least * r.burner.input_most / r.burner.input_least : 0;
  for (auto const& other : r.other_burners)
    if (other.input_least > 0) f.output_most += other.output_least * other.input_most / other.input_least;
  f.differential = number_of(boiler, FieldRole::on_below) + number_of(boiler, FieldRole::off_above);
  f.minimum_off = number_of(boiler, FieldRole::least_rest);
  f.flow = recorder.mean_boiler_flow();
  f.starts = r.burner.starts, f.burns = long(r.burner.burns.size()), f.starts_per_hour_worst = r.burner.starts_per_hour_worst;
  f.ends = r.burner.ended_by;
  f.burn_median = r.burner.burn_median, f.duration = r.duration;
  f.short_burn = options.short_burn, f.note_burn = options.note_burn, f.starts_limit = options.starts_limit;
  ZoneParts const* smallest = nullptr;
  for (auto const& z : in.zones) {
    f.design_load += z.design_load;
    if (z.room >= 0 && (!smallest || z.design_load < smallest->design_load)) smallest = &z;
  }
  if (!smallest) return f;
  f.smallest_zone = smallest->name, f.smallest_design_load = smallest->design_load;
  double const share = (smallest->design_room - recorder.mean_outdoors()) / (smallest->design_room - in.outdoor_design);
  f.smallest_load = smallest->design_load * std::max(0.0, share);
  ask_zone_alone(in, r, recorder.mean_outdoors(), options, f);
  f.capacity_rate = f.flow * plan.fluid.density * plan.fluid.heat_capacity;
  auto const potable = potable_branches(plan);
  for (std::size_t p = 0; p < plan.pieces.size(); ++p) {
    auto const& piece = plan.pieces[p];
    if (!piece.zone.empty() && piece.zone != smallest->name) continue;
    auto const shape = plan.batches[plan.batch_of[p]]->shape(plan.seat_of[p], plan.fluid);
    for (std::size_t b = 0; b < piece.kind->branches.size(); ++b) {
      if (potable[plan.first_branch[p] + int(b)]) continue;
      auto const& cells = shape.cells[b];
      double const water = cells.water + shape.port_water[2 * b] + shape.port_water[2 * b + 1];
      f.water += water, f.heat_capacity += water * plan.fluid.density * plan.fluid.heat_capacity + cells.metal;
    }
  }
  return f;
}

}  // namespace

RunResult run_study(Installation const& in, RunOptions const& options, Forcing const& outdoors, std::function<void(double share)> progress,
                    std::function<bool()> interrupted) {
  if (in.boiler < 0) throw InternalError("a run through time needs a boiler");
  Plan plan = lay_out(in, options.start_water);
  MarchOptions march_options;
  march_options.tolerance = options.tolerance;
  march_options.guarded_tolerance = options.guarded_tolerance, march_options.flow_refresh = options.flow_refresh;
  March march{plan, outdoors, march_options};
  RecorderOptions recorder_options;
  recorder_options.condensing = options.condensing;
  recorder_options.figures_only = options.figures_only;
  recorder_options.settled_from = std::min(options.duration / 4, 86400.0);
  Recorder recorder{plan, in, recorder_options};
  auto const heard = [&](double share) {
    if (progress) progress(share);
    if (options.picture) options.picture(share, [&] { return recorder.so_far(); });
  };
  Onlooker onlooker{plan, in.boiler, options.duration, options.clock, heard};
  march.watch(recorder);
  if (!options.figures_only) march.watch(onlooker);
  std::optional<DrawsWatcher> draws;
  if (DrawsWatcher::has_taps(plan)) march.watch(draws.emplace(plan, in));
  std::optional<PlanWriter> plan_writer;
  if (options.plan) march.watch(plan_writer.emplace(plan, march, in, *options.plan));
  march.interrupted = std::move(interrupted);
  State& state = march.state();
  state.clock = options.clock;
  state.x[given::ground] = options.ground, state.x[given::unheated] = options.unheated;

  RunResult result;
  std::string incomplete;
  try {
    march.run(options.duration);
    if (state.time < options.duration) incomplete = "interrupted";
    if (!options.figures_only) onlooker.look_for_findings(state);
  } catch (Stopped const& stop) {
    incomplete = stop.what();
    result.stopped = stop;
  }

  if (plan_writer) plan_writer->finish(incomplete);
  Record& r = result.record;
  r = recorder.record(state);
  r.title = options.title.empty() ? in.title : options.title;
  r.incomplete = std::move(incomplete);
  if (draws) r.hot_water = draws->record();
  r.weather = weather_of(outdoors, state.time, options.weather_source);
  r.flue_gas = options.flue_gas;
  r.drawing = drawing_of(plan), r.moment = onlooker.moment(state), r.moments = onlooker.moments(), r.resets = resets(in);
  r.assumptions = in.assumptions;
  auto& e = r.energy;
  if (options.fuel_price || options.electricity_price)
    e.cost = e.fuel * options.fuel_price.value_or(0) + e.electricity * options.electricity_price.value_or(0);
  if (options.carbon_per_joule > 0) e.carbon = e.fuel * options.carbon_per_joule;

  r.why = figures_of(in, plan, r, recorder, options);
  r.findings = burner_findings(r.why);
  for (auto& f : r.findings) f.place = r.burner.name;
  for (auto& f : onlooker.findings()) r.findings.push_back(std::move(f));
  if (!options.figures_only)
    for (auto& f : room_findings(r, in, options.clock)) r.findings.push_back(std::move(f));
  tell_mixing_first(in, r.findings);
  std::stable_sort(r.findings.begin(), r.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
  return result;
}

}  // namespace steadyfire
