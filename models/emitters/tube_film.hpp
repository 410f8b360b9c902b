#pragma once
/// Heat from water to the wall of a tube.

#include "models/friction.hpp"

namespace steadyfire {

/// Nusselt number of developed flow in a smooth tube.
///
///   laminar     4.36                                                      (constant heat flux)
///   turbulent   (ξ/8)(Re − 1000)Pr/[1 + 12.7√(ξ/8)(Pr^⅔ − 1)],  ξ = (0.79 ln Re − 1.64)⁻²
///
/// Shape   from Re 2300 to 4000 a straight line between the two.
/// Valid   Re up to 5e6, Pr 0.5 to 2000; the warm inlet length is left out, so the film is
///         a little too weak in short tubes.
/// Errors  10 % turbulent; between Re 2300 and 4000 nature itself is undecided.
/// Source  V. Gnielinski, Int. Chem. Eng. 16 (1976) 359; ξ by Petukhov.
inline double tube_nusselt(double reynolds, double prandtl) {
  constexpr double laminar = 4.36;
  auto const turbulent = [&](double Re) {
    double const xi = std::pow(0.79 * std::log(Re) - 1.64, -2) / 8;
    return xi * (Re - 1000) * prandtl / (1 + 12.7 * std::sqrt(xi) * (std::pow(prandtl, 2 / 3.) - 1));
  };
  if (reynolds <= laminar_until) return laminar;
  if (reynolds >= turbulent_from) return turbulent(reynolds);
  double const share = (reynolds - laminar_until) / (turbulent_from - laminar_until);
  return laminar + share * (turbulent(turbulent_from) - laminar);
}

/// Thermal resistance of the film, of one metre of tube [m·K/W], at a mass flow [kg/s].
///
///   R' = 1/(π·Nu·k)
inline double film_resistance(double mass_flow, double inside_diameter, Fluid const& fluid) {
  double const reynolds = 4 * std::abs(mass_flow) / (std::numbers::pi * inside_diameter * fluid.viscosity);
  double const prandtl = fluid.viscosity * fluid.heat_capacity / fluid.conductivity;
  return 1 / (std::numbers::pi * tube_nusselt(reynolds, prandtl) * fluid.conductivity);
}

}  // namespace steadyfire
