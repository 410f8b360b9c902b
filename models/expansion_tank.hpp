#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Expansion tank: where it meets the piping the pressure stays what the fill made it,
/// whether circulators run or rest. From there follow the pressures of its whole circuit.
///
///   p = p_fill + (P − P_tank) − ρ·g·(z − z_tank)      P: piezometric pressure of the solved flows
///
/// Shape   one branch that ends in the tank, in which nothing flows. What is stated of its size is judged by
///         tools/review/pressure_review.hpp.
/// Valid   the fill pressure is that of the air cushion at the moment looked at; its rise as the water
///         warms is left out here.
/// Source  hydrostatics; the point of no pressure change, common practice, no source.
struct ExpansionTank {
  Pressure fill_pressure, precharge, hot_pressure, relief_setting;
  Volume volume, acceptance, system_volume;
  Temperature fill_temperature, hottest_water;
  int cushion, pipes;

  enum Cushion { diaphragm, open_air };

  static constexpr std::string_view kind = "expansion tank", family = "expansion tank",
                                    summary = "Expansion tank and where it joins the piping";
  static constexpr Role role = Role::expansion;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"joint", ""}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&ExpansionTank::fill_pressure>("fill_pressure", psi, 0.5, 100, "fill pressure where the tank joins, gauge")
            .typical(12, 12, 20).as(FieldRole::held_pressure),
        field<&ExpansionTank::precharge>("precharge", psi, 0, 100, "air charge with no water in the tank, gauge")
            .optional("the fill pressure"),
        field<&ExpansionTank::hot_pressure>("hot_pressure", psi, 1, 200, "highest hot pressure of its circuit at the tank, gauge")
            .optional("90% of the relief valve setting"),
        field<&ExpansionTank::relief_setting>("relief_setting", psi, 5, 200, "relief valve setting of its circuit, gauge")
            .optional("as in [safety]"),
        field<&ExpansionTank::volume>("volume", gallon, 0.1, 5000, "total volume of the tank").optional("unknown (not checked)"),
        field<&ExpansionTank::acceptance>("acceptance", gallon, 0.05, 5000, "acceptance volume of the diaphragm, from the maker")
            .optional("limited by the air charge alone"),
        field<&ExpansionTank::system_volume>("system_volume", gallon, 0.5, 20000, "metered water volume of its circuit")
            .optional("added up from the parts"),
        field<&ExpansionTank::fill_temperature>("fill_temperature", degF, 32, 90, "water temperature at fill").otherwise(50),
        field<&ExpansionTank::hottest_water>("hottest_water", degF, 60, 250, "hottest average water temperature of its circuit")
            .optional("the hottest supply, by design or run"),
        choice<&ExpansionTank::cushion>("cushion", {"behind a diaphragm", "open air"}, "type of air charge").otherwise(diaphragm),
        choice<&ExpansionTank::pipes>("pipes", {"not counted", "steel", "copper"}, "whether pipe expansion counts, and for which metal")
            .otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    using T = ExpansionTank;
    at_most<&T::acceptance, &T::volume>(e, "acceptance is above the tank volume", faults);
    at_most<&T::fill_pressure, &T::hot_pressure>(e, "fill pressure is above the hot pressure", faults);
    at_most<&T::hot_pressure, &T::relief_setting>(e, "hot pressure is above the relief valve setting", faults);
    at_most<&T::precharge, &T::hot_pressure>(e, "air charge is above the hot pressure", faults);
    if (auto const &air = value_of<&ExpansionTank::cushion>(e), &set = value_of<&ExpansionTank::precharge>(e);
        set.given && air.numbers == std::vector{double(open_air)})
      faults.add({"E222", set.at, e.who + ": an open air tank has no air charge to set", "no 'precharge'",
                  "remove 'precharge'", air.at});
  }
  template <auto M, auto Most>
  static void at_most(Entry const& e, char const* words, Diagnostics& faults) {
    auto const &a = value_of<M>(e), &b = value_of<Most>(e);
    if (a.given && b.given && !a.numbers.empty() && !b.numbers.empty() && a.numbers[0] > b.numbers[0])
      faults.add({"E295", a.at, e.who + ": " + words, field_of<M>(*e.kind).key + " at most '" + field_of<Most>(*e.kind).key + "'",
                  "correct one of them", b.at});
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 1e3 * flow; }
};

}  // namespace steadyfire
