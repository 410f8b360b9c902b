#pragma once
#include <array>

#include "sim/component/fluid.hpp"

namespace steadyfire {

/// Propylene glycol in water.
///
///   ρ, cp, k, ln μ = Σᵢⱼ cᵢⱼ (T − 305.8583 K)ⁱ (x − 0.307031)ʲ
///
/// Valid   mass fraction x from 0 to 0.6, freezing point to 100 °C; the polynomial runs on
///         smoothly to 130 °C and is held constant beyond and below freezing.
/// Errors  against ASHRAE's table of inhibited glycol: ρ 1 %, cp 1.5 %, k 3 %, μ 6 %.
///         Vapour pressure by Raoult's law with glycol taken as involatile: a few per cent.
/// Source  Melinder, Properties of Secondary Working Fluids (IIR 2010), as carried by the
///         public library CoolProp (fluid MPG).
class PropyleneGlycol final : public FluidLaw {
 public:
  explicit PropyleneGlycol(double mass_fraction);

  Fluid at(double kelvin) const override;
  double vapour_pressure(double kelvin) const override;
  double coldest() const override { return freezing_point_; }
  double hottest() const override { return 373.15; }
  std::string describe() const override;

  double freezing_point() const { return freezing_point_; }  ///< first ice [K]

 private:
  using Cubic = std::array<double, 4>;  // in T − 305.8583 K, at this mass fraction
  double mass_fraction_, freezing_point_, water_mole_fraction_;
  Cubic density_, heat_capacity_, conductivity_, log_viscosity_;
};

/// Mass fraction of a mixture that the trade calls by its volume fraction.
///
/// Valid   0 to 0.6.
/// Errors  within 0.002 of a published conversion table at 29.4, 39.6 and 49.9 % by volume.
inline double glycol_mass_fraction(double volume_fraction) { return volume_fraction * (1.0485 - 0.094 * volume_fraction); }

}  // namespace steadyfire
