#pragma once
#include "models/boiler_data.hpp"
#include "models/combustion.hpp"
#include "models/venting/atmosphere.hpp"

namespace steadyfire {

/// What a boiler burns and what leaves by its flue, by its fire.
///
///   T_flue = T_entering + approach·fire^m     m = 0.8, or by the approach stated at minimum fire
///   η between those of the excess air at full and at least fire, straight
///
/// Shape   fire and least fire are shares of the largest input.
/// Source  0.8: gas side of an exchanger whose coefficient rises a little less than its flow; common practice, no source.
struct FlueSide {
  Combustion chemistry, lean;  ///< at full fire and at the least
  double approach_most = 0, approach_power = 0.8, least_fire = 0;  ///< [K], m
  double air_full = 0;   ///< heat capacity rate of the air at full fire [W/K]
  double held_most = 0;  ///< condensate that the exchanger holds [kg]

  /// Shape  `full` is the largest input, after the derate [W], `lowest` the least fire as a share of it, above 0.
  void prepare_flue(BoilerData const& b, double full, double lowest) {
    GasComposition const burned = b.gas ? fill<StatedGas>(b.gas.values).whole() : b.fuel == 0 ? natural_gas() : propane();
    double const pressure = std::isnan(*b.altitude) ? 101325 : standard_air(*b.altitude).pressure;
    double const low_air = std::isnan(*b.excess_air_low) ? *b.excess_air + 0.1 : *b.excess_air_low;
    chemistry = Combustion(burned, *b.excess_air, pressure), lean = Combustion(burned, low_air, pressure);
    least_fire = std::min(lowest, 1 - 1e-6), approach_most = *b.approach_full;
    if (!std::isnan(*b.approach_low) && *b.approach_low > 0 && approach_most > 0 && lowest < 0.99)
      approach_power = std::clamp(std::log(*b.approach_low / approach_most) / std::log(lowest), 0.0, 3.0);
    double constexpr water = 1000;  // [kg/m³]
    air_full = full * chemistry.air_rate(), held_most = water * *b.condensate_held;
  }

  template <class N>
  N approach(N fire) const {
    using std::pow;
    return approach_most * pow(greater(fire, N(1e-3)), approach_power);
  }
  /// Of heat to the water over input. Combustion air at 25 °C unless its temperature is given.
  template <class N>
  N efficiency(N fire, N entering, N air) const {
    N const flue = entering + approach(fire), lean_share = within((1.0 - fire) / (1 - least_fire), N(0.0), N(1.0));
    N const rich = chemistry.efficiency(flue) - chemistry.air_rate() * (Combustion::reference - air);
    return rich + lean_share * (lean.efficiency(flue) - lean.air_rate() * (Combustion::reference - air) - rich);
  }
  double efficiency(double fire, double entering) const { return efficiency(fire, entering, Combustion::reference); }
  /// Between those of full and least fire [kg/J].
  template <class N>
  N condensing(N fire, N entering) const {
    N const flue = entering + approach(fire), lean_share = within((1.0 - fire) / (1 - least_fire), N(0.0), N(1.0));
    N const rich = chemistry.condensate(flue);
    return rich + lean_share * (lean.condensate(flue) - rich);
  }
};

}  // namespace steadyfire
