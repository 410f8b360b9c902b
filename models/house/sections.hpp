#pragma once
/// The tables of a scenario file that are no pieces themselves: what the user says of
/// site, fluid, near-boiler piping, zones, controls and the run. Their help texts are
/// the reference page.

#include "models/house/statement.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// The keys above all tables.
struct Opening {
  int format;
  std::string title, author, notes;

  static constexpr std::string_view kind = "scenario", family = "scenario", summary = "What the file is about";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {count<&Opening::format>("format", 1, 1, "version of this file format"),
            text<&Opening::title>("title", "one line that says what it is"),
            text<&Opening::author>("author", "who made it").optional("nobody"),
            text<&Opening::notes>("notes", "what it shows").optional("nothing")};
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

  static constexpr std::string_view kind = "fluid", family = "fluid", summary = "The heat carrier";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {choice<&FluidSection::carrier>("kind", {"water", "propylene glycol", "custom"}, "what fills the pipes").otherwise(0),
            number<&FluidSection::mass_fraction>("mass_fraction", 0, 0.6, "of glycol in the mixture, by mass").otherwise(0.3),
            field<&FluidSection::temperature>("temperature", degF, 23, 230,
                                              "at which heat capacity is taken, and friction where no heat is computed")
                .otherwise(140),
            field<&FluidSection::density>("density", kilogram_per_cubic_metre, 100, 3000, "of a custom fluid").optional(),
            field<&FluidSection::viscosity>("viscosity", centipoise, 1e-3, 1e4, "of a custom fluid").optional(),
            field<&FluidSection::heat_capacity>("heat_capacity", joule_per_kilogram_kelvin, 100, 1e4, "of a custom fluid").otherwise(4180),
            field<&FluidSection::conductivity>("conductivity", watt_per_metre_kelvin, 0.01, 10, "of a custom fluid").otherwise(0.6)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    if (value_under(e, "kind").numbers != std::vector{2.0}) return;
    for (auto const* key : {"density", "viscosity"})
      if (!value_under(e, key).given)
        faults.add({"E205", e.at, e.who + ": a custom fluid lacks '" + key + "'", std::string(key) + " with its unit", ""});
  }
};

/// What is prescribed at a joint of a bare network.
struct JointSection {
  Length head, height;
  VolumeFlow inflow;

  static constexpr std::string_view kind = "joint", family = "joint", summary = "A joint with a given head or inflow";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&JointSection::head>("head", foot, -1e5, 1e5, "piezometric head held there").optional(),
            field<&JointSection::inflow>("inflow", gpm, -1e7, 1e7, "flow brought in from outside; negative is taken out").optional(),
            field<&JointSection::height>("height", foot, -1000, 1000, "of the joint above a level of your choice").otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &head = value_under(e, "head"), &inflow = value_under(e, "inflow");
    if (head.given && inflow.given)
      faults.add({"E222", inflow.at, e.who + " has both a head and an inflow", "one of them",
                  "where the head is held the inflow follows", head.at});
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

  static constexpr std::string_view kind = "site", family = "site", summary = "The place and its weather";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&SiteSection::outdoor_design>("outdoor_design", degF, -70, 65,
                                                "design temperature").optional("from the weather file's 99 %"),
            field<&SiteSection::indoor_design>("indoor_design", degF, 50, 80, "room temperature of the design load").otherwise(70),
            field<&SiteSection::ground>("ground", degF, 20, 80, "below slabs").typical(45, 52, 60),
            field<&SiteSection::unheated>("unheated_space", degF, 0, 100, "air where boiler and pipes run outside heated rooms")
                .typical(50, 60, 68),
            entry<&SiteSection::weather>("weather", "weather", "what the outdoor temperature does").optional("constant at design"),
            field<&SiteSection::winter_fuel>("winter_fuel", therm, 1, 1e6, "fuel burnt for heating in a known winter, for unknown loads")
                .optional(),
            field<&SiteSection::winter_degree_days>("winter_degree_days", degF_day, 100, 20000, "of that winter, base 65 degF")
                .optional(),
            field<&SiteSection::winter_efficiency>("winter_efficiency", percent, 30, 100, "of the heating system that burnt it")
                .typical(65, 80, 92),
            field<&SiteSection::heated_area>("heated_area", square_foot, 50, 1e6, "of the whole house, among which its loss is shared")
                .optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const& fuel = value_under(e, "winter_fuel");
    if (!fuel.given) return;
    for (auto const* key : {"winter_degree_days", "heated_area"})
      if (!value_under(e, key).given)
        faults.add({"E205", fuel.at, e.who + ": winter_fuel lacks '" + key + "'",
                    "winter_fuel, winter_degree_days and heated_area together", "a winter's fuel tells a loss only with all three"});
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
  Temperature supply_temperature;
  TemperatureChange design_drop;
  Statement purge_valve, isolation_valves;

  static constexpr std::string_view kind = "zone", family = "zone", summary = "A room, its emitter and the pipes to it";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&ZoneSection::design_load>("design_load", kBtu_per_hour, 0.1, 5000, "heat loss at design")
            .estimated("floor_area and construction, or a winter's fuel from [site]"),
        field<&ZoneSection::floor_area>("floor_area", square_foot, 10, 1e5, "heated floor")
            .optional("not stated; then design_load is required"),
        choice<&ZoneSection::construction>("construction", {"old and leaky", "average", "new and tight"}, "for an unknown load")
            .otherwise(1),
        entry<&ZoneSection::room>("room", "room", "what the room is like").optional("a light one of this load and floor area"),
        entry<&ZoneSection::emitter>("emitter", "emitter", "what heats it"),
        entry<&ZoneSection::circulator>("circulator", "circulator", "the zone's own").optional("a small one, unless there is a zone_valve"),
        entry<&ZoneSection::zone_valve>("zone_valve", "zone valve", "instead of a circulator").optional("none"),
        entry<&ZoneSection::flow_check>("flow_check", "flow check", "behind its circulator or zone valve").optional("none"),
        entry<&ZoneSection::limiter>("limiter", "limiter", "holds its flow, in its return").optional("none"),
        entry<&ZoneSection::strainer>("strainer", "strainer", "in its return").optional("none"),
        entry<&ZoneSection::thermostat>("thermostat", "thermostat", "the zone's").optional("70 degF, with usual controls"),
        entry<&ZoneSection::reset>("reset", "outdoor reset", "the zone's own curve")
            .optional("its supply_temperature, else the curve of [controls]"),
        entry<&ZoneSection::mixing>("mixing", "mixing", "mixes the zone's own water temperature; needs a circulator").optional("none"),
        entry<&ZoneSection::radiator_valve>("radiator_valve", "radiator valve", "before the emitter; the thermostat is then only a limit")
            .optional("none"),
        text<&ZoneSection::size>("size", "pipe size of supply and return").optional("3/4 in copper M"),
        field<&ZoneSection::supply_length>("supply_length", foot, 0.5, 2000, "header to emitter").otherwise(30),
        field<&ZoneSection::return_length>("return_length", foot, 0.5, 2000, "back").optional("as the supply"),
        field<&ZoneSection::height>("height", foot, -100, 300, "of the emitter above the boiler: warm water rises").otherwise(0),
        count<&ZoneSection::elbows>("elbows", 0, 200, "in each of supply and return").otherwise(6),
        number<&ZoneSection::balancing_cv>("balancing_cv", 0.01, 100, "of a balancing valve in the return, gpm at 1 psi")
            .optional("no balancing valve"),
        field<&ZoneSection::supply_temperature>("supply_temperature", degF, 60, 220, "water wanted, if no reset curve says it")
            .estimated("usual for the emitter, from 100 degF for a radiant slab to 170 degF for fin-tube"),
        field<&ZoneSection::design_drop>("design_drop", degF_change, 2, 80, "water cools this much at design load")
            .optional("usual for the emitter"),
        statement<&ZoneSection::purge_valve>("purge_valve", "valve with a drain in its return, through which it is purged of air"),
        statement<&ZoneSection::isolation_valves>("isolation_valves", "valves that part it from the rest")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_under(e, "size"), e.who, faults);
    auto const &circulator = value_under(e, "circulator"), &valve = value_under(e, "zone_valve");
    if (circulator.given && valve.given)
      faults.add({"E222", valve.at, e.who + " has both a circulator and a zone valve", "one of them",
                  "zones with valves share a circulator: that of [near_boiler]", circulator.at});
    auto const &limiter = value_under(e, "limiter"), &balancing = value_under(e, "balancing_cv");
    if (limiter.given && balancing.given)
      faults.add({"E222", balancing.at, e.who + " has both a balancing valve and a flow limiter", "one of them",
                  "what a balancing valve takes from a limiter's difference is lost", limiter.at});
    if (auto const& mixing = value_under(e, "mixing"); mixing.given && valve.given)
      faults.add({"E261", mixing.at, e.who + " mixes its water, but has a zone valve",
                  "circulator = { … } instead of zone_valve", "what is mixed must be moved behind the mixing", valve.at});
    if (!value_under(e, "design_load").given && !value_under(e, "floor_area").given)
      faults.add({"E234", e.at, e.who + " has neither a design load nor a floor area",
                  "design_load = \"12 kBtu/h\", or floor_area for an estimate", ""});
    else if (value_under(e, "design_load").unknown && !value_under(e, "floor_area").given)
      faults.add({"E234", value_under(e, "design_load").at,
                  e.who + ": an unknown design load is estimated from the floor area, which is not stated",
                  "floor_area = \"400 ft2\", or the design load", ""});
  }
};

/// Controls that all zones share.
struct ControlsSection {
  Entry reset, lag;
  static constexpr std::string_view kind = "controls", family = "controls", summary = "What all zones share";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    return {entry<&ControlsSection::reset>("reset", "outdoor reset", "one curve for every zone that has no curve or temperature of its own")
                .optional("none"),
            entry<&ControlsSection::lag>("lag", "lag control", "when a second boiler is called").optional("by the usual values")};
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

  static constexpr std::string_view kind = "run", family = "run", summary = "How long to run, and by what to judge";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&RunSection::duration>("duration", day, 0.001, 3660, "simulated time").otherwise(1),
        count<&RunSection::start_day>("start_day", 1, 366, "first day in the weather's year").otherwise(15),
        steadyfire::clock<&RunSection::clock>("start_clock", "time of day at the start").otherwise(0),
        field<&RunSection::start_water>("start_water", degF, 33, 200, "water at the start").otherwise(80),
        field<&RunSection::short_burn>("short_burn", minute, 0.1, 120, "a median burn below this is too short").otherwise(5),
        field<&RunSection::note_burn>("note_burn", minute, 0.1, 240, "below this it is noted").otherwise(10),
        count<&RunSection::starts_limit>("starts_per_hour_limit", 1, 60, "more starts in any hour are too many").otherwise(6),
        field<&RunSection::fuel_price>("fuel_price", money_per_therm, 0, 1e3, "of fuel energy (higher heating value)").optional(),
        field<&RunSection::electricity_price>("electricity_price", money_per_kWh, 0, 1e3, "of electricity").optional(),
        field<&RunSection::carbon>("carbon", kilogram_per_million_Btu, 0, 1e3, "CO2 of the fuel").optional("by its chemistry"),
        field<&RunSection::tolerance>("tolerance", kelvin, 5e-4, 0.2,
                                      "local error a step of the integration; finer than that it stops at sharp fronts")
            .otherwise(0.005)};
  }
};

}  // namespace steadyfire
