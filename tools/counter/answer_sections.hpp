#pragma once
/// The tables of a file of answers, a question each.

#include "models/gas/gas_sections.hpp"
#include "models/house/section_of.hpp"
#include "models/venting/vent_materials.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

struct HouseAnswer {
  Area floor_area;
  int construction;
  Energy winter_fuel;
  DegreeTime winter_degree_days;
  Temperature outdoor_design;
  int arrangement;
  Length altitude;
  int zoning;
  Fraction glycol;

  static std::vector<std::string> arrangements() { return {"direct", "closely spaced tees", "hydraulic separator", "buffer tank"}; }
  enum Zoning { circulators, zone_valves };
  static constexpr std::string_view kind = "house", family = "house", summary = "The house";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using A = HouseAnswer;
    return {
        field<&A::floor_area>("floor_area", square_foot, 50, 1e5, "heated floor area"),
        choice<&A::construction>("construction", {"old and leaky", "average", "new and tight"}, "how tight the house is")
            .estimated("usual value"),
        field<&A::winter_fuel>("winter_fuel", therm, 1, 1e6,
                               say("heating fuel used in a known winter: \"{}\"", InEach{"900 therm\", \"700 gal propane", "26400 kWh"}))
            .estimated("usual value"),
        field<&A::winter_degree_days>("winter_degree_days", degF_day, 100, 20000,
                                      say("degree-days of that winter, base {}", Amount{degF.to_si(65), measure::temperature}))
            .estimated("usual value"),
        field<&A::outdoor_design>("outdoor_design", degF, -70, 65, "outdoor design temperature")
            .estimated(say("{}, told as a finding", Amount{degF.to_si(0), measure::temperature})),
        choice<&A::arrangement>("arrangement", arrangements(), "how the boiler loop joins the zones").estimated("closely spaced tees"),
        field<&A::altitude>("altitude", foot, -500, 15000, "altitude of the house").estimated("sea level"),
        choice<&A::zoning>("zoning", {"circulators", "zone valves"}, "a circulator or a zone valve for each zone")
            .estimated("circulators; piped direct, zone valves"),
        field<&A::glycol>("glycol", percent, 0, 60, "propylene glycol in the heating water, by mass; 0% for plain water")
            .estimated("plain water")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &fuel = value_of<&HouseAnswer::winter_fuel>(e), &days = value_of<&HouseAnswer::winter_degree_days>(e);
    if (is_stated(fuel) && !is_stated(days))
      faults.add({"E205", fuel.at, e.who + ": winter_fuel needs 'winter_degree_days'", "winter_degree_days = \"6000 °F·d\"",
                  "add the degree-days of that winter"});
  }
};

struct ZoneAnswer {
  int emitter;
  Fraction share;
  Length height;

  enum Emitter { fin_tube, panel, column, slab, air_handler };
  static constexpr std::string_view kind = "zone", family = "zone", summary = "A zone and what heats it";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using A = ZoneAnswer;
    return {choice<&A::emitter>("emitter", {"fin-tube baseboard", "panel radiator", "column radiator", "radiant slab", "air handler"},
                                "emitter of the zone")
                .estimated("fin-tube baseboard"),
            field<&A::share>("share", percent, 1, 100, "share of the floor area").estimated("an equal share of the rest"),
            field<&A::height>("height", foot, -100, 300, "height of the emitter above the boiler").estimated("boiler level (not checked)")};
  }
  /// Errors  adds E215 where the piping has that name.
  static void check(Entry const&, Diagnostics&);
};

struct FixturesAnswer {
  int showers, tubs, sinks;
  Power maker_input;
  VolumeFlow maker_flow;
  TemperatureChange maker_rise;

  static constexpr std::string_view kind = "fixtures", family = "fixtures", summary = "What may run at once, and what is to heat it";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using A = FixturesAnswer;
    return {count<&A::showers>("showers", 0, 20, "showers at the same time").estimated("usual value"),
            count<&A::tubs>("tubs", 0, 10, "tubs filling at the same time").estimated("usual value"),
            count<&A::sinks>("sinks", 0, 20, "lavatory and kitchen taps at the same time").estimated("usual value"),
            field<&A::maker_input>("maker_input", kBtu_per_hour, 5, 5000, "hot water input of the boiler in mind, from its data sheet")
                .estimated("the least round size for these taps"),
            field<&A::maker_flow>("maker_flow", gpm, 0.1, 100, "hot water flow that the same sheet states").estimated("not used"),
            field<&A::maker_rise>("maker_rise", degF_change, 10, 150, "temperature rise that this flow belongs to").estimated("not used")};
  }
  /// Errors  adds E205 where flow or rise stands alone, E204 where they are no boiler's, E259 where they take more heat than the input
  ///         has, or less than half of it.
  static void check(Entry const&, Diagnostics&);
};

struct ColdWaterAnswer {
  Temperature coldest;
  static constexpr std::string_view kind = "cold water", family = "cold water", summary = "The cold water";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using A = ColdWaterAnswer;
    return {field<&A::coldest>("coldest", unit::degF, 32, 90, "incoming water temperature in winter").estimated("usual value")};
  }
};

struct GasRunAnswer {
  Length length;
  std::string size;
  int elbows, gas;
  Power other_input;

  static constexpr std::string_view kind = "gas run", family = "gas run", summary = "The gas pipe from the meter to the boiler";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using A = GasRunAnswer;
    return {field<&A::length>("length", foot, 0.5, 2000, "pipe length from the meter to the boiler").estimated("usual value"),
            text<&A::size>("size", "\"3/4 in steel 40\", \"1 in copper L\"").estimated("the smallest steel pipe that carries it"),
            count<&A::elbows>("elbows", 0, 100, "elbows in that pipe").estimated("usual value"),
            choice<&A::gas>("gas", {"natural gas", "propane"}, "gas in the line").estimated("natural gas"),
            field<&A::other_input>("other_input", kBtu_per_hour, 0, 20000,
                                   "input of all other gas burners on that pipe together; 0 for none")
                .estimated("none")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const& size = value_of<&GasRunAnswer::size>(e);
    if (is_stated(size)) check_gas_size(size, e.who, faults);
  }
};

struct VentRunAnswer {
  Length length, diameter;
  int elbows, material;

  static constexpr std::string_view kind = "vent run", family = "vent run", summary = "The flue gas pipe from the boiler to outdoors";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using A = VentRunAnswer;
    std::vector<std::string> materials;
    for (auto const& m : vent_materials) materials.emplace_back(m.name);
    return {field<&A::length>("length", foot, 0.5, 500, "straight length").estimated("usual value"),
            count<&A::elbows>("elbows", 0, 60, "90° elbows").estimated("usual value"),
            field<&A::diameter>("diameter", inch, 1, 16, "nominal diameter").estimated("usual value"),
            choice<&A::material>("material", materials, "vent material").estimated("usual value")};
  }
};

}  // namespace steadyfire
