#pragma once
/// What is drawn at a tap, and when.

#include <limits>
#include <vector>

namespace steadyfire {

/// One draw of mixed water. SI.
struct Draw {
  double start = 0;        ///< [s] from midnight, or from the start of the run
  double flow = 0;         ///< [m³/s] wanted at the tap
  double temperature = 0;  ///< [K] wanted at the tap; above what is there: hot water alone
  double volume = 0;       ///< [m³] at the tap, after which it shuts
  double useful_from = std::numeric_limits<double>::quiet_NaN();  ///< [K] water counts from here on; NaN: any
};

/// The draws of one tap, in order of their starts.
struct DrawList {
  std::vector<Draw> draws;
  bool absolute = false;  ///< starts count from the start of the run; else they repeat each day from midnight
};

}  // namespace steadyfire
