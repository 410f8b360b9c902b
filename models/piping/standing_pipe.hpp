#pragma once
/// Water that stands in a pipe, and cools.

#include <cmath>
#include <limits>

namespace steadyfire {

/// By the metre: heat held C [J/(m·K)] by water and wall, loss U' [W/(m·K)].
///
///   T(t) = T_air + (T_0 − T_air)·e^(−t/τ)      τ = C/U'
///
/// Valid   still water of one temperature across the pipe; heat held by insulation left out, and that of freezing itself: the
///         time is that until the first ice.
struct StandingPipe {
  double heat_capacity, loss;

  double time_constant() const { return heat_capacity / loss; }
  double temperature(double start, double air, double time) const { return air + (start - air) * std::exp(-time / time_constant()); }
  /// Until it has cooled to `end` [s]; infinite where the air is no colder than that.
  double time_to(double end, double start, double air) const {
    return start <= end ? 0 : air < end ? time_constant() * std::log((start - air) / (end - air)) : std::numeric_limits<double>::infinity();
  }
};

}  // namespace steadyfire
