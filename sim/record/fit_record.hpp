#pragma once
/// What fitting a house to its log leaves behind: what was logged beside what the fitted house does, and the unknowns. SI.

#include <string>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// One channel of the log beside the same of the fitted house.
struct FitSeries {
  std::string label;  ///< "room of bath", "supply"
  Measure measure = measure::plain;
  std::vector<double> times;           ///< [s] since the start, rising
  std::vector<double> logged, fitted;  ///< by time; NaN where there is nothing to tell
  bool is_held_out = false;            ///< was not used for the fit: tells how well it foretells
};

/// One unknown of the house, as the log tells it.
struct FitUnknown {
  std::string key, name;  ///< "zone.bath.design_load", "design load of bath"
  Measure measure = measure::plain;
  double begun = 0, value = 0;  ///< before the fit, and after
  double plus_minus = 0;        ///< half the 95 % interval; NaN where the log does not tell
  std::string words;            ///< "at its bound", "the log does not tell it from …"; or ""
};

struct FitRecord {
  std::string title, scenario, log, program_version;
  std::string compared;  ///< what a place of a series is, one sentence; or ""
  std::vector<FitSeries> series;
  std::vector<FitUnknown> unknowns;
  std::vector<std::string> words, cautions;  ///< what it comes to, in sentences
};

}  // namespace steadyfire
