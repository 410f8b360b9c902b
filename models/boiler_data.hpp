#pragma once
#include "models/hot_water/maker_rating.hpp"

namespace steadyfire {

/// What a boiler's data sheet and its controls say: values of Boiler, which does the rest.
struct BoilerData {
  Power heating_input, minimum_input;
  int fuel;
  Fraction excess_air, excess_air_low, purge_flow, off_draft, electric_to_water;
  Entry gas;
  int intake;
  Length altitude;
  Fraction derate;
  Volume condensate_held;
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
  Fraction dhw_efficiency;
  VolumeFlow dhw_rated_flow;
  TemperatureChange dhw_rated_rise;
  Rate dhw_ramp;
  Temperature set_point;
  TemperatureChange dhw_off_above;

  static std::vector<Field> schema() {
    using namespace unit;
    using B = BoilerData;
    return {
        field<&B::heating_input>("heating_input", kBtu_per_hour, 5, 5000, "maximum heating input (the rating)").as(FieldRole::most_input),
        field<&B::minimum_input>("minimum_input", kBtu_per_hour, 1, 5000,
                                      "minimum fire: lowest steady input, independent of the rating").as(FieldRole::least_input),
        field<&B::dhw_input>("dhw_input", kBtu_per_hour, 5, 5000, "maximum input for domestic hot water (DHW)")
            .optional("same as heating_input"),
        field<&B::dhw_minimum>("dhw_minimum_input", kBtu_per_hour, 1, 5000, "minimum input for hot water")
            .optional("same as minimum_input"),
        field<&B::dhw_efficiency>("dhw_efficiency", percent, 50, 100, "output into hot water as a share of dhw_input, from the manual")
            .optional("computed from the flue gas"),
        field<&B::dhw_rated_flow>("dhw_rated_flow", gpm, 0.1, 100, "instead of dhw_efficiency: hot water flow at full fire, by the manual")
            .optional("not stated"),
        field<&B::dhw_rated_rise>("dhw_rated_rise", degF_change, 10, 150, "temperature rise that dhw_rated_flow belongs to")
            .optional("not stated"),
        choice<&B::fuel>("fuel", {"natural gas", "propane"}, "fuel burned").otherwise(0),
        field<&B::excess_air>("excess_air", percent, 5, 150, "combustion air beyond what the fuel needs").typical(15, 25, 40),
        field<&B::excess_air_low>("excess_air_low_fire", percent, 5, 300, "the same at minimum fire")
            .optional("10 percentage points more than at full fire"),
        entry<&B::gas>("gas_composition", "gas composition", "composition of the gas, as its supplier states it")
            .optional("a usual pipeline gas, or propane"),
        choice<&B::intake>("intake", {"outdoors", "room air"}, "where combustion air comes from")
            .otherwise(0)
            .told_as("by `system` of [vent], else outdoors"),
        field<&B::altitude>("altitude", foot, -500, 15000, "altitude of the house").optional("that of [vent], else sea level"),
        field<&B::derate>("derate", percent, 0, 60, "input lost at that altitude, heating and hot water alike")
            .optional("by [vent], else none"),
        field<&B::approach_full>("approach_full_fire", degF_change, 0, 100,
                                 "flue gas temperature above return water at the largest input of the heat exchanger")
            .typical(9, 18, 27),
        field<&B::approach_low>("approach_low_fire", degF_change, 0, 100, "flue gas temperature above return water at minimum fire")
            .optional("by the gas flow: as the 0.8th power of the input"),
        field<&B::purge_flow>("purge_flow", percent, 0, 100, "air flow of prepurge and postpurge, share of that at full fire")
            .typical(30, 50, 100),
        field<&B::off_draft>("off_draft", percent, 0, 30, "air drawn through the flue while the fan rests, share of that at full fire")
            .typical(0, 0.5, 3),
        field<&B::condensate_held>("condensate_held", gallon, 0, 5, "condensate that stays on the heat exchanger, and dries in the purge")
            .typical(0.005, 0.02, 0.05),
        field<&B::prepurge>("prepurge", second, 0, 300, "fan prepurge before ignition").typical(5, 15, 30),
        field<&B::ignition_fire>("ignition_fire", percent, 1, 100, "firing rate at ignition, share of heating input").otherwise(40),
        field<&B::ignition_hold>("ignition_hold", second, 0, 300, "time held at the ignition firing rate").typical(3, 6, 15),
        field<&B::low_fire_hold>("low_fire_hold", second, 0, 600, "minimum fire hold before the burner modulates").otherwise(30),
        field<&B::postpurge>("postpurge", second, 0, 600, "fan postpurge after the burn").typical(10, 30, 60),
        field<&B::minimum_off>("minimum_off", minute, 0, 60, "minimum off time between burns").otherwise(3).as(FieldRole::least_rest),
        field<&B::off_above>("off_differential", degF_change, 1, 60, "off differential: the burner stops this far above target")
            .typical(5, 9, 18).as(FieldRole::off_above),
        field<&B::on_below>("on_differential", degF_change, 1, 60, "on differential: the burner starts this far below target")
            .typical(5, 9, 18).as(FieldRole::on_below),
        field<&B::band>("proportional_band", degF_change, 2, 200, "temperature error that moves the firing rate from 0 to 100%")
            .otherwise(27),
        field<&B::integral_time>("integral_time", second, 5, 3600, "integral time of the firing control").otherwise(120),
        field<&B::ramp>("ramp", Unit<Rate::dimension>{"%/s", 0.01}, 0.05, 100, "fastest change of firing rate, share of heating input")
            .otherwise(2),
        field<&B::dhw_ramp>("dhw_ramp", Unit<Rate::dimension>{"%/s", 0.01}, 0.05, 100, "same, while making hot water").otherwise(10),
        field<&B::dhw_off_above>("dhw_off_differential", degF_change, 2, 60,
            "hot water off differential: the burner stops this far above setpoint")
            .otherwise(14),
        field<&B::rise_limit>("rise_limit", degF_change, 5, 150, "temperature rise across the boiler at which it reduces fire")
            .otherwise(40),
        field<&B::high_limit>("high_limit", degF, 100, 250, "high limit: water temperature that stops the burner").otherwise(200),
        field<&B::high_limit_differential>("high_limit_differential", degF_change, 1, 80, "drop below the high limit before it resets")
            .otherwise(15),
        field<&B::fixed_target>("target", degF, 60, 220, "fixed supply temperature, used when no zone sets its own")
            .otherwise(160)
            .as(FieldRole::fixed_target),
        field<&B::water>("water_content", gallon, 0.05, 500, "water in the heat exchanger").typical(0.3, 0.8, 3),
        field<&B::metal>("metal", Btu_per_degF, 0, 5000, "heat stored in its metal, per degree").typical(2, 5, 15),
        field<&B::jacket>("jacket_loss", Btu_per_hour_degF, 0, 200, "jacket heat loss to the boiler room, per degree").typical(1, 2, 5),
        field<&B::rated_flow>("rated_flow", gpm, 0.1, 500, "flow of the stated head loss").otherwise(8),
        field<&B::rated_head_loss>("rated_head_loss", foot, 0, 100, "head loss of the heat exchanger at rated_flow").typical(2, 6, 14),
        field<&B::least_flow>("least_flow", gpm, 0, 100, "minimum flow: the burner stays off below it").typical(0.5, 1, 3),
        field<&B::most_flow>("most_flow", gpm, 0, 500, "maximum flow of the heat exchanger, from the manual")
            .optional("not stated, so not judged"),
        field<&B::electric_firing>("power_firing", watt, 0, 2000, "electric power while firing, without circulators")
            .typical(30, 60, 120),
        field<&B::electric_to_water>("power_to_water", percent, 0, 100,
                                     "share of the power while firing that ends as heat in the water, by way of the combustion air")
            .typical(0, 40, 80),
        field<&B::electric_standby>("power_standby", watt, 0, 200, "electric power at standby").typical(3, 6, 10),
        count<&B::cell_count>(
            "cells", 1, 64,
            "water cells along the heat exchanger")
            .otherwise(16)
            .told_as("16; 32 where one pass through the boiler takes a good part of the on/off differential"),
        reference<&B::call>("call", "control", "control that calls for heat").optional("always"),
        reference<&B::target>("target_from", "control", "control that sets the target")
            .optional("the zone with the highest target; target without zones"),
        reference<&B::sensor>("sensor", "sensor", "sensor of the supply temperature").optional("at the boiler outlet"),
        reference<&B::hot_water>("hot_water", "hot water control", "hot water control that this boiler serves").optional("none"),
        reference<&B::hot_water_sensor>("hot_water_sensor", "sensor", "sensor of the hot water temperature")
            .optional("at the boiler outlet"),
        field<&B::set_point>("hot_water_set_point", degF, 70, 180, "hot water setpoint").otherwise(120)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &most = value_of<&BoilerData::heating_input>(e), &least = value_of<&BoilerData::minimum_input>(e);
    if (!most.numbers.empty() && !least.numbers.empty() && least.numbers[0] > most.numbers[0])
      faults.add({"E223", least.at, e.who + ": minimum_input is above heating_input", "minimum_input at most heating_input",
          "swap or correct the two inputs", most.at});
    auto const &dhw_given = value_of<&BoilerData::dhw_input>(e), &dhw_least_given = value_of<&BoilerData::dhw_minimum>(e);
    auto const &dhw = dhw_given.numbers.empty() ? most : dhw_given, &dhw_low = dhw_least_given.numbers.empty() ? least : dhw_least_given;
    bool const stated = !dhw_given.numbers.empty() || !dhw_least_given.numbers.empty();
    if (stated && !dhw.numbers.empty() && !dhw_low.numbers.empty() && dhw_low.numbers[0] > dhw.numbers[0])
      faults.add({"E223", dhw_least_given.given ? dhw_low.at : dhw.at, e.who + ": minimum input for hot water is above its maximum",
                  "dhw_minimum_input at most dhw_input", "correct them; a missing one equals its heating input",
                  dhw_least_given.given ? dhw.at : dhw_low.at});
    check_rating(e, faults);
  }
};

}  // namespace steadyfire
