#pragma once
/// What the user says of the water side that no piece of the installation tells.

#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// What someone has seen, or not.
enum class Statement { yes, no, unknown };

/// A statement in the file: "yes", "no", or "unknown", as where it does not stand.
template <auto M>
Field statement(std::string key, std::string help) {
  return choice<M>(std::move(key), {"yes", "no", "unknown"}, std::move(help)).otherwise(double(Statement::unknown));
}

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

}  // namespace steadyfire
