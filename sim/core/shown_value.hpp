#pragma once
#include <cmath>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// The value that `show` tells: `si` rounded as it is shown. Sums made of such values hold for a reader with a pencil.
inline double shown_value(double si, Measure const& m, UnitSystem system) {
  auto const& u = m.unit(system);
  double const scale = std::pow(10, system == UnitSystem::us ? m.us_digits : m.si_digits);
  return u.to_si(std::round(u.from_si(si) * scale) / scale);
}

}  // namespace steadyfire
