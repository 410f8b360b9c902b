#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// How a motor or a wax follows an error.
///
///   position' = sat(beyond/band)/travel       beyond = what of the error lies outside ±neutral
///   and never past its ends, towards which it slows over the last seconds
///
/// Flows stand still between two solves, so a position may move by its `moves_flow` before its
/// effect is felt: inside the neutral zone the rate is exactly 0, and nothing hunts while one
/// such step changes the error by less than twice `neutral`.
///
/// Valid   a floating motor is pulsed in proportion to the error; the law takes the mean of the pulses.
struct Steering {
  double neutral;   // [K] to either side
  double band;      // [K] beyond it, at which the motor runs without pause
  double travel;    // [s] from end to end without pause
  double least = 0; // the end that it does not go below

  template <class N>
  N rate(N error, N position) const {
    double constexpr ends = 2;  // [s]
    N const beyond = greater(error - neutral, N(0)) + lesser(error + neutral, N(0));
    return within(within(beyond / band, N(-1), N(1)) / travel, (least - position) / ends, (1.0 - position) / ends);
  }
};

/// Mixing devices share this: what they ask of the boiler is an own state at this place, as that of a reset.
inline constexpr int asked_of_boiler = 1;
inline constexpr double moves_flow_by = 0.01;  // of the travel: 0.8 °F where hot and return lie 80 °F apart

/// Keys of the kinds with a motor: mixing valve and injection circulator.
template <class K>
std::vector<Field> motor_fields() {
  using namespace unit;
  return {field<&K::setting>("setting", degF, 40, 200, "mixed water temperature without a reset curve").otherwise(100),
          reference<&K::reset>("reset", "outdoor reset", "reset curve of the mixed water").optional(),
          reference<&K::call>("call", "control", "control that runs it; it stands still otherwise").optional("always runs"),
          field<&K::travel_time>("travel_time", second, 5, 1800, "motor running time from end to end").typical(90, 120, 150),
          field<&K::neutral_zone>("neutral_zone", degF_change, 0.2, 20, "neutral zone each side of the setting")
              .otherwise(1),
          field<&K::band>("full_speed_error", degF_change, 1, 200, "error beyond the neutral zone for continuous motor running")
              .otherwise(36),
          field<&K::sensor_lag>("sensor_lag", second, 0.5, 300, "time lag of the mixed water sensor").typical(5, 10, 30),
          field<&K::margin>("margin", degF_change, 0, 100, "boiler target above the mixed water temperature").otherwise(10)};
}

enum MixingMode { mixing_rests, mixing_works };

/// What the motor kinds do alike. Own states: position or speed, what is asked of the boiler, the thermometer.
template <class K>
struct Motor {
  K const& kind;
  static std::vector<OwnState> states(std::string position) {
    return {{std::move(position), 0, 0.5, 0.02, moves_flow_by},
            {"asked of the boiler", 0, 333.15, 0.1, 0, StateRole::wanted},
            {"thermometer", 0, 293.15, 0.1}};
  }
  Place goal(Site const& s) const { return kind.reset ? s.of(kind.reset, StateRole::wanted) : given::unity; }
  double wanted(Site const& s) const { return kind.reset ? s[goal(s)] : *kind.setting; }
  void begin(Site const& s, std::span<double> own) const { own[1] = wanted(s) + *kind.margin, own[2] = s[s.outlet()]; }
  void links(Links& book, Site const& s) const { book.follow(s.own(2), s.outlet(), 1 / *kind.sensor_lag); }
  /// `guarded`: water that must not fall below `least`, at which the position gives way; unity if none.
  void laws(auto& book, Site const& s, Place guarded, double least) const {
    double constexpr answer = 20;  // [s] as the zone relay's
    bool const by_curve = bool(kind.reset), guards = guarded != given::unity;
    double const fixed = *kind.setting, above = *kind.margin, works = s.mode() == mixing_works;
    Steering const steering{*kind.neutral_zone, *kind.band, *kind.travel_time};
    book.rate(s.own(), [&](auto position, auto goal, auto felt, auto back) {
      auto const wanted = by_curve ? goal : 0.0 * goal + fixed;
      auto const error = wanted - felt;
      return works * steering.rate(guards ? lesser(error, back - least) : error, position);
    }, s.own(), goal(s), s.own(2), guarded);
    book.rate(s.own(1), [&](auto asked, auto goal) { return ((by_curve ? goal : 0.0 * goal + fixed) + above - asked) / answer; }, s.own(1),
              goal(s));
  }
};

inline constexpr std::array<std::string_view, 2> mixing_modes{"resting", "working"};
template <class K>
auto mixing_transitions() {
  using T = Transition<K>;
  return std::array{T{mixing_rests, mixing_works, &K::wanted, Cause::call, "", measure::plain, nullptr, false},
                    T{mixing_works, mixing_rests, &K::unwanted, Cause::call_ended, "", measure::plain, nullptr, false}};
}

/// Fully open for long, and the mixed water still falls short.
inline void find_starved(Site const& s, double felt, double wanted, double hot, std::vector<Finding>& list) {
  double constexpr long_enough = 3600, far = 2;  // [s], [K]: a cold floor takes its time
  if (s.mode() != mixing_works || s.time_in_mode() < long_enough || s[s.own()] < 0.98 || felt > wanted - far) return;
  list.push_back({.id = "mixing.starved",
                  .place = "",
                  .severity = Severity::minor,
                  .figures = {{"mixed", felt, measure::temperature}, {"hot", hot, measure::temperature}},
                  .limit = Figure{"wanted", wanted, measure::temperature},
                  .whose = "its target",
                  .words = say("fully open; mixed water {}, needs {}; hot water {}.", Amount{felt, measure::temperature},
                               Amount{wanted, measure::temperature}, Amount{hot, measure::temperature}),
                  .order = 35,
                  .fix = "give it hotter water from the boiler, or more flow to the valve."});
}

}  // namespace steadyfire
