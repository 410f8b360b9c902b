#pragma once
/// What the manual says that gauges should show, and what gauges did show.

#include "models/gas/gas_units.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Figures of the appliance's manual that no computation can give.
struct StartUpSection {
  Fraction carbon_dioxide_full, carbon_dioxide_low, carbon_dioxide_within;
  Pressure gas_static, gas_running;

  static constexpr std::string_view kind = "start up", family = "start up", summary = "What the manual says that gauges should show";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using S = StartUpSection;
    return {
        field<&S::carbon_dioxide_full>("carbon_dioxide_full_fire", percent, 1, 15, "in the dry flue gas at full fire")
            .optional("by chemistry, from the boiler's excess air"),
        field<&S::carbon_dioxide_low>("carbon_dioxide_minimum_fire", percent, 1, 15, "at minimum fire").optional("as at full fire"),
        field<&S::carbon_dioxide_within>("carbon_dioxide_within", percent, 0.05, 3, "that the manual allows to either side").optional(),
        field<&S::gas_static>("gas_static", inch_water, 1, 60, "at the boiler's inlet with nothing burning").optional("none"),
        field<&S::gas_running>("gas_running", inch_water, 1, 60, "at the boiler's inlet at full fire").optional("what [gas] says")};
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

  static constexpr std::string_view kind = "readings", family = "readings", summary = "What gauges showed, and what held meanwhile";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using R = ReadingsSection;
    return {names<&R::calling>("calling", "zone", "zones that called").optional("all of them"),
            choice<&R::fire>("fire", {"as it modulates", "full", "minimum"}, "whether the burner was held at one fire").otherwise(0),
            field<&R::outdoors>("outdoors", degF, -70, 120, "outdoor temperature").optional("at design"),
            field<&R::supply>("supply", degF, 32, 250, "at the boiler's outlet").optional(),
            field<&R::return_>("return", degF, 32, 250, "at the boiler's inlet").optional(),
            field<&R::system_supply>("system_supply", degF, 32, 250, "at the header that the zones are fed from").optional(),
            field<&R::system_return>("system_return", degF, 32, 250, "where the zones' returns have met").optional(),
            field<&R::flow>("flow", gpm, 0, 1000, "through the boiler").optional(),
            field<&R::firing>("firing", percent, 0, 100, "fire that the boiler shows, as a share of its heating input").optional(),
            field<&R::input>("input", kBtu_per_hour, 0, 5000, "gas burnt, by the meter's hand and a clock").optional(),
            field<&R::carbon_dioxide>("carbon_dioxide", percent, 0.1, 20, "in the dry flue gas").optional(),
            field<&R::flue_temperature>("flue_temperature", degF, 32, 600, "of the flue gas at the boiler").optional(),
            field<&R::burns>("burns_per_hour", per_hour, 0, 60, "starts of the burner").optional(),
            field<&R::cold_pressure>("cold_pressure", psi, 0, 200, "of the water before it was heated, gauge").optional(),
            field<&R::hot_pressure>("hot_pressure", psi, 0, 200, "when it had become hot").optional(),
            field<&R::gas_static>("gas_static", inch_water, 0, 100, "at the boiler's inlet with nothing burning").optional(),
            field<&R::gas_running>("gas_running", inch_water, 0, 100, "at the boiler's inlet while it burnt").optional()};
  }
};

struct ZoneReading {
  Temperature supply, return_, room;
  VolumeFlow flow;

  static constexpr std::string_view kind = "zone reading", family = "zone reading",
                                    summary = "What gauges of a zone showed; its name is the zone's";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using Z = ZoneReading;
    return {field<&Z::supply>("supply", degF, 32, 250, "water entering its emitter").optional(),
            field<&Z::return_>("return", degF, 32, 250, "water leaving it").optional(),
            field<&Z::flow>("flow", gpm, -500, 500, "through it").optional(),
            field<&Z::room>("room", degF, 20, 120, "of its air").optional("at design")};
  }
};

struct PieceReading {
  Pressure difference;
  Power power;
  VolumeFlow flow;

  static constexpr std::string_view kind = "piece reading", family = "piece reading",
                                    summary = "What gauges of a circulator, a strainer or another piece showed; its name is the piece's";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using P = PieceReading;
    return {field<&P::difference>("difference", psi, -100, 100, "of pressure: a circulator's rise, another piece's drop").optional(),
            field<&P::power>("power", watt, 0, 5000, "electricity that a circulator takes").optional(),
            field<&P::flow>("flow", gpm, -500, 500, "through it").optional()};
  }
};

/// How far usual gauges err: one standard deviation.
struct GaugesSection {
  TemperatureChange temperature, flue_temperature;
  Fraction flow, power, input, firing, carbon_dioxide, burns;
  Pressure difference, pressure, gas;

  static constexpr std::string_view kind = "gauges", family = "gauges", summary = "How far the gauges err, one standard deviation";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using G = GaugesSection;
    return {field<&G::temperature>("temperature", degF_change, 0.1, 20, "of a water thermometer").otherwise(2),
            field<&G::flue_temperature>("flue_temperature", degF_change, 0.1, 50, "of the flue gas's").otherwise(4),
            field<&G::flow>("flow", percent, 0.5, 50, "of a flow, and 0.1 gpm").otherwise(8),
            field<&G::difference>("difference", psi, 0.01, 5, "of a difference of pressure").otherwise(0.2),
            field<&G::power>("power", percent, 0.5, 50, "of watts, and 3 W").otherwise(6),
            field<&G::input>("input", percent, 0.5, 30, "of a metered input").otherwise(4),
            field<&G::firing>("firing", percent, 0.5, 30, "of the fire shown, in points").otherwise(5),
            field<&G::carbon_dioxide>("carbon_dioxide", percent, 0.02, 2, "of CO2, in points").otherwise(0.3),
            field<&G::burns>("burns_per_hour", percent, 1, 100, "of burns an hour, and half a burn").otherwise(20),
            field<&G::pressure>("pressure", psi, 0.05, 10, "of the boiler's pressure gauge").otherwise(1),
            field<&G::gas>("gas", inch_water, 0.01, 5, "of a gas manometer").otherwise(0.1)};
  }
};

}  // namespace steadyfire
