#pragma once
/// What the manual says that gauges should show, and what gauges did show.

#include "models/gas/gas_units.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Figures of the appliance's manual that no computation can give.
struct StartUpSection {
  Fraction carbon_dioxide_full, carbon_dioxide_low, carbon_dioxide_within;
  Pressure gas_static, gas_running;

  static constexpr std::string_view kind = "start up", family = "start up", summary = "Start-up values from the boiler manual";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using S = StartUpSection;
    return {
        field<&S::carbon_dioxide_full>("carbon_dioxide_full_fire", percent, 1, 15, "CO2 in the dry flue gas at full fire")
            .optional("computed from the boiler's excess air"),
        field<&S::carbon_dioxide_low>("carbon_dioxide_minimum_fire", percent, 1, 15, "CO2 in the dry flue gas at minimum fire")
            .optional("same as at full fire"),
        field<&S::carbon_dioxide_within>("carbon_dioxide_within", percent, 0.05, 3, "allowed deviation each side, from the manual")
            .optional(),
        field<&S::gas_static>("gas_static", inch_water, 1, 60, "static gas pressure at the boiler inlet, nothing firing").optional("none"),
        field<&S::gas_running>("gas_running", inch_water, 1, 60, "running gas pressure at the boiler inlet, full fire")
            .optional("from [gas]")};
  }
};

/// Names of things that another file describes.
template <auto M>
Field names(std::string key, std::string family, std::string help) {
  Field f{Field::Sort::references, std::move(key), std::move(help), detail::put<M>};
  f.refers_to = std::move(family);
  return f;
}

/// What was read, and what held meanwhile.
struct ReadingsSection {
  std::vector<std::string> calling;
  int fire;
  Temperature outdoors, supply, return_, system_supply, system_return, flue_temperature;
  VolumeFlow flow;
  Power input;
  Fraction firing, carbon_dioxide;
  Pressure cold_pressure, hot_pressure, gas_static, gas_running;
  Rate burns;

  static constexpr std::string_view kind = "readings", family = "readings", summary = "Gauge readings and the conditions at the time";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using R = ReadingsSection;
    return {names<&R::calling>("calling", "zone", "zones that called").optional("all zones"),
            choice<&R::fire>("fire", {"as it modulates", "full", "minimum"}, "firing rate held during the readings").otherwise(0),
            field<&R::outdoors>("outdoors", degF, -70, 120, "outdoor temperature").optional("the design temperature"),
            field<&R::supply>("supply", degF, 32, 250, "supply temperature at the boiler outlet").optional(),
            field<&R::return_>("return", degF, 32, 250, "return temperature at the boiler inlet").optional(),
            field<&R::system_supply>("system_supply", degF, 32, 250, "supply temperature at the header of the zones").optional(),
            field<&R::system_return>("system_return", degF, 32, 250, "return temperature after the zones join").optional(),
            field<&R::flow>("flow", gpm, 0, 1000, "boiler flow").optional(),
            field<&R::firing>("firing", percent, 0, 100, "firing rate shown by the boiler, share of heating input").optional(),
            field<&R::input>("input", kBtu_per_hour, 0, 5000, "gas input, clocked at the meter").optional(),
            field<&R::carbon_dioxide>("carbon_dioxide", percent, 0.1, 20, "CO2 in the dry flue gas").optional(),
            field<&R::flue_temperature>("flue_temperature", degF, 32, 600, "flue gas temperature at the boiler").optional(),
            field<&R::burns>("burns_per_hour", per_hour, 0, 60, "burner starts per hour").optional(),
            field<&R::cold_pressure>("cold_pressure", psi, 0, 200, "cold system pressure, gauge").optional(),
            field<&R::hot_pressure>("hot_pressure", psi, 0, 200, "hot system pressure, gauge").optional(),
            field<&R::gas_static>("gas_static", inch_water, 0, 100, "static gas pressure at the boiler inlet, nothing firing").optional(),
            field<&R::gas_running>("gas_running", inch_water, 0, 100, "running gas pressure at the boiler inlet").optional()};
  }
};

struct ZoneReading {
  Temperature supply, return_, room;
  VolumeFlow flow;

  static constexpr std::string_view kind = "zone reading", family = "zone reading",
                                    summary = "Gauge readings of a zone; its name is the zone's name";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using Z = ZoneReading;
    return {field<&Z::supply>("supply", degF, 32, 250, "water entering its emitter").optional(),
            field<&Z::return_>("return", degF, 32, 250, "water leaving its emitter").optional(),
            field<&Z::flow>("flow", gpm, -500, 500, "zone flow").optional(),
            field<&Z::room>("room", degF, 20, 120, "room air temperature").optional("the design room temperature")};
  }
};

struct PieceReading {
  Pressure difference;
  Power power;
  VolumeFlow flow;

  static constexpr std::string_view kind = "piece reading", family = "piece reading",
                                    summary = "Gauge readings of a circulator, strainer or other part; its name is the part's name";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using P = PieceReading;
    return {field<&P::difference>("difference", psi, -100, 100, "pressure difference: a circulator's rise, another part's drop").optional(),
            field<&P::power>("power", watt, 0, 5000, "electric power of a circulator").optional(),
            field<&P::flow>("flow", gpm, -500, 500, "flow through it").optional()};
  }
};

/// How far usual gauges err: one standard deviation.
struct GaugesSection {
  TemperatureChange temperature, flue_temperature;
  Fraction flow, power, input, firing, carbon_dioxide, burns;
  Pressure difference, pressure, gas;

  static constexpr std::string_view kind = "gauges", family = "gauges", summary = "Gauge error, one standard deviation";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using G = GaugesSection;
    return {field<&G::temperature>("temperature", degF_change, 0.1, 20, "error of a water thermometer").otherwise(2),
            field<&G::flue_temperature>("flue_temperature", degF_change, 0.1, 50, "error of the flue gas thermometer").otherwise(4),
            field<&G::flow>("flow", percent, 0.5, 50, say("error of a flow; {} more", Amount{gpm.to_si(0.1), measure::flow})).otherwise(8),
            field<&G::difference>("difference", psi, 0.01, 5, "error of a pressure difference").otherwise(0.2),
            field<&G::power>("power", percent, 0.5, 50, "error of a power; 3 W more").otherwise(6),
            field<&G::input>("input", percent, 0.5, 30, "error of a clocked gas input").otherwise(4),
            field<&G::firing>("firing", percent, 0.5, 30, "error of the firing rate shown, in points").otherwise(5),
            field<&G::carbon_dioxide>("carbon_dioxide", percent, 0.02, 2, "error of CO2, in points").otherwise(0.3),
            field<&G::burns>("burns_per_hour", percent, 1, 100, "error of starts per hour; half a start more").otherwise(20),
            field<&G::pressure>("pressure", psi, 0.05, 10, "error of the boiler pressure gauge").otherwise(1),
            field<&G::gas>("gas", inch_water, 0.01, 5, "error of the gas manometer").otherwise(0.1)};
  }
};

}  // namespace steadyfire
