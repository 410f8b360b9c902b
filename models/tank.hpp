#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Vertical vessel that decouples boiler and zones: a hydraulic separator, or with more
/// water a buffer tank with four pipes. Boiler supply and zone supply meet at its top
/// joint, both returns at its bottom joint; the difference of the flows runs through it.
///
///   layers carried by the flow, T' = W·(T_above − T)/C, first-order upwind; loss = UA·(T − T_unheated)
///
/// Shape   one branch, top to bottom; `layers` cells.
/// Valid   full stratification: inflow does not stir the layers; conduction between layers
///         is left out (0.6 W/(m·K) of water: hours, where draws take minutes).
struct Tank {
  Volume volume;
  int layers;
  Conductance loss_conductance;

  static constexpr std::string_view kind = "tank", family = "tank", summary = "Hydraulic separator or buffer tank";
  static constexpr Role role = Role::tank;
  static constexpr std::array branches{Branch{"top", "bottom"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&Tank::volume>("volume", gallon, 0.1, 2000, "water in it"),
            count<&Tank::layers>("layers", 1, 40, "cells from top to bottom").otherwise(6),
            field<&Tank::loss_conductance>("standby_loss", Btu_per_hour_degF, 0, 200, "loss to the unheated space").typical(0.5, 3, 8)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 10.0 * flow * abs(flow) + 0.1 * flow; }  // a wide vessel: 0.1 kPa at 3 kg/s
  Cells cells(int, Fluid const&) const { return {layers, *volume, 0}; }
  void links(Links& book, Site const& s) const {
    for (int i = 0; i < s.cells(); ++i) book.link(s.water(i), account::piping, *loss_conductance / s.cells(), s.water(i), given::unheated);
  }
};

}  // namespace steadyfire
