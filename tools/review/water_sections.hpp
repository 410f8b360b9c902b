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
      neutraliser, drain_air_gap, double_wall;

  static constexpr std::string_view kind = "safety", family = "safety", summary = "Safety devices and fittings at the boiler";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using S = SafetySection;
    return {
        field<&S::allowable_pressure>("allowable_pressure", psi, 5, 200, "maximum allowable working pressure, from the boiler plate, gauge")
            .optional("not stated, so not judged"),
        field<&S::relief_setting>("relief_setting", psi, 5, 200, "setting of the boiler's relief valve, gauge")
            .optional(Amount{psi.to_si(30), measure::pressure}),
        field<&S::relief_capacity>("relief_capacity", kBtu_per_hour, 1, 1e4, "relief valve capacity as heat, from its plate")
            .optional("not stated, so not judged"),
        field<&S::relief_steam>("relief_steam", pound_per_hour, 1, 1e4, "relief valve capacity as steam, from its plate").optional(),
        field<&S::relief_size>("relief_size", inch, 0.25, 4, "nominal size of its inlet").optional("not stated, so not judged"),
        text<&S::relief_joint>("relief_joint", "joint of the relief valve").optional("\"boiler outlet\""),
        field<&S::needed_suction_head>("needed_suction_head", foot, 0, 100, "net positive suction head required by circulators (NPSHR)")
            .optional(Amount{2, measure::head}),
        statement<&S::low_water_cut_off>("low_water_cut_off", "low-water cutoff or flow switch that stops the burner"),
        statement<&S::backflow_preventer>("backflow_preventer", "backflow preventer between cold water and the fill"),
        statement<&S::fill_valve>("fill_valve", "pressure-reducing fill valve"),
        statement<&S::hot_water_relief>("hot_water_relief",
                                        "hot water relief valve, heater side of its isolation valve"),
        statement<&S::air_vent>("air_vent", "air vent at the air separator or the top of the system"),
        statement<&S::boiler_isolation>("boiler_isolation", "isolation valves of the boiler"),
        statement<&S::boiler_purge>("boiler_purge", "purge valve with drain for the boiler loop"),
        statement<&S::plate_flush>("plate_flush", "flush valves at the hot water heat exchanger"),
        statement<&S::neutraliser>("neutraliser", "condensate neutralizer"),
        statement<&S::drain_air_gap>("drain_air_gap", "air gap between condensate or relief pipe and drain"),
        statement<&S::double_wall>("double_wall", "double-wall heat exchanger where glycol meets drinking water")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &heat = value_of<&SafetySection::relief_capacity>(e), &steam = value_of<&SafetySection::relief_steam>(e);
    if (heat.given && steam.given)
      faults.add({"E222", steam.at, e.who + ": both 'relief_capacity' and 'relief_steam'", "one of them",
                  "remove one; 100 lb/h of steam is about 100 kBtu/h", heat.at});
  }
};

/// A pipe in the cold, in which water may stand.
struct ColdRunSection {
  std::string pipe, size;
  Length insulation;
  Conductivity insulation_conductivity;
  Temperature air, water;
  Time rest;

  static constexpr std::string_view kind = "cold run", family = "cold run", summary = "A pipe through a cold space where water may stand";
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using C = ColdRunSection;
    return {text<&C::pipe>("pipe", "house pipe in the cold space, by name: \"bath/supply\"").optional(),
            text<&C::size>("size", "size of a pipe outside the heating system").optional(),
            field<&C::insulation>("insulation", inch, 0, 4, "insulation thickness of that pipe; 0 is bare").otherwise(0.5),
            field<&C::insulation_conductivity>("insulation_conductivity", watt_per_metre_kelvin, 0.01, 1,
                "conductivity of that insulation").otherwise(0.036),
            field<&C::air>("air", degF, -70, 100, "coldest air around it").optional("the outdoor design temperature"),
            field<&C::water>("water", degF, 33, 220, "water temperature when flow stops").optional("room temperature"),
            field<&C::rest>("rest", hour, 0.01, 1000, "longest time without flow").otherwise(8)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_of<&ColdRunSection::size>(e), e.who, faults);
    auto const &pipe = value_of<&ColdRunSection::pipe>(e), &size = value_of<&ColdRunSection::size>(e);
    if (pipe.given == size.given)
      faults.add({pipe.given ? "E222" : "E205", pipe.given ? size.at : e.at,
                  e.who + (pipe.given ? ": both 'pipe' and 'size'" : ": 'pipe' or 'size' is missing"), "one of them",
                  "a house pipe already has its size", pipe.given ? pipe.at : Position{}, {}, pipe.given ? "" : "pipe"});
    using C = ColdRunSection;
    each_value<&C::insulation, &C::insulation_conductivity>(e, [&](std::string const& key, Value const& v) {
      if (v.given && pipe.given)
        faults.add({"E222", v.at, e.who + ": '" + key + "' does not go with 'pipe'", "this key in the table of that pipe",
                    "write it in a [[pipe]] with that name", pipe.at});
    });
  }
};

/// By what the size of a buffer is worked out, where not by the house itself.
struct BufferSection {
  Power least_output, load;
  TemperatureChange swing;

  static constexpr std::string_view kind = "buffer", family = "buffer", summary = "Basis of the buffer tank size in `check`";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using B = BufferSection;
    return {field<&B::least_output>("least_output", kBtu_per_hour, 0.5, 5000, "boiler output at minimum fire")
                .optional("minimum input times the efficiency of the run"),
            field<&B::load>("load", kBtu_per_hour, 0, 5000, "load during the burn").optional("the smallest zone's design load"),
            field<&B::swing>("swing", degF_change, 1, 100, "water swing from burner start to burner stop")
                .optional("the boiler's on/off differential")};
  }
};

}  // namespace steadyfire
