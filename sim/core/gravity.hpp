#pragma once

namespace steadyfire {

/// Standard gravity [m/s²]: 3rd General Conference on Weights and Measures, 1901.
inline constexpr double gravity = 9.80665;

}  // namespace steadyfire
