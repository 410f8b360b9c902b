#pragma once
#include "sim/component/fluid.hpp"

namespace steadyfire {

/// Liquid water.
///
///   ρ, cp from the Gibbs energy at 0.1 MPa; μ = Σ aᵢ (T/300 K)^bᵢ; k = Σ cᵢ (T/300 K)^dᵢ
///
/// Valid   0 to 125 °C; held constant below 0 °C and above 130 °C.
/// Errors  against IAPWS-97 at 400 kPa: ρ 0.02 %, μ 0.06 %, cp 0.07 %, k 0.05 % from 0 to
///         125 °C (above 110 °C outside the release); pressure is not felt.
/// Source  IAPWS SR6-08(2011); vapour pressure IAPWS R7-97(2012).
class Water final : public FluidLaw {
 public:
  Fluid at(double kelvin) const override;
  double vapour_pressure(double kelvin) const override;
  double coldest() const override { return 273.15; }
  double hottest() const override { return 398.15; }
  std::string describe() const override { return "water"; }
};

}  // namespace steadyfire
