#pragma once
#include <algorithm>

#include "models/combustion.hpp"

namespace steadyfire {

/// Water that ran off while fuel burned [kg/J of HHV], from the heat that left by the flue.
///
///   n_v = [ℓ·HHV − (n_dry·cp + n_w·cp_l)·ϑ]/[h_fg + (cp_v − cp_l)·ϑ]      condensate = (n_w − n_v)·M/HHV
///
/// Shape   ℓ: share of the fuel lost by the flue; ϑ: flue gas above 25 °C, its mean by fuel [K].
/// Valid   any mixture of condensing and dry burning, as the loss is linear in the vapour that leaves.
/// Errors  in shares of all the water in the flue gas: 3 % for 5 K in ϑ; 0.5 % where half burns dry, as vapour is taken at the mean.
/// Source  the balance of models/combustion.hpp, solved for the vapour.
inline double condensate_by_loss(Combustion const& c, double loss_share, double flue_rise) {
  double const dry_heat = (c.dry_heat_capacity + c.water_amount * Combustion::water_heat_capacity) * flue_rise;
  double const of_vapour = Combustion::vaporisation_heat + (Combustion::vapour_heat_capacity - Combustion::water_heat_capacity) * flue_rise;
  double const vapour = std::clamp((loss_share * c.higher_heating_value - dry_heat) / of_vapour, 0.0, c.water_amount);
  return (c.water_amount - vapour) * Combustion::water_molar_mass / c.higher_heating_value;
}

}  // namespace steadyfire
