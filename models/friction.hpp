#pragma once
/// Pressure loss by friction in pipes and through valves.

#include <cmath>
#include <limits>
#include <numbers>

#include "sim/component/fluid.hpp"
#include "sim/core/dual.hpp"

namespace steadyfire {

inline constexpr double laminar_until = 2300, turbulent_from = 4000;  ///< Reynolds numbers

/// Turbulent Darcy friction factor and its slope with the Reynolds number.
///
///   1/√f = −2 log₁₀(ε/3.7 + 2.51/(Re √f))
///
/// One Newton and one Halley step from 1/√f = 6, where water in pipes lies, cost two
/// logarithms; the slope is that of the equation itself, at the root found.
///
/// Valid   Re 2300 to 1e8, relative roughness 0 to 0.05.
/// Errors  1e-6 of f against the solved equation, in all of that range.
/// Source  Colebrook (1939).
inline WithSlope colebrook(double reynolds, double relative_roughness) {
  constexpr double c = 2 / std::numbers::ln10;
  double const a = relative_roughness / 3.7, b = 2.51 / reynolds;
  // g(y) = y + c·ln s, s = a + b·y, for y = 1/√f
  double y = 6, s = a + b * y, rise = 1 + c * b / s;
  y -= (y + c * std::log(s)) / rise;
  s = a + b * y;
  double const q = b / s, step = (y + c * std::log(s)) / (1 + c * q);
  y -= step / (1 + 0.5 * step * c * q * q / (1 + c * q));
  s = a + b * y, rise = 1 + c * b / s;
  double const f = 1 / (y * y);
  return {f, -2 * f * c * b / (s * rise * reynolds)};
}

/// f·Re, the friction factor freed of its pole at standstill, with its slope.
///
/// Laminar 64; from Re 2300 to 4000 f goes over from 64/Re to Colebrook by a cubic, so
/// that value and slope are continuous; f·Re never falls, so neither does the loss.
inline WithSlope friction_number(double reynolds, double relative_roughness) {
  if (reynolds <= laminar_until) return {64, 0};
  auto const [f, f_slope] = colebrook(reynolds, relative_roughness);
  double const turbulent = f * reynolds, turbulent_slope = f + reynolds * f_slope;
  if (reynolds >= turbulent_from) return {turbulent, turbulent_slope};
  constexpr double width = turbulent_from - laminar_until;
  double const u = (reynolds - laminar_until) / width, share = u * u * (3 - 2 * u), share_slope = 6 * u * (1 - u) / width;
  return {64 + share * (turbulent - 64), share_slope * (turbulent - 64) + share * turbulent_slope};
}

namespace detail {
inline double follow(WithSlope w, double) { return w.value; }
template <int n>
Dual<n> follow(WithSlope w, Dual<n> const& x) { return Dual<n>::chain(w.value, w.slope, x); }
}  // namespace detail

/// Darcy friction factor.
///
/// Valid   Re > 0; see `colebrook` above 4000.
/// Errors  between Re 2300 and 4000 nature itself is undecided.
template <class N>
N friction_factor(N reynolds, double relative_roughness) {
  return detail::follow(friction_number(value_of(reynolds), relative_roughness), reynolds) / reynolds;
}

/// x·|x|, smooth and odd.
template <class N>
N square_with_sign(N x) {
  using std::abs;
  return x * abs(x);
}

/// x·|x|ⁿ⁻¹, n at least 1.
template <class N>
N power_with_sign(N x, double n) {
  using std::abs, std::pow;
  return n == 1 || value_of(x) == 0 ? (n == 1) * x : x * pow(abs(x), n - 1);
}

/// Pressure loss of a straight pipe and its fittings [Pa], inlet minus outlet.
///
///   Δp = (f·L/D + K)·ρ·v·|v|/2 = ṁ·(f·Re·μ·L/(2ρD²A) + K·|ṁ|/(2ρA²))
///
/// Shape   odd in the mass flow [kg/s]; at zero flow the slope is 128 μL/(πρD⁴), finite.
///         A fixed Darcy factor, as textbooks state, replaces f; then the slope at zero flow is zero.
/// Source  Darcy–Weisbach; Hagen–Poiseuille.
template <class N>
N pipe_loss(N mass_flow, double length, double diameter, double roughness, double loss_coefficient, Fluid const& fluid,
            double fixed_friction_factor = std::numeric_limits<double>::quiet_NaN()) {
  using std::abs;
  double const section = std::numbers::pi / 4 * diameter * diameter, per_section = 1 / (2 * fluid.density * section);
  if (!std::isnan(fixed_friction_factor))
    return (fixed_friction_factor * length / diameter + loss_coefficient) * per_section / section * square_with_sign(mass_flow);
  double const linear = fluid.viscosity * length / (diameter * diameter) * per_section;
  double const square = loss_coefficient * per_section / section;
  N const size = abs(mass_flow), reynolds = size * (diameter / (fluid.viscosity * section));
  N const number = detail::follow(friction_number(value_of(reynolds), roughness / diameter), reynolds);
  return mass_flow * (linear * number + square * size);
}

}  // namespace steadyfire
