#pragma once
/// Air at a height above the sea.

#include <cmath>

namespace steadyfire {

/// The standard atmosphere.
///
///   T = 288.15 − 0.0065·h    p = 101325·(T/288.15)^5.25588    ρ = p/(287.05287·T)
///
/// Valid   −1000 to 11 000 m, on a standard day; real weather moves the pressure by ±3 %.
/// Source  ISO 2533:1975.
struct StandardAir {
  double temperature, pressure, density;  ///< [K], [Pa], [kg/m³]
};
inline StandardAir standard_air(double height) {
  double const T = 288.15 - 0.0065 * height, p = 101325 * std::pow(T / 288.15, 9.80665 / (0.0065 * 287.05287));
  return {T, p, p / (287.05287 * T)};
}

}  // namespace steadyfire
