#pragma once
/// A shipped scenario, marched without a record: what tests and benchmarks of whole runs share.

#include "sim/march/march.hpp"
#include "tests/paths.hpp"
#include "tests/project_of.hpp"

namespace steadyfire::whole_run {

/// A shipped scenario by its name without ending.
inline Project shipped(std::string const& name) {
  std::string const file = in_source("/scenarios/") + name + ".toml";
  return project_of(read_text(file), file);
}

class CountsStarts final : public Watcher {
 public:
  explicit CountsStarts(Plan const& plan) : plan_{plan} {}
  void stepped(double, std::vector<double> const&, State const&) override {}
  void tripped(std::vector<Trip> const& trips, State const&) override {
    for (auto const& t : trips) {
      auto const& kind = *plan_.pieces[t.piece].kind;
      starts += kind.role == Role::boiler && kind.modes[t.to] == "igniting";
    }
  }
  long starts = 0;

 private:
  Plan const& plan_;
};

struct Outcome {
  long starts = 0, flow_solves = 0, steps = 0;
  double fuel = 0, closure = 0;             ///< [J], share of fuel
  std::vector<std::vector<double>> hourly;  ///< [K] room air of each zone that has a room, at each hour
};

inline Outcome march(Project const& project, double hours, MarchOptions const& options) {
  Plan plan = lay_out(project.installation, *project.run.start_water);
  RunWeather const weather{project};
  March march{plan, weather, options};
  CountsStarts starts{plan};
  march.watch(starts);
  State& s = march.state();
  s.x[given::outdoors] = weather.at(0), s.x[given::ground] = project.ground, s.x[given::unheated] = project.unheated;
  for (auto const& b : plan.batches) b->begin(s.now(plan), s.x.data());
  double const before = stored_heat(plan, s.x);
  Outcome out;
  for (int hour = 1; hour <= hours; ++hour) {
    march.run(hour * 3600.0);
    std::vector<double> rooms;
    for (auto const& z : project.installation.zones)
      if (z.room >= 0) rooms.push_back(s.x[plan.own[z.room]]);
    out.hourly.push_back(rooms);
  }
  out.flow_solves = march.statistics().flow_solves, out.steps = march.statistics().steps;
  out.starts = starts.starts, out.fuel = -s.x[account::fuel];
  out.closure = (stored_heat(plan, s.x) - before) / std::max(1.0, out.fuel);
  return out;
}

}  // namespace steadyfire::whole_run
