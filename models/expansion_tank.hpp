#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Expansion tank: where it meets the piping the pressure stays what the fill made it,
/// whether circulators run or rest. From there follow the pressures of its whole circuit.
///
///   p = p_fill + (P − P_tank) − ρ·g·(z − z_tank)      P: piezometric pressure of the solved flows
///
/// Shape   one branch that ends in the tank, in which nothing flows.
/// Valid   the fill pressure is that of the air cushion at the moment looked at; its rise as the water
///         warms is left out here.
/// Source  hydrostatics; the point of no pressure change, common practice, no source.
struct ExpansionTank {
  Pressure fill_pressure;

  static constexpr std::string_view kind = "expansion tank", family = "expansion tank",
                                    summary = "Expansion tank, where it joins the piping";
  static constexpr Role role = Role::expansion;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"joint", ""}};
  static std::vector<Field> schema() {
    return {
        field<&ExpansionTank::fill_pressure>("fill_pressure", unit::psi, 0.5, 100, "of the filled system where the tank joins it, gauge")
            .typical(12, 12, 20)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 1e3 * flow; }
};

}  // namespace steadyfire
