#pragma once
#include "models/hot_water/hot_water_control.hpp"

namespace steadyfire {

/// The fire that a draw wants of its burner.
///
///   u = (heat wanted + 1.5·ρ·cp·Q·e)/(0.9·input) + I, between least and most      e = set point − T_hot water
///   I' = 1.5·ρ·cp·Q·(e within ±3 K)/(0.9·input)/40 s, and none at a limit
///   most falls over the last 8 K below the high limit
///
/// Shape   fires are shares of `input` [W]; felt flow [L/min] and heat wanted [kW] as HotWaterControl has them.
/// Valid   the gain is one of temperature, so that it damps alike at any flow.
struct HotWaterFire {
  double input, least, most, high_limit, set_point;

  static constexpr double gain = 1.5, usual_efficiency = 0.9, answer = 40, last = 8, heard = 3, kilo = 1e3;  // [s], [K]
  double output() const { return usual_efficiency * input; }
  double per_flow() const { return gain * HotWaterControl::heat_per_volume * HotWaterControl::litres_per_minute / output(); }

  template <class N>
  N limited(N u, N t_out) const {
    return within(u, N(least), within((high_limit - 1 - t_out) * (most / last), N(least), N(most)));
  }
  template <class N>
  N unlimited(N memory, N t_hot, N felt, N wanted) const {
    return wanted * (kilo / output()) + per_flow() * felt * (set_point - t_hot) + memory;
  }
  template <class N>
  N fire(N memory, N t_out, N t_hot, N felt, N wanted) const { return limited(unlimited(memory, t_hot, felt, wanted), t_out); }
  template <class N>
  N memory_rate(N memory, N t_out, N t_hot, N felt, N wanted) const {
    N const u = unlimited(memory, t_hot, felt, wanted), cut = limited(u, t_out) - u;
    N const open = within(1.0 - 20.0 * greater(cut, -cut), N(0), N(1));
    return per_flow() * felt * within(set_point - t_hot, N(-heard), N(heard)) * open / answer;
  }
};

}  // namespace steadyfire
