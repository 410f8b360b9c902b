#pragma once
/// A house run through time as every command and the page run it.

#include "models/house/house.hpp"
#include "sim/march/forcing.hpp"
#include "sim/study/flows_study.hpp"
#include "sim/study/run_study.hpp"

namespace steadyfire {

extern char const* const caution;

/// How a run is asked for.
RunOptions options_of(Project const&);
FlowsOptions flows_options_of(Project const&);

/// The same run taken roughly, for a picture at once, in about 60 % of the time: temperatures to 0.05 K a step, what guards read
/// to 0.02 K, flows found anew after 12 K.
///
/// Errors  on twelve shipped days starts 1.4 % off, fuel 0.7 %, rooms' means 0.04 K; where a burner short-cycles the median burn 9 %
///         and the most starts in one hour 2.
RunOptions roughly(RunOptions);

/// The weather's year as the run meets it: time 0 is midnight of its first day, at its start clock.
class RunWeather final : public Forcing {
 public:
  explicit RunWeather(Project const&);
  double at(double time) const override { return weather_.at(time + offset_); }
  double slope(double time) const override { return weather_.slope(time + offset_); }
  double next_knot(double time) const override { return weather_.next_knot(time + offset_) - offset_; }

 private:
  Weather const& weather_;
  double offset_;
};

/// Who hears of a run, and who may end it; either may be empty.
struct RunWatch {
  std::function<void(double share)> progress{};
  std::function<bool()> interrupted{};
};

/// Runs the house and answers for its hot water.
RunResult run_house(Project const&, RunOptions const&, RunWatch const&);

/// Runs that would take longer than this are not run again for their stop point, but for the near stops told beside them.
inline constexpr double longest_stop_point_run = 3 * 86400;  ///< [s]

/// Where the verdict on the burner may hang on its stop point, runs again with that moved, and tells what came of it.
void add_stop_point(Record&, Project const&, RunOptions const&, std::function<bool()> const& interrupted);

/// What rooms will feel of the steady flows, and what the file leaves open, put among the run's findings; `flows` tells the rest.
/// Weightiest first.
void add_flow_findings(Record&, Project const&);

}  // namespace steadyfire
