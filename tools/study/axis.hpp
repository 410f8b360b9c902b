#pragma once
/// The numbers that one parameter of a study takes.

#include <vector>

namespace steadyfire {

/// A list of values, or a spread over a range of them.
///
/// Shape  what a spread would draw below `least` or above `most` is cut off by its cumulative distribution: the rest keeps its shape.
struct Axis {
  enum class Sort { values, uniform, normal, triangular };
  Sort sort = Sort::values;
  std::vector<double> values{};    ///< of a list, and of a range in steps
  double from = 0, to = 0;         ///< uniform and triangular
  double likely = 0;               ///< triangular
  double mean = 0, deviation = 0;  ///< normal
  double least = -1e300, most = 1e300;
  bool is_whole = false;  ///< draws whole numbers, each end as likely as those between

  /// The number with a share `u` of all below it, 0 ≤ u < 1; of a list each value is as likely.
  double quantile(double u) const;
  /// How much of the spread is cut off, 0 … 1.
  double cut_off() const;
};

}  // namespace steadyfire
