#pragma once
/// Whole numbers from computed ones, so that rounding noise decides none: 900 ft² and 83.612736 m² make as many loops.

#include <algorithm>
#include <cmath>

namespace steadyfire {

/// What two ways of writing one value may differ by: 1e-9 of it, or of one.
inline double rounding_noise(double x) { return 1e-9 * std::max(1.0, std::abs(x)); }

/// The least whole number that is x or more.
inline double count_up(double x) { return std::ceil(x - rounding_noise(x)); }
/// The greatest that is x or less.
inline double count_down(double x) { return std::floor(x + rounding_noise(x)); }
/// The nearest; of a half the upper, on either side of the noise.
inline double count_near(double x) { return std::floor(x + 0.5 + rounding_noise(x)); }
/// Whether a size is enough for what is wanted.
inline bool is_enough(double size, double wanted) { return size >= wanted - 1e-9 * std::abs(wanted); }

}  // namespace steadyfire
