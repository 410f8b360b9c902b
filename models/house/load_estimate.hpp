#pragma once
/// Design loads that nobody stated.

#include "sim/core/quantity.hpp"

namespace steadyfire {

struct LoadRange { double low, middle, high; };  ///< [W]

/// By floor area [m²] and construction: 0 old and leaky, 1 average, 2 new and tight.
///
/// Source  common practice, no source.
inline LoadRange load_by_area(int construction, double area) {
  double constexpr per[3][3] = {{35, 45, 60}, {20, 27, 35}, {8, 14, 20}};  // Btu/(h·ft²)
  double const scale = area / unit::square_foot.scale * unit::Btu_per_hour.scale;
  auto const& p = per[construction];
  return {p[0] * scale, p[1] * scale, p[2] * scale};
}

/// From a winter's fuel [J, HHV], the efficiency that burnt it, its degree-days [K·s] and the design difference [K].
///
///   load = fuel·η/degree-days·ΔT      base 65 °F stands for what sun and people give
///
/// Source  ASHRAE degree-day method, from memory.
inline double load_by_fuel(double fuel, double efficiency, double degree_time, double difference) {
  return fuel * efficiency / degree_time * difference;
}

}  // namespace steadyfire
