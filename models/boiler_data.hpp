#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// What a boiler's data sheet and its controls say: values of Boiler, which does the rest.
struct BoilerData {
  Power heating_input, minimum_input;
  int fuel;
  Fraction excess_air;
  TemperatureChange approach_full, approach_low;
  Time prepurge, ignition_hold, low_fire_hold, postpurge, minimum_off, integral_time;
  Fraction ignition_fire;
  Rate ramp;
  TemperatureChange on_below, off_above, band, rise_limit, high_limit_differential;
  Temperature high_limit, fixed_target;
  Volume water;
  HeatCapacity metal;
  Conductance jacket;
  VolumeFlow rated_flow, least_flow, most_flow;
  Length rated_head_loss;
  Power electric_firing, electric_standby;
  int cell_count;
  Reference call, target, sensor, hot_water, hot_water_sensor;
  Power dhw_input, dhw_minimum;
  Rate dhw_ramp;
  Temperature set_point;
  TemperatureChange dhw_off_above;

  static std::vector<Field> schema() {
    using namespace unit;
    using B = BoilerData;
    return {
        field<&B::heating_input>("heating_input", kBtu_per_hour, 5, 5000, "most input when heating: the rated heating size"),
        field<&B::minimum_input>("minimum_input", kBtu_per_hour, 1, 5000,
                                      "least steady input: the minimum fire, separate from the rated size"),
        field<&B::dhw_input>("dhw_input", kBtu_per_hour, 5, 5000, "most input for domestic hot water (DHW)")
            .optional("as when heating"),
        field<&B::dhw_minimum>("dhw_minimum_input", kBtu_per_hour, 1, 5000, "least steady input for hot water")
            .optional("as when heating"),
        choice<&B::fuel>("fuel", {"natural gas", "propane"}, "what it burns").otherwise(0),
        field<&B::excess_air>("excess_air", percent, 5, 150, "combustion air above what burning needs").typical(15, 25, 40),
        field<&B::approach_full>("approach_full_fire", degF_change, 0, 100, "flue gas above return water at full fire")
            .typical(9, 18, 27),
        field<&B::approach_low>("approach_low_fire", degF_change, 0, 100, "flue gas above return water at minimum fire")
            .typical(2, 5, 9),
        field<&B::prepurge>("prepurge", second, 0, 300, "fan runs before ignition").typical(5, 15, 30),
        field<&B::ignition_fire>("ignition_fire", percent, 1, 100, "fire at ignition, share of heating input").otherwise(40),
        field<&B::ignition_hold>("ignition_hold", second, 0, 300, "stays at ignition fire").typical(3, 6, 15),
        field<&B::low_fire_hold>("low_fire_hold", second, 0, 600, "then stays at minimum fire before it modulates").otherwise(30),
        field<&B::postpurge>("postpurge", second, 0, 600, "fan runs after the burn").typical(10, 30, 60),
        field<&B::minimum_off>("minimum_off", minute, 0, 60, "rest from the end of a burn to the next start").otherwise(3),
        field<&B::off_above>("off_differential", degF_change, 1, 60, "stops this far above the target").typical(5, 9, 18),
        field<&B::on_below>("on_differential", degF_change, 1, 60, "starts this far below the target").typical(5, 9, 18),
        field<&B::band>("proportional_band", degF_change, 2, 200, "error that alone moves the fire from none to full").otherwise(27),
        field<&B::integral_time>("integral_time", second, 5, 3600, "of the firing control").otherwise(120),
        field<&B::ramp>("ramp", Unit<Rate::dimension>{"%/s", 0.01}, 0.05, 100, "fastest change of fire, share of heating input")
            .otherwise(2),
        field<&B::dhw_ramp>("dhw_ramp", Unit<Rate::dimension>{"%/s", 0.01}, 0.05, 100, "the same for hot water").otherwise(10),
        field<&B::dhw_off_above>("dhw_off_differential", degF_change, 2, 60, "hot water stops it this far above its set point")
            .otherwise(14),
        field<&B::rise_limit>("rise_limit", degF_change, 5, 150, "rise across the boiler above which fire is cut back").otherwise(40),
        field<&B::high_limit>("high_limit", degF, 100, 250, "water temperature that stops the burner").otherwise(200),
        field<&B::high_limit_differential>("high_limit_differential", degF_change, 1, 80, "cools this far before it may start again")
            .otherwise(15),
        field<&B::fixed_target>("target", degF, 60, 220, "water temperature wanted, where no zone states its own").otherwise(160),
        field<&B::water>("water_content", gallon, 0.05, 500, "water in its heat exchanger").typical(0.3, 0.8, 3),
        field<&B::metal>("metal", Btu_per_degF, 0, 5000, "heat held by its metal").typical(2, 5, 15),
        field<&B::jacket>("jacket_loss", Btu_per_hour_degF, 0, 200, "loss of the casing to the room it stands in").typical(1, 2, 5),
        field<&B::rated_flow>("rated_flow", gpm, 0.1, 500, "flow at which its head loss is stated").otherwise(8),
        field<&B::rated_head_loss>("rated_head_loss", foot, 0, 100, "head loss of its heat exchanger at that flow").typical(2, 6, 14),
        field<&B::least_flow>("least_flow", gpm, 0, 100, "flow below which it will not fire").typical(0.5, 1, 3),
        field<&B::most_flow>("most_flow", gpm, 0, 500, "flow that its heat exchanger bears at most, by its manual")
            .optional("not stated, so not judged"),
        field<&B::electric_firing>("power_firing", watt, 0, 2000, "electricity while firing, without circulators")
            .typical(30, 60, 120),
        field<&B::electric_standby>("power_standby", watt, 0, 200, "electricity at rest").typical(3, 6, 10),
        count<&B::cell_count>(
            "cells", 1, 64,
            "water cells along the heat exchanger; where one pass raises the water by the whole differential 16 count starts within 2 %")
            .otherwise(16),
        reference<&B::call>("call", "control", "fires only while this calls").optional("always"),
        reference<&B::target>("target_from", "control", "whose wanted temperature is the target")
            .optional("the zone that wants most; target without zones"),
        reference<&B::sensor>("sensor", "sensor", "where the water is measured").optional("at its outlet"),
        reference<&B::hot_water>("hot_water", "hot water control", "the hot water that it makes as it is drawn").optional("none"),
        reference<&B::hot_water_sensor>("hot_water_sensor", "sensor", "where that is measured").optional("at its outlet"),
        field<&B::set_point>("hot_water_set_point", degF, 70, 180, "wanted there").otherwise(120)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &most = value_under(e, "heating_input"), &least = value_under(e, "minimum_input");
    if (!most.numbers.empty() && !least.numbers.empty() && least.numbers[0] > most.numbers[0])
      faults.add({"E223", least.at, e.who + ": the minimum input is above the heating input", "at most the heating input", "", most.at});
    auto const &dhw_given = value_under(e, "dhw_input"), &dhw_least_given = value_under(e, "dhw_minimum_input");
    auto const &dhw = dhw_given.numbers.empty() ? most : dhw_given, &dhw_low = dhw_least_given.numbers.empty() ? least : dhw_least_given;
    bool const stated = !dhw_given.numbers.empty() || !dhw_least_given.numbers.empty();
    if (stated && !dhw.numbers.empty() && !dhw_low.numbers.empty() && dhw_low.numbers[0] > dhw.numbers[0])
      faults.add({"E223", dhw_least_given.given ? dhw_low.at : dhw.at, e.who + ": the minimum input for hot water is above its most",
                  "dhw_minimum_input at most dhw_input", "each is as when heating where it is not stated",
                  dhw_least_given.given ? dhw.at : dhw_low.at});
  }
};

}  // namespace steadyfire
