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

class CountsBurns final : public Watcher {
 public:
  explicit CountsBurns(Plan const& plan) : plan_{plan}, since_(plan.pieces.size()) {}
  void stepped(double, std::vector<double> const&, State const&) override {}
  void tripped(std::vector<Trip> const& trips, State const& now) override {
    for (auto const& t : trips) {
      auto const& kind = *plan_.pieces[t.piece].kind;
      if (kind.role != Role::boiler) continue;
      starts += kind.modes[t.to] == "igniting";
      bool const did = kind.traits[t.from] & trait::burns, does = kind.traits[t.to] & trait::burns;
      if (does && !did) since_[t.piece] = now.time;
      if (did && !does) lengths.push_back(now.time - since_[t.piece]);
    }
  }
  long starts = 0;
  std::vector<double> lengths;  ///< [s] of burns that ended

 private:
  Plan const& plan_;
  std::vector<double> since_;
};

/// Weather by so much warmer, for runs that should differ in nothing but luck.
class Warmer final : public Forcing {
 public:
  Warmer(Forcing const& than, double by) : than_{than}, by_{by} {}
  double at(double time) const override { return than_.at(time) + by_; }
  double slope(double time) const override { return than_.slope(time); }
  double next_knot(double time) const override { return than_.next_knot(time); }

 private:
  Forcing const& than_;
  double by_;
};

struct Outcome {
  long starts = 0;
  MarchStatistics statistics;
  double fuel = 0, stored = 0, closure = 0;  ///< [J], of it what the house holds more than before, share of fuel that is lost
  std::vector<double> burns;                 ///< [s], of those that ended
  std::vector<std::vector<double>> hourly;   ///< [K] room air of each zone that has a room, at each hour
};

inline Outcome march(Project const& project, double hours, MarchOptions const& options, double warmer = 0) {
  Plan plan = lay_out(project.installation, *project.run.start_water);
  RunWeather const weather{project};
  Warmer const outdoors{weather, warmer};
  March march{plan, outdoors, options};
  CountsBurns burns{plan};
  march.watch(burns);
  State& s = march.state();
  s.x[given::outdoors] = outdoors.at(0), s.x[given::ground] = project.ground, s.x[given::unheated] = project.unheated;
  for (auto const& b : plan.batches) b->begin(s.now(plan), s.x.data());
  auto const held = [&] {
    double sum = 0;
    for (int i = first_free_place; i < plan.places(); ++i) sum += plan.capacity[i] * s.x[i];
    return sum;
  };
  double const all = stored_heat(plan, s.x), before = held();
  Outcome out;
  for (int hour = 1; hour <= hours; ++hour) {
    march.run(hour * 3600.0);
    std::vector<double> rooms;
    for (auto const& z : project.installation.zones)
      if (z.room >= 0) rooms.push_back(s.x[plan.own[z.room]]);
    out.hourly.push_back(rooms);
  }
  out.statistics = march.statistics();
  out.starts = burns.starts, out.burns = burns.lengths, out.fuel = -s.x[account::fuel], out.stored = held() - before;
  out.closure = (stored_heat(plan, s.x) - all) / std::max(1.0, out.fuel);
  return out;
}

}  // namespace steadyfire::whole_run
