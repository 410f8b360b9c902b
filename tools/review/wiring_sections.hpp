#pragma once
/// The wiring as the user has it in mind: what the boiler's board offers, and what hangs on its outputs.

#include <set>

#include "sim/component/kind.hpp"

namespace steadyfire {

/// What can hang on an output, in the order of `role_names`.
enum class WiringRole { thermostat, valve, circulator, air_handler, mixing_valve, tank_thermostat, second_boiler, recirculation, other };
inline std::vector<std::string> const role_names{"thermostat",      "valve",         "circulator",    "air handler", "mixing valve",
                                                 "tank thermostat", "second boiler", "recirculation", "other"};

/// The terminals of the boiler's board, from its manual.
struct BoardSection {
  int outputs;
  std::vector<Fraction> thermostats, valves, circulators, air_handlers, mixing_valves, tank_thermostats, second_boilers, recirculations,
      others;
  Power greatest_power, total_power, transformer, thermostat_draw, valve_draw, mixing_draw;
  double greatest_amperes, fuse_amperes, volts;

  static constexpr std::string_view kind = "board", family = "board", summary = "What the boiler's control board offers, from its manual";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using B = BoardSection;
    auto const offered = [](Field f) { return f.optional("any output"); };
    return {
        count<&B::outputs>("outputs", 1, 64, "number of outputs, numbered from 1"),
        offered(list<&B::thermostats>("thermostats", one, 1, 64, "outputs that accept a thermostat, by number; [] for none")),
        offered(list<&B::valves>("valves", one, 1, 64, "outputs that accept a zone valve")),
        offered(list<&B::circulators>("circulators", one, 1, 64, "outputs that accept a circulator")),
        offered(list<&B::air_handlers>("air_handlers", one, 1, 64, "outputs that accept an air handler or unit heater")),
        offered(list<&B::mixing_valves>("mixing_valves", one, 1, 64, "outputs that accept a mixing valve motor")),
        offered(list<&B::tank_thermostats>("tank_thermostats", one, 1, 64, "outputs that accept a tank aquastat")),
        offered(list<&B::second_boilers>("second_boilers", one, 1, 64, "outputs that call a second boiler")),
        offered(list<&B::recirculations>("recirculations", one, 1, 64, "outputs that run hot water recirculation")),
        offered(list<&B::others>("others", one, 1, 64, "outputs for other devices")),
        field<&B::greatest_power>("greatest_power", watt, 1, 5000, "maximum power of one circulator or air handler output").optional(),
        number<&B::greatest_amperes>("greatest_amperes", 0.05, 50, "same, as a current (A)").optional(),
        field<&B::total_power>("total_power", watt, 1, 20000, "maximum power of all outputs together").optional(),
        number<&B::fuse_amperes>("fuse_amperes", 0.1, 100, "rating of their common fuse (A)").optional(),
        number<&B::volts>("volts", 100, 250, "line voltage (V)").otherwise(120),
        field<&B::transformer>("transformer", watt, 1, 1000, "rating of the 24 V transformer, for example \"40 VA\"").optional(),
        field<&B::thermostat_draw>("thermostat_draw", watt, 0, 20, "24 V load of a thermostat without a stated draw")
            .typical(0, 2, 5),
        field<&B::valve_draw>("valve_draw", watt, 0.5, 50, "24 V load of a zone valve without a stated draw").typical(2, 7, 12),
        field<&B::mixing_draw>("mixing_draw", watt, 0.5, 50, "24 V load of a mixing valve motor without a stated draw").typical(2, 5, 10)};
  }
  std::vector<Fraction> const& offered(WiringRole role) const {
    std::vector<Fraction> const* lists[]{&thermostats,      &valves,         &circulators,    &air_handlers, &mixing_valves,
                                         &tank_thermostats, &second_boilers, &recirculations, &others};
    return *lists[int(role)];
  }
  /// Calls visit(key, value) for each role's list, in the order of the roles.
  static void each_list(Entry const& e, auto visit) {
    using B = BoardSection;
    each_value<&B::thermostats, &B::valves, &B::circulators, &B::air_handlers, &B::mixing_valves, &B::tank_thermostats, &B::second_boilers,
               &B::recirculations, &B::others>(e, visit);
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const& outputs = value_of<&BoardSection::outputs>(e);
    each_list(e, [&](std::string const& key, Value const& list) {
      std::set<double> seen;
      for (double const n : list.numbers)
        if (n != std::floor(n) || n > outputs.numbers.at(0) || !seen.insert(n).second)
          faults.add({"E290", list.at, e.who + ": " + key + " has an output that is not on the board, or one twice",
                      "whole numbers from 1 to " + std::to_string(int(outputs.numbers[0])) + ", each once",
                          "correct the list or outputs", outputs.at});
    });
    auto const &watts = value_of<&BoardSection::greatest_power>(e), &amperes = value_of<&BoardSection::greatest_amperes>(e);
    if (watts.given && amperes.given)
      faults.add(
          {"E222", amperes.at, e.who + " has both 'greatest_power' and 'greatest_amperes'", "one of them", "remove one of them", watts.at});
  }
};

/// One thing that is wired.
struct OutputSection {
  int number;
  int role;
  std::string serves;
  Power draw;

  static constexpr std::string_view kind = "output", family = "output", summary = "What is connected to an output of the boiler's board";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using O = OutputSection;
    return {count<&O::number>("number", 1, 999, "output number, from 1").optional("not on the board: a relay of its own"),
            choice<&O::role>("role", role_names, "role that the output is set to"),
            text<&O::serves>("serves", "device or zone by name: \"bath\", \"boiler/circulator\"").optional("the output's name"),
            field<&O::draw>("draw", watt, 0, 5000, "power of the device, from its nameplate")
                .optional("a circulator's computed power; else the board's usual draw")};
  }
};

}  // namespace steadyfire
