#pragma once
/// What a weighing of two figures against each other leaves behind: points, the front, and the points that are marked. SI.

#include <string>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// A figure that is weighed.
struct FrontAxis {
  std::string name;  ///< "fuel"
  Measure measure = measure::plain;
  bool lower_is_better = true;
};

struct FrontPoint {
  double x = 0, y = 0;       ///< NaN where there is nothing to tell: not drawn
  bool is_on_front = false;  ///< no other point is better in one figure without being worse in the other
  std::string words;         ///< what was set there: "minimum fire 12.0 kBtu/h, lag 30 s"; or ""
};

/// A point with a name of its own: "chosen", "as it is now", "least fuel".
struct FrontMark {
  std::string name;
  double x = 0, y = 0;
  std::string words;  ///< what was set there; or ""
};

struct FrontRecord {
  std::string title, scenario, program_version;
  FrontAxis x, y;
  std::vector<FrontPoint> points;
  std::vector<FrontMark> marks;              ///< the first is the one that counts most
  std::vector<std::string> words, cautions;  ///< what it comes to, in sentences
};

}  // namespace steadyfire
