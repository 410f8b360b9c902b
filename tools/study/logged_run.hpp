#pragma once
/// The house marched beside a log: what each logged column would have shown.

#include <functional>

#include "models/house/house.hpp"
#include "sim/march/forcing.hpp"
#include "tools/study/log_file.hpp"

namespace steadyfire {

/// The log's own outdoors: means of half an hour, straight between them and over gaps; before the first row each day is as the first
/// one logged. Row by row a gauge's noise would shake the water wanted by an outdoor reset, and with it the burner's stops.
class LoggedOutdoors final : public Forcing {
 public:
  /// Time 0 is `lead` before the log's start. Valid: a column of outdoors with a value at least.
  LoggedOutdoors(HouseLog const&, double lead);
  double at(double time) const override;
  double slope(double time) const override;
  double next_knot(double time) const override;

 private:
  struct Knot { double time, kelvin; };
  std::size_t behind(double time) const;
  std::vector<Knot> knots_;
};

/// What a run shows at the places and times of a log.
struct Shown {
  std::vector<std::vector<double>> columns;  ///< by column of the log, by row: the mean over the time around the row; SI
  double time_firing = 0, time_at_minimum = 0;  ///< [s] of the log's time
  long starts = 0;
};

/// Marches the project from `lead` before the log's start to its end.
///
/// Shape   `outdoors` empty: the project's weather. A row's value is the mean over half a step to either side, at most half the log's usual
///         step, so that gaps count nothing.
/// Valid   the project's [run] covers lead and log, as `run_edits` states it; the rooms that the log names are there.
/// Errors  Stopped, where the run cannot go on; InternalError for a column that the house lacks; empty columns where interrupted.
Shown march_beside(HouseLog const&, Project const&, double lead, UnitSystem, std::function<bool()> const& interrupted = {});

}  // namespace steadyfire
