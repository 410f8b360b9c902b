#pragma once
#include "models/fittings.hpp"
#include "models/mixing/steering.hpp"

namespace steadyfire {

/// Thermostatic mixing valve: a wax in the mixed water moves the valve by itself.
///
///   position at rest  p = (setting + band/2 − T_mixed)/band, within friction ±neutral zone
///   p' = sat(beyond/band)/lag                       beyond = (setting + band/2 − p·band − T_mixed) outside ±neutral zone
///   Kv of the hot way = Kv·p, of the cold way = Kv·(1 − p), both at least 0.1 % of Kv
///
/// Shape   two branches, hot and cold to mixed, with built-in checks; own states: position p, what is asked of the
///         boiler (setting + margin). It holds its setting at mid-position and droops by half its band to either end.
/// Valid   no power, so it acts whether anybody calls or not; a hot supply nearer to its setting than the minimum
///         difference is a finding. Flows are solved anew whenever p has moved by 1 %.
/// Source  energy of mixing, closed form; a drift of some °F and a minimum difference are what ASSE 1017 and 1070
///         test for (from memory); the numbers are common practice, no source.
struct ThermostaticMixingValve {
  double cv;
  Temperature setting;
  TemperatureChange band, neutral_zone, least_difference, margin;
  Time lag;
  Reference call;

  static constexpr std::string_view kind = "thermostatic mixing valve", family = "mixing",
                                    summary = "Thermostatic mixing valve (wax element)";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"hot", "mixed"}, Branch{"cold", "mixed"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using V = ThermostaticMixingValve;
    return {number<&V::cv>("cv", 1e-2, 1e4, "flow coefficient Cv of each port fully open").typical(1.5, 3, 6),
            field<&V::setting>("setting", degF, 60, 200, "mixed water setting; the zone's supply temperature if not given")
                .otherwise(110),
            field<&V::band>("band", degF_change, 1, 60, "change of mixed water that moves it from end to end").typical(6, 10, 18),
            field<&V::neutral_zone>("neutral_zone", degF_change, 0.2, 10, "friction: it does not move within this, each side")
                .otherwise(1),
            field<&V::lag>("lag", second, 1, 600, "time lag of the wax element").typical(5, 15, 40),
            field<&V::least_difference>("minimum_difference", degF_change, 0, 60, "minimum hot-to-mixed temperature difference to control")
                .typical(10, 20, 30),
            field<&V::margin>("margin", degF_change, 0, 100, "boiler target above the mixed water temperature").otherwise(25),
            reference<&V::call>("call", "control", "control whose call it serves, for findings").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &least = value_of<&ThermostaticMixingValve::least_difference>(e), &margin = value_of<&ThermostaticMixingValve::margin>(e);
    if (least.numbers.empty() || margin.numbers.empty() || margin.numbers[0] >= least.numbers[0]) return;
    bool const at_margin = margin.given;
    faults.add({"E264", at_margin ? margin.at : least.at,
                "thermostatic mixing valve: margin is below minimum_difference",
                "a margin of at least the minimum_difference", "raise the margin", at_margin && least.given ? least.at : Position{}});
  }
  template <class Flow>
  Flow loss(int way, Flow flow, Site const& s) const {
    double constexpr leak = 1e-3;
    double const p = std::clamp(s[s.own()], 0.0, 1.0);
    return cv_to_loss(flow, cv * std::max(way == 0 ? p : 1 - p, leak), s.local(way));
  }
  Way way(int, Site const&) const { return Way::forward; }

  std::vector<OwnState> states() const {
    return {{"position", 0, 0.5, 0.02, moves_flow_by}, {"asked of the boiler", 0, *setting + *margin, 0.1, 0, StateRole::wanted}};
  }
  void laws(auto& book, Site const& s) const {
    Steering const wax{*neutral_zone, *band, *lag};
    book.rate(s.own(), [&](auto p, auto mixed) { return wax.rate(*setting + *band / 2 - *band * p - mixed, p); }, s.own(), s.outlet());
  }
  static constexpr auto modes = mixing_modes;
  static auto transitions() { return mixing_transitions<ThermostaticMixingValve>(); }
  Reading wanted(Site const& s) const { return Reading::fact(!call || s.calls(call)); }
  Reading unwanted(Site const& s) const { return Reading::fact(call && !s.calls(call)); }
  void findings(Site const& s, std::vector<Finding>& list) const {
    find_starved(s, s[s.outlet()], *setting - *band / 2, s[s.inlet()], list);
    double constexpr long_enough = 3600;  // [s]
    double const difference = s[s.inlet()] - *setting;
    if (s.mode() != mixing_works || s.time_in_mode() < long_enough || s.flow() < 1e-6 || difference >= *least_difference) return;
    list.push_back({.id = "mixing.small_difference",
                    .place = "",
                    .severity = Severity::minor,
                    .figures = {{"difference", difference, measure::temperature_change}, {"hot", s[s.inlet()], measure::temperature}},
                    .limit = Figure{"least", *least_difference, measure::temperature_change},
                    .whose = "the valve",
                    .words = say("hot water is only {} above the setting, minimum {}. The valve cannot hold its setting.",
                                 Amount{difference, measure::temperature_change}, Amount{*least_difference, measure::temperature_change}),
                    .order = 30,
                    .fix = "give it hotter water from the boiler, or use a motorized valve."});
  }
};

}  // namespace steadyfire
