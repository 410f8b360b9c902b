#pragma once
/// Heat that a pipe loses, as a conductance per metre of its length.

#include <cmath>
#include <numbers>

#include "sim/core/gravity.hpp"

namespace steadyfire {

/// Insulated pipe [W/(m·K)], pipe wall and water film left out.
///
///   U' = 1/[ln(r₂/r₁)/(2πk) + 1/(2πr₂h)]
///
/// Shape   lengths [m], conductivity k [W/(m·K)], surface coefficient h to air and
///         walls [W/(m²·K)]: 9 is common practice, no source.
/// Valid   thickness ≥ 0.
inline double insulated_loss_per_metre(double outside_diameter, double thickness, double conductivity, double surface_coefficient = 9) {
  double const inner = outside_diameter / 2, outer = inner + thickness;
  return 2 * std::numbers::pi / (std::log(outer / inner) / conductivity + 1 / (outer * surface_coefficient));
}

/// Bare horizontal pipe in still air [W/(m·K)], at its surface temperature and that of air and walls [K].
///
///   U' = π(k_air·Nu + D·εσ(T² + Tₐ²)(T + Tₐ)),   Nu = {0.60 + 0.387 [Ra/(1 + (0.559/Pr)^(9/16))^(16/9)]^(1/6)}²
///
/// Valid   air at 1 atm, 0 to 120 °C, Ra < 1e12. Emissivity decides: tarnished copper 0.5, bright
///         0.05, steel or paint 0.9 (common practice, no source).
/// Errors  10 % against the bare steel of the Heating Ventilating Air Conditioning Guide 1941, tables 6 and 7.
/// Source  Churchill and Chu (1975); Stefan–Boltzmann; air: Sutherland, and a power law for k from memory.
inline double bare_loss_per_metre(double outside_diameter, double emissivity = 0.5, double surface = 333.15, double around = 293.15) {
  constexpr double gas_constant = 287.05, prandtl = 0.71, stefan_boltzmann = 5.670374e-8;
  double const film = 0.5 * (surface + around), density = 101325 / (gas_constant * film);
  double const viscosity = 1.458e-6 * film * std::sqrt(film) / (film + 110.4) / density;  // kinematic
  double const conductivity = 0.0263 * std::pow(film / 300, 0.85);
  double const rayleigh = gravity * std::abs(surface - around) / film * std::pow(outside_diameter, 3) * prandtl / (viscosity * viscosity);
  double const prandtl_part = std::pow(1 + std::pow(0.559 / prandtl, 9 / 16.), 16 / 9.);
  double const root = 0.60 + 0.387 * std::pow(rayleigh / prandtl_part, 1 / 6.);
  double const radiation = emissivity * stefan_boltzmann * (surface * surface + around * around) * (surface + around);
  return std::numbers::pi * (conductivity * root * root + outside_diameter * radiation);
}

/// A bare pipe's loss as a power of its excess over its surroundings, c·ΔT^n [W/m], through the loss at 12 and at 60 K.
///
/// Errors  from 6 to 80 K: 4 % in surroundings of 20 °C, 9 % from 10 to 30 °C.
struct BarePipeLoss {
  double coefficient = 0, exponent = 1;

  BarePipeLoss() = default;
  BarePipeLoss(double outside_diameter, double emissivity) {
    double constexpr low = 12, high = 60, around = 293.15;
    double const at_low = low * bare_loss_per_metre(outside_diameter, emissivity, around + low, around);
    double const at_high = high * bare_loss_per_metre(outside_diameter, emissivity, around + high, around);
    exponent = std::log(at_high / at_low) / std::log(high / low);
    coefficient = at_low / std::pow(low, exponent);
  }
  double operator()(double excess) const { return coefficient * std::pow(excess, exponent); }
};

}  // namespace steadyfire
