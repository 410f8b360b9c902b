#pragma once
/// How much hot water a burner, its plates and a limiter can make.

#include <limits>
#include <string_view>
#include <vector>

#include "models/plate_exchanger.hpp"

namespace steadyfire {

/// Flow that heat [W] raises from cold to hot [K], measured cold [m³/s].
///
///   Q = heat/(ρ(T_cold)·∫cp dT)
///
/// Valid   water's properties as in models/fluid/water.hpp; the trade's gpm = Btu/h/(500·°F) is within 0.3 % of it.
double flow_for(double heat, double cold, double hot);
/// The heat that a flow takes, the same turned round [W].
double heat_for(double flow, double cold, double hot);
/// Where a flow ends that heat [W] is given to [K].
double heated_to(double flow, double cold, double heat);
/// Share of hot water in a mixture of one heat capacity.
double hot_share(double cold, double hot, double mixed);

/// Plates between boiler water and hot water, at the most that the boiler's water can be.
struct PlatesAtHand {
  PlateExchanger plates;
  double boiler_flow;                                 ///< [m³/s] through their hot side
  double hottest;                                     ///< [K] boiler water
  Fluid boiler_water;
};
/// Heat that plates give to a cold flow [W]: ε·C_min·(T_hottest − T_cold), the flow's properties at 30 °C.
double heat_of_plates(PlatesAtHand const&, double flow, double cold);

/// What makes hot water.
struct HotWaterMaker {
  double heat;        ///< [W] into hot water at full fire
  double set_point;   ///< [K] of the water that it makes
  double limit = std::numeric_limits<double>::infinity();  ///< [m³/s] of a flow limiter
  PlatesAtHand const* plates = nullptr;                    ///< null: no limit by plates
};
/// The most heat that comes into hot water made at the set point.
struct HeatAtHand {
  double most;             ///< [W]
  std::string_view bound;  ///< "burner", "plates", "flow limiter"
};
HeatAtHand heat_at_hand(HotWaterMaker const&, double cold);

struct Deliverable {
  double flow;             ///< [m³/s] of water as wanted, at the tap
  std::string_view bound;  ///< "burner", "plates", "flow limiter", "set point"
};
/// The most water of a temperature at once: what is hotter than wanted is mixed with cold.
///
///   Q = min(heat, plates' heat, heat of the limiter's flow at the set point)/(ρ·∫cp dT)
///
/// Shape   zero, bound by the set point, where it lies below what is wanted.
/// Errors  none.
Deliverable deliverable(HotWaterMaker const&, double cold, double wanted);

/// A tap as it is asked of.
struct TapWish { double flow, temperature; };
/// Several taps at once.
struct Together {
  bool fits;
  double flow;         ///< [m³/s] all of it
  double temperature;  ///< [K] mean over the taps that they get
  double flow_share;   ///< of what they want; below 1 where a limiter holds it
};
/// What taps get that are all open, their hands turned as far to hot as it takes.
///
///   T = T_cold + heat/(ρ·cp·ΣQ) where the heat does not reach
Together together(HotWaterMaker const&, double cold, std::vector<TapWish> const&);

}  // namespace steadyfire
