#pragma once
/// A house's combi boiler as it makes hot water: one boiler for what is told, judged and found.

#include <optional>

#include "models/boiler.hpp"
#include "models/hot_water/deliverable.hpp"
#include "sim/network/installation.hpp"

namespace steadyfire {

/// At one temperature of incoming water.
struct HotWaterBoiler {
  Boiler boiler;                       ///< after the derate of its altitude
  double efficiency = 0;               ///< into hot water at full fire: the maker's rating, or by the flue gas
  double least_heat = 0;               ///< [W] into hot water at minimum fire
  std::optional<PlatesAtHand> plates;
  HotWaterMaker limits{};              ///< without its plates
  /// Valid while this lives.
  HotWaterMaker maker() const {
    HotWaterMaker m = limits;
    m.plates = plates ? &*plates : nullptr;
    return m;
  }
};

/// Shape   `set_point` [K] of the water that it makes; `plates_flow` [m³/s] of boiler water through the plates, or 0 for their
///         rated flow; `cold` [K].
/// Valid   of a house with a boiler.
/// Errors  boiler water may be up to 9 K below its high limit at full fire.
HotWaterBoiler hot_water_boiler(Installation const&, double set_point, double plates_flow, double cold);

/// Heat that the design loads take at an outdoor temperature [W]: Σ design load·(T_room − T_out)/(T_room − T_design).
double heating_at(Installation const&, double outdoors);

}  // namespace steadyfire
