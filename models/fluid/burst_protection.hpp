#pragma once
/// Down to where glycol keeps pipe from bursting, though it is slush that no circulator moves.

#include <algorithm>

#include "models/fluid/glycol.hpp"

namespace steadyfire {

/// Propylene glycol by mass [K]: colder than its first ice, as slush still gives way.
///
/// Valid   shares up to 0.35 by volume; what is stronger protects to -60 °F and beyond. Straight between the rows.
/// Source  the trade's table of burst protection by volume (20 °F 12%, 10 °F 20%, 0 °F 24%, -10 °F 28%, -20 °F 30%, -30 °F 33%,
///         -60 °F 35%), from memory.
inline double burst_protection(double mass_fraction) {
  struct Row { double share, degF; };
  constexpr Row rows[]{{0, 32}, {0.12, 20}, {0.20, 10}, {0.24, 0}, {0.28, -10}, {0.30, -20}, {0.33, -30}, {0.35, -60}};
  auto const kelvin = [](double degF) { return (degF + 459.67) / 1.8; };
  for (std::size_t i = 1; i < std::size(rows); ++i) {
    double const low = glycol_mass_fraction(rows[i - 1].share), high = glycol_mass_fraction(rows[i].share);
    if (mass_fraction <= high)
      return kelvin(rows[i - 1].degF + (mass_fraction - low) / (high - low) * (rows[i].degF - rows[i - 1].degF));
  }
  return kelvin(rows[std::size(rows) - 1].degF);
}

}  // namespace steadyfire
