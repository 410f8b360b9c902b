#pragma once
/// What the user says of the water side that no piece of the installation tells.

#include "models/house/statement.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Safety devices and fittings around the boiler.
struct SafetySection {
  Pressure allowable_pressure, relief_setting;
  Power relief_capacity;
  MassFlow relief_steam;
  Length relief_size, needed_suction_head;
  std::string relief_joint;
  Statement low_water_cut_off, backflow_preventer, fill_valve, hot_water_relief, air_vent, boiler_isolation, boiler_purge, plate_flush,
      neutraliser, drain_air_gap;

  static constexpr std::string_view kind = "safety", family = "safety", summary = "Safety devices and fittings around the boiler";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using S = SafetySection;
    return {
        field<&S::allowable_pressure>("allowable_pressure", psi, 5, 200, "maximum allowable working pressure, on the boiler's plate, gauge")
            .optional("not stated, so not judged"),
        field<&S::relief_setting>("relief_setting", psi, 5, 200, "of the boiler's relief valve, gauge").optional("30 psi"),
        field<&S::relief_capacity>("relief_capacity", kBtu_per_hour, 1, 1e4, "heat that it lets off, on its plate")
            .optional("not stated, so not judged"),
        field<&S::relief_steam>("relief_steam", pound_per_hour, 1, 1e4, "the same as steam").optional(),
        field<&S::relief_size>("relief_size", inch, 0.25, 4, "nominal size of its inlet").optional("not stated, so not judged"),
        text<&S::relief_joint>("relief_joint", "joint where it stands").optional("\"boiler outlet\""),
        field<&S::needed_suction_head>("needed_suction_head", foot, 0, 100, "net positive suction head that circulators need, by manual")
            .optional("6.6 ft"),
        statement<&S::low_water_cut_off>("low_water_cut_off", "stops the burner where water or its flow is missing"),
        statement<&S::backflow_preventer>("backflow_preventer", "between the house's cold water and the fill"),
        statement<&S::fill_valve>("fill_valve", "reduces the pressure of the cold water that fills the system"),
        statement<&S::hot_water_relief>("hot_water_relief",
                                        "relief valve of the domestic hot water, on the heater's side of its isolation valve"),
        statement<&S::air_vent>("air_vent", "at the air separator or the top of the system"),
        statement<&S::boiler_isolation>("boiler_isolation", "valves that part the boiler from the piping"),
        statement<&S::boiler_purge>("boiler_purge", "valve with a drain through which the boiler's loop is purged of air"),
        statement<&S::plate_flush>("plate_flush", "valves through which the hot-water plates are flushed of scale"),
        statement<&S::neutraliser>("neutraliser", "of the condensate"),
        statement<&S::drain_air_gap>("drain_air_gap", "between condensate or relief pipe and the drain")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &heat = value_under(e, "relief_capacity"), &steam = value_under(e, "relief_steam");
    if (heat.given && steam.given)
      faults.add({"E222", steam.at, e.who + ": the relief valve's capacity is stated twice", "relief_capacity or relief_steam",
                  "100 lb/h of steam carry off 100 kBtu/h", heat.at});
  }
};

/// A pipe in the cold, in which water may stand.
struct ColdRunSection {
  std::string pipe, size;
  Length insulation;
  Conductivity insulation_conductivity;
  Temperature air, water;
  Time rest;

  static constexpr std::string_view kind = "cold run", family = "cold run", summary = "A pipe through the cold, in which water may stand";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using C = ColdRunSection;
    return {text<&C::pipe>("pipe", "the pipe of the house that runs there, \"bath/supply\", with its size and insulation").optional(),
            text<&C::size>("size", "of a pipe that is none of the house's heating").optional(),
            field<&C::insulation>("insulation", inch, 0, 4, "thickness around the latter; 0 is bare").otherwise(0.5),
            field<&C::insulation_conductivity>("insulation_conductivity", watt_per_metre_kelvin, 0.01, 1, "of that").otherwise(0.036),
            field<&C::air>("air", degF, -70, 100, "around it, at its coldest").optional("outdoors at design"),
            field<&C::water>("water", degF, 33, 220, "as it comes to rest").optional("as warm as the rooms"),
            field<&C::rest>("rest", hour, 0.01, 1000, "longest that it stands").otherwise(8)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_under(e, "size"), e.who, faults);
    auto const &pipe = value_under(e, "pipe"), &size = value_under(e, "size");
    if (pipe.given == size.given)
      faults.add({pipe.given ? "E222" : "E205", pipe.given ? size.at : e.at,
                  e.who + (pipe.given ? " has both a pipe of the house and a size" : ": lacks 'pipe' or 'size'"), "one of them",
                  "a pipe of the house has its size already", pipe.given ? pipe.at : Position{}});
    for (auto const* key : {"insulation", "insulation_conductivity"})
      if (auto const& v = value_under(e, key); v.given && pipe.given)
        faults.add({"E222", v.at, e.who + ": " + key + " of a pipe of the house", "that key in the pipe's own table",
                    "[[pipe]] with its name", pipe.at});
  }
};

/// By what the size of a buffer is worked out, where not by the house itself.
struct BufferSection {
  Power least_output, load;
  TemperatureChange swing;

  static constexpr std::string_view kind = "buffer", family = "buffer", summary = "By what `check` works out a buffer's size";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using B = BufferSection;
    return {field<&B::least_output>("least_output", kBtu_per_hour, 0.5, 5000, "of the boiler, to the water")
                .optional("its minimum input, by the efficiency of the run"),
            field<&B::load>("load", kBtu_per_hour, 0, 5000, "with which the burn has to last").optional("of the smallest zone at design"),
            field<&B::swing>("swing", degF_change, 1, 100, "of the water, from the start to the stop of the burner")
                .optional("both differentials of the boiler")};
  }
};

}  // namespace steadyfire
