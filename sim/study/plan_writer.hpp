#pragma once
/// Writes the equations of a run while it marches, so that a program outside can integrate the same.

#include <iosfwd>
#include <vector>

#include "sim/heat/balance.hpp"
#include "sim/march/march.hpp"
#include "sim/network/installation.hpp"

namespace steadyfire {

/// Between two events, at each place
///
///   x' = A·x + Σ factor·formula(x)
///
/// As JSON, its form in plan.schema.json: the places, the intervals between events with A and
/// the curved laws in full, and how the run itself stood at the end of each.
///
/// Shape   an interval ends where equations change or an action sets a state; one that keeps
///         its equations does not repeat them. Events are the run's: their times are given,
///         not their reasons, so a program that reads this need not look for any.
///         About 14 kB an interval, 41 MB for a day of four zones; memory does not grow with it.
/// Errors  those of the stream, which are the caller's to look for.
class PlanWriter final : public Watcher {
 public:
  /// Plan, march and stream must outlive it.
  PlanWriter(Plan const&, March&, Installation const&, std::ostream&);
  void stepped(double from, std::vector<double> const& before, State const& now) override;
  void tripped(std::vector<Trip> const&, State const&) override {}
  /// Call once after the run; `incomplete` says why it ended early.
  void finish(std::string const& incomplete);

 private:
  struct Equations {
    Sparse straight;
    double outdoor_slope = 0;
    std::vector<WrittenLaw> laws;
    bool operator==(Equations const&) const = default;
  };
  void write_interval();

  Plan const& plan_;
  March& march_;
  std::ostream& out_;
  Equations equations_;
  bool stated_ = false;   // the equations stand in an earlier interval
  bool begun_ = false;
  long settled_ = -1, written_ = 0;
  double start_ = 0, end_ = 0;
  std::vector<double> x_;                     // at the end of the last step
  std::vector<std::pair<int, double>> set_;  // what events set at the start of this interval
  std::vector<std::pair<std::vector<int>, std::vector<int>>> patterns_;  // row_start, column
  std::vector<Formula> forms_;  // without constants
};

}  // namespace steadyfire
