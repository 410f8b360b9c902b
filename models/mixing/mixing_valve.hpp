#pragma once
#include "models/fittings.hpp"
#include "models/mixing/steering.hpp"

namespace steadyfire {

/// Three-way mixing valve with a floating motor and, mostly, a reset curve of its own.
///
///   Kv of the hot way = Kv·p, of the cold way = Kv·(1 − p), both at least 0.1 % of Kv: seats leak
///   p' = sat(beyond/full-speed error)/travel time     beyond = (wanted − T_mixed) outside ±neutral zone
///   with a guarded return: the lesser of that error and T_return − least return
///
/// Shape   two branches, hot and cold to mixed, with built-in checks; own states: position p, what is asked of the
///         boiler (wanted + margin), thermometer. Where the pressures at hot and cold are alike, p is the hot share.
/// Valid   linear ways; the motor stands still while nobody calls. Flows are solved anew whenever p has moved by 1 %.
/// Source  travel times, neutral zone, leakage: common practice, no source.
struct MixingValve {
  double cv;
  Temperature setting, least_return;
  Reference reset, call, return_sensor;
  Time travel_time, sensor_lag;
  TemperatureChange neutral_zone, band, margin;

  static constexpr std::string_view kind = "motorised mixing valve", family = "mixing", summary = "Three-way motorized mixing valve";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"hot", "mixed"}, Branch{"cold", "mixed"}};
  static std::vector<Field> schema() {
    std::vector<Field> all{number<&MixingValve::cv>("cv", 1e-2, 1e4, "flow coefficient Cv of each port fully open")
        .typical(2, 4, 8)};
    for (auto& f : motor_fields<MixingValve>()) all.push_back(std::move(f));
    all.push_back(field<&MixingValve::least_return>("least_return", unit::degF, 60, 180,
                                                    "boiler return temperature below which it throttles its zone").optional());
    all.push_back(reference<&MixingValve::return_sensor>("return_sensor", "sensor", "sensor of the boiler return temperature").optional());
    return all;
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &least = value_of<&MixingValve::least_return>(e), &sensor = value_of<&MixingValve::return_sensor>(e);
    if (!e.ports.empty() && least.given && !sensor.given)
      faults.add({"E205", least.at, e.who + ": least_return needs 'return_sensor'",
                  "the name of a supply sensor in the boiler return", "add return_sensor"});
  }

  static double share(int way, Site const& s) {
    double constexpr leak = 1e-3;
    double const p = std::clamp(s[s.own()], 0.0, 1.0);
    return std::max(way == 0 ? p : 1 - p, leak);
  }
  template <class Flow>
  Flow loss(int way, Flow flow, Site const& s) const { return cv_to_loss(flow, cv * share(way, s), s.local(way)); }
  Way way(int, Site const&) const { return Way::forward; }

  std::vector<OwnState> states() const { return Motor<MixingValve>::states("position"); }
  void begin(Site const& s, std::span<double> own) const { Motor<MixingValve>{*this}.begin(s, own); }
  void links(Links& book, Site const& s) const { Motor<MixingValve>{*this}.links(book, s); }
  void laws(auto& book, Site const& s) const {
    bool const guards = return_sensor && !std::isnan(*least_return);
    Motor<MixingValve>{*this}.laws(book, s, guards ? s.of(return_sensor) : given::unity, guards ? *least_return : 0);
  }
  static constexpr auto modes = mixing_modes;
  static auto transitions() { return mixing_transitions<MixingValve>(); }
  Reading wanted(Site const& s) const { return Reading::fact(!call || s.calls(call)); }
  Reading unwanted(Site const& s) const { return Reading::fact(call && !s.calls(call)); }
  void findings(Site const& s, std::vector<Finding>& list) const {
    bool const gives_way = return_sensor && !std::isnan(*least_return) && s[s.of(return_sensor)] < *least_return;
    if (gives_way && s.mode() == mixing_works && s.time_in_mode() > 3600 && s[s.own()] < 0.02)
      list.push_back({.id = "mixing.held_by_return",
                      .place = "",
                      .severity = Severity::serious,
                      .figures = {{"return", s[s.of(return_sensor)], measure::temperature}},
                      .limit = Figure{"least", *least_return, measure::temperature},
                      .whose = "its setting",
                      .words = say("closed to protect the boiler return ({}, minimum {}); its zone has no heat.",
                                   Amount{s[s.of(return_sensor)], measure::temperature}, Amount{*least_return, measure::temperature}),
                      .order = 70,
                      .fix = "give the boiler its own loop so its return can warm up."});
    if (!gives_way) find_starved(s, s[s.own(2)], Motor<MixingValve>{*this}.wanted(s), s[s.inlet()], list);
  }
};

}  // namespace steadyfire
