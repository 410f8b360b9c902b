#pragma once
/// The tables of a scenario file that are no pieces themselves: what the user says of
/// site, fluid, near-boiler piping, zones, controls and the run. Their help texts are
/// the reference page.

#include "models/arrangements/names.hpp"
#include "models/house/statement.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// The keys above all tables.
struct Opening {
  int format;
  std::string title, author, notes;

  static constexpr std::string_view kind = "scenario", family = "scenario", summary = "What the scenario is about";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {count<&Opening::format>("format", 1, 1, "version of this file format"),
            text<&Opening::title>("title", "title in one line"),
            text<&Opening::author>("author", "author").optional("none"),
            text<&Opening::notes>("notes", "notes").optional("none")};
  }
};

/// Heat carrier of the whole installation.
struct FluidSection {
  int carrier;
  double mass_fraction;
  Temperature temperature;
  Density density;
  Viscosity viscosity;
  SpecificHeat heat_capacity;
  Conductivity conductivity;

  static constexpr std::string_view kind = "fluid", family = "fluid", summary = "Heating fluid";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {choice<&FluidSection::carrier>("kind", {"water", "propylene glycol", "custom"}, "fluid in the system").otherwise(0),
            number<&FluidSection::mass_fraction>("mass_fraction", 0, 0.6, "glycol share of the mixture, by mass").otherwise(0.3),
            field<&FluidSection::temperature>("temperature", degF, 23, 230,
                                              "temperature for heat capacity, and for friction without heat")
                .otherwise(140),
            field<&FluidSection::density>("density", kilogram_per_cubic_metre, 100, 3000, "density of a custom fluid").optional(),
            field<&FluidSection::viscosity>("viscosity", centipoise, 1e-3, 1e4, "viscosity of a custom fluid").optional(),
            field<&FluidSection::heat_capacity>("heat_capacity", joule_per_kilogram_kelvin, 100, 1e4, "specific heat of a custom fluid")
                .otherwise(4180),
            field<&FluidSection::conductivity>("conductivity", watt_per_metre_kelvin, 0.01, 10, "conductivity of a custom fluid")
                .otherwise(0.6)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    if (value_of<&FluidSection::carrier>(e).numbers != std::vector{2.0}) return;
    each_value<&FluidSection::density, &FluidSection::viscosity>(e, [&](std::string const& key, Value const& v) {
      if (!v.given)
        faults.add({"E205", e.at, e.who + ": '" + key + "' of the custom fluid is missing", key + " with its unit",
                    "take it from the data sheet"});
    });
  }
};

/// What is prescribed at a joint of a bare network.
struct JointSection {
  Length head, height;
  VolumeFlow inflow;

  static constexpr std::string_view kind = "joint", family = "joint", summary = "A joint with a stated head or inflow";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&JointSection::head>("head", foot, -1e5, 1e5, "head held at the joint").optional(),
            field<&JointSection::inflow>("inflow", gpm, -1e7, 1e7, "flow into the network; negative is out").optional(),
            field<&JointSection::height>("height", foot, -1000, 1000, "height of the joint above your zero level").otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &head = value_of<&JointSection::head>(e), &inflow = value_of<&JointSection::inflow>(e);
    if (head.given && inflow.given)
      faults.add({"E222", inflow.at, e.who + " has both 'head' and 'inflow'", "one of them",
                  "remove one; a held head sets the inflow", head.at});
  }
};

/// The place and its weather.
struct SiteSection {
  Temperature outdoor_design, indoor_design, ground, unheated;
  Entry weather;
  Energy winter_fuel;
  DegreeTime winter_degree_days;
  Fraction winter_efficiency;
  Area heated_area;

  static constexpr std::string_view kind = "site", family = "site", summary = "Site and weather";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&SiteSection::outdoor_design>("outdoor_design", degF, -70, 65,
                                                "outdoor design temperature")
                .estimated(say("the weather: its 99% temperature; without weather {} is taken, and told",
                               Amount{degF.to_si(0), measure::temperature})),
            field<&SiteSection::indoor_design>("indoor_design", degF, 50, 80, "room temperature of the design load").otherwise(70),
            field<&SiteSection::ground>("ground", degF, 20, 80, "ground temperature below slabs").typical(45, 52, 60),
            field<&SiteSection::unheated>("unheated_space", degF, 0, 100, "air temperature around boiler and pipes outside heated rooms")
                .typical(50, 60, 68),
            entry<&SiteSection::weather>("weather", "weather", "outdoor temperature of the run")
                .optional("constant at the outdoor design temperature"),
            field<&SiteSection::winter_fuel>("winter_fuel", therm, 1, 1e6, "heating fuel used in a known winter, for unknown loads")
                .optional(),
            field<&SiteSection::winter_degree_days>("winter_degree_days", degF_day, 100, 20000,
                                                   say("degree-days of that winter, base {}", Amount{degF.to_si(65), measure::temperature}))
                .optional(),
            field<&SiteSection::winter_efficiency>("winter_efficiency", percent, 30, 100, "efficiency of the heating system that used it")
                .typical(65, 80, 92),
            field<&SiteSection::heated_area>("heated_area", square_foot, 50, 1e6, "heated floor area of the whole house")
                .optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const& fuel = value_of<&SiteSection::winter_fuel>(e);
    if (!fuel.given) return;
    each_value<&SiteSection::winter_degree_days, &SiteSection::heated_area>(e, [&](std::string const& key, Value const& v) {
      if (!v.given)
        faults.add({"E205", fuel.at, e.who + ": winter_fuel needs '" + key + "'",
                    "winter_fuel, winter_degree_days and heated_area together", "add the missing one"});
    });
  }
};

/// One zone: a room, what heats it, and the pipes between.
struct ZoneSection {
  Power design_load;
  Area floor_area;
  int construction;
  Entry room, emitter, circulator, zone_valve, flow_check, limiter, strainer, thermostat, reset, mixing, radiator_valve;
  std::string size;
  Length supply_length, return_length;
  Length height;
  int elbows;
  double balancing_cv;
  Fraction pipes_inside;
  Temperature supply_temperature;
  TemperatureChange design_drop;
  Statement purge_valve, isolation_valves;

  static constexpr std::string_view kind = "zone", family = "zone", summary = "A zone: room, emitter and piping";
  static constexpr bool begins_names = true;
  static constexpr auto name_follows = named::of_headers;
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&ZoneSection::design_load>("design_load", kBtu_per_hour, 0.1, 5000, "design heat loss")
            .estimated("floor area and construction, or winter fuel from [site]"),
        field<&ZoneSection::floor_area>("floor_area", square_foot, 10, 1e5, "heated floor area")
            .optional("unknown; then design_load is required"),
        choice<&ZoneSection::construction>("construction", {"old and leaky", "average", "new and tight"},
            "construction, to estimate an unknown load")
            .otherwise(1),
        entry<&ZoneSection::room>("room", "room", "properties of the room").optional("a light room of this load and floor area"),
        entry<&ZoneSection::emitter>("emitter", "emitter", "emitter of the zone"),
        entry<&ZoneSection::circulator>("circulator", "circulator", "circulator of the zone")
            .optional("a small one, unless there is a zone_valve"),
        entry<&ZoneSection::zone_valve>("zone_valve", "zone valve", "zone valve, instead of a circulator").optional("none"),
        entry<&ZoneSection::flow_check>("flow_check", "flow check", "flow check after its circulator or zone valve").optional("none"),
        entry<&ZoneSection::limiter>("limiter", "limiter", "flow limiter in the return").optional("none"),
        entry<&ZoneSection::strainer>("strainer", "strainer", "strainer in the return").optional("none"),
        entry<&ZoneSection::thermostat>("thermostat", "thermostat", "thermostat of the zone")
            .optional(say("{}, with usual settings", Amount{degF.to_si(70), measure::temperature})),
        entry<&ZoneSection::reset>("reset", "outdoor reset", "reset curve of the zone")
            .optional("its supply_temperature, else the curve of [controls]"),
        entry<&ZoneSection::mixing>("mixing", "mixing", "mixing device for its supply temperature; needs a circulator").optional("none"),
        entry<&ZoneSection::radiator_valve>("radiator_valve", "radiator valve",
            "radiator valve ahead of the emitter; the thermostat is then a limit")
            .optional("none"),
        text<&ZoneSection::size>("size", "pipe size of supply and return").optional("3/4 in copper M"),
        field<&ZoneSection::supply_length>("supply_length", foot, 0.5, 2000, "pipe length from header to emitter").otherwise(30),
        field<&ZoneSection::return_length>("return_length", foot, 0.5, 2000, "pipe length back to the header")
            .optional("same as the supply"),
        field<&ZoneSection::height>("height", foot, -100, 300, "height of the emitter above the boiler").otherwise(0),
        field<&ZoneSection::pipes_inside>("pipes_inside", percent, 0, 100, "share of its pipes in the zone itself; the rest lies unheated")
            .estimated("all of them"),
        count<&ZoneSection::elbows>("elbows", 0, 200, "elbows in supply and return, each").otherwise(6),
        number<&ZoneSection::balancing_cv>("balancing_cv", 0.01, 100, "Cv of a balancing valve in the return")
            .optional("no balancing valve"),
        field<&ZoneSection::supply_temperature>("supply_temperature", degF, 60, 220, "supply temperature without a reset curve")
            .estimated(say("usual for the emitter: {} radiant slab to {} fin-tube", Amount{degF.to_si(100), measure::temperature},
                           Amount{degF.to_si(170), measure::temperature})),
        field<&ZoneSection::design_drop>("design_drop", degF_change, 2, 80, "design temperature drop across the zone")
            .optional("usual for the emitter"),
        statement<&ZoneSection::purge_valve>("purge_valve", "purge valve with drain in the return"),
        statement<&ZoneSection::isolation_valves>("isolation_valves", "isolation valves in supply and return")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_of<&ZoneSection::size>(e), e.who, faults);
    auto const &circulator = value_of<&ZoneSection::circulator>(e), &valve = value_of<&ZoneSection::zone_valve>(e);
    if (circulator.given && valve.given)
      faults.add({"E222", valve.at, e.who + " has both 'circulator' and 'zone_valve'", "one of them",
                  "remove one; zones with valves share a circulator of [near_boiler]", circulator.at});
    auto const &limiter = value_of<&ZoneSection::limiter>(e), &balancing = value_of<&ZoneSection::balancing_cv>(e);
    if (limiter.given && balancing.given)
      faults.add({"E222", balancing.at, e.who + " has both 'balancing_cv' and 'limiter'", "one of them",
                  "remove 'balancing_cv': the limiter balances the zone", limiter.at});
    if (auto const& mixing = value_of<&ZoneSection::mixing>(e); mixing.given && valve.given)
      faults.add({"E261", mixing.at, e.who + " has both 'mixing' and 'zone_valve'",
                  "circulator = { … } instead of zone_valve", "use a circulator: mixed water needs its own", valve.at});
    if (!value_of<&ZoneSection::design_load>(e).given && !value_of<&ZoneSection::floor_area>(e).given)
      faults.add({"E234", e.at, e.who + " has no 'design_load' and no 'floor_area'",
                  "design_load = \"12 kBtu/h\", or floor_area for an estimate", "state one of them"});
    else if (value_of<&ZoneSection::design_load>(e).unknown && !value_of<&ZoneSection::floor_area>(e).given)
      faults.add({"E234", value_of<&ZoneSection::design_load>(e).at,
                  e.who + ": an unknown design_load needs 'floor_area'",
                  "floor_area = \"400 ft²\", or the design load", "state one of them"});
  }
};

/// Controls that all zones share.
struct ControlsSection {
  Entry reset, lag;
  static constexpr std::string_view kind = "controls", family = "controls", summary = "Controls that all zones share";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {entry<&ControlsSection::reset>("reset", "outdoor reset", "shared reset curve for zones without their own")
                .optional("none"),
            entry<&ControlsSection::lag>("lag", "lag control", "staging of the second boiler").optional("usual values")};
  }
};

/// How long to run, from when, and by what to judge.
struct RunSection {
  Time duration;
  int start_day;
  Time clock;
  Temperature start_water;
  Time short_burn, note_burn;
  int starts_limit;
  PricePerEnergy fuel_price, electricity_price;
  MassPerEnergy carbon;
  TemperatureChange tolerance;

  static constexpr std::string_view kind = "run", family = "run", summary = "Run length and limits for the findings";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&RunSection::duration>("duration", day, 0.001, 3660, "run length").otherwise(1),
        count<&RunSection::start_day>("start_day", 1, 366, "first day, 1 to 366 in the weather's year").otherwise(15),
        steadyfire::clock<&RunSection::clock>("start_clock", "time of day at the start").otherwise(0),
        field<&RunSection::start_water>("start_water", degF, 33, 200, "water temperature at the start").otherwise(80),
        field<&RunSection::short_burn>("short_burn", minute, 0.1, 120, "a shorter median burn is short cycling").otherwise(5),
        field<&RunSection::note_burn>("note_burn", minute, 0.1, 240, "a shorter median burn is noted").otherwise(10),
        count<&RunSection::starts_limit>("starts_per_hour_limit", 1, 60, "limit of starts in the worst hour").otherwise(6),
        field<&RunSection::fuel_price>("fuel_price", money_per_therm, 0, 1e3, "fuel price by energy (higher heating value)").optional(),
        field<&RunSection::electricity_price>("electricity_price", money_per_kWh, 0, 1e3, "electricity price").optional(),
        field<&RunSection::carbon>("carbon", kilogram_per_million_Btu, 0, 1e3, "CO2 of the fuel").optional("computed from the fuel"),
        field<&RunSection::tolerance>("tolerance", kelvin, 5e-4, 0.2,
                                      "error limit of each time step; below this range sharp fronts stop the run")
            .otherwise(0.005)};
  }
};

}  // namespace steadyfire
