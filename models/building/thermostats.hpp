#pragma once
/// Thermostats of a room, by how they make on and off of what they feel.

#include "sim/component/kind.hpp"

namespace steadyfire {

/// What all have: a sensor on the wall, a setting with a setback, and a permit.
///
///   sensed' = (α·T_air + (1 − α)·T_surfaces − sensed)/lag
///
/// Shape   own state 0: sensed; modes by day and in setback.
/// Source  sensor lag and share of the air: common practice, no source.
struct RoomSensor {
  Reference room, permit;
  Temperature setting, setback;
  Time setback_from, setback_until, sensor_lag;
  Fraction air_share;

  static constexpr std::string_view family = "thermostat";
  static constexpr Role role = Role::thermostat;
  static constexpr Caller caller = Caller::thermostat;
  template <class K>
  static std::vector<Field> schema_with(std::vector<Field> own) {
    using namespace unit;
    std::vector<Field> all{reference<&RoomSensor::room>("room", "room", "room that it senses").optional("the zone's room"),
                           field<&RoomSensor::setting>("setting", degF, 35, 95, "room setpoint").otherwise(70).as(FieldRole::setting)};
    all.insert(all.end(), own.begin(), own.end());
    for (auto const& f :
         {field<&RoomSensor::setback>("setback", degF, 35, 95, "setback setpoint").optional("no setback").as(FieldRole::setback),
          clock<&RoomSensor::setback_from>("setback_from", "start of setback").otherwise(22),
          clock<&RoomSensor::setback_until>("setback_until", "end of setback").otherwise(6),
          field<&RoomSensor::sensor_lag>("sensor_lag", minute, 0.1, 60, "time constant of the sensor on the wall; usually 2 to 15 min")
              .otherwise(5),
          field<&RoomSensor::air_share>("air_share", percent, 0, 100, "share of the air in what the sensor feels; the rest are surfaces")
              .otherwise(50),
          reference<&RoomSensor::permit>("permit", "control", "outdoor reset whose warm-weather shutdown blocks calls").optional()})
      all.push_back(f);
    return all;
  }
  static OwnState sensed_state() { return {"sensed", 0, 294.261, 0.1}; }
  void begin(Site const& s, std::span<double> own) const { own[0] = s[s.of(room)]; }
  void links(Links& book, Site const& s) const {
    book.follow(s.own(), s.of(room, StateRole::air), *air_share / *sensor_lag);
    book.follow(s.own(), s.of(room, StateRole::surfaces), (1 - *air_share) / *sensor_lag);
  }

  double sensed(Site const& s) const { return s[s.own()]; }
  bool permitted(Site const& s) const { return !permit || s.calls(permit); }
  Reading refused(Site const& s) const { return Reading::fact(!permitted(s)); }
  Reading evening(Site const& s) const { return std::isnan(*setback) ? Reading::never() : next(s, *setback_from, *setback); }
  Reading morning(Site const& s) const { return next(s, *setback_until, *setting); }
  /// The first time that the clock shows `hour` after this mode was entered; it tells the setpoint from then on.
  Reading next(Site const& s, double hour, double setpoint) const {
    double const then = std::fmod(s.time_of_day() - s.time_in_mode() + 864000.0, 86400.0);
    double wait = hour - then;
    while (wait <= 1e-6) wait += 86400;
    return Reading::at(s, s.since() + wait, setpoint);
  }

  static constexpr std::string_view call_starts = "call starts: room fell to {value}, setpoint {limit}",
                                    call_ends = "call ends: room reached {value}", blocked = "call blocked: warm-weather shutdown",
                                    setback_starts = "setback starts: setpoint {value}", setback_ends = "setback ends: setpoint {value}";
};

/// What thermostats between two temperatures have in common.
struct TwoPointModes {
  enum Mode { satisfied, calling, satisfied_setback, calling_setback };
  static constexpr std::array<std::string_view, 4> modes{"satisfied", "calling", "satisfied in setback", "calling in setback"};
  static constexpr std::array<Traits, 4> traits{trait::none, trait::calls, trait::set_back, trait::calls | trait::set_back};
  static bool is_calling(Site const& s) { return s.mode() == calling || s.mode() == calling_setback; }
  static bool is_set_back(Site const& s) { return s.mode() >= satisfied_setback; }
};

/// Thermostat that keeps a number of cycles an hour, as North American ones do.
///
///   calls below setting − d/2, rests above setting + d/2, of  sensed + x − a/2
///   x' = (a·[calling] − x)/τ     τ = 1/(2·N·ln((a + d₀)/(a − d₀)))    N cycles an hour in a steady room at half load
///   d ← d·(P*/P)^0.7             after each whole cycle of P with run-time fraction X;  1/P* = 4·N·X·(1 − X)
///
/// Anticipation alone makes N cycles only where the room itself does not swing. A light room with a fan swings more, so a
/// thermostat of the kind that is set in cycles an hour widens or narrows its own differential until the rate is met.
///
/// Shape   no branch; own states: sensed, anticipation x [K], differential d [K], the last call [s], 0 while one is
///         counted, −1 where it cannot count; odd modes call.
/// Valid   a > d₀, the differential at first; d from 0.03 to 3 K, by at most 1.6 a cycle; a is the droop from no load to
///         full load.
/// Errors  rate within 3 % of 4·N·X·(1 − X) from the third hour on, X from 0.2 to 0.8 (tests/reference/thermostat_test.cpp).
/// Source  4·N·X·(1 − X): NEMA DC 3, residential controls, and H. I. Henderson and others, Measuring thermostat and air
///         conditioner performance in Florida homes, FSEC-RR-24-91, 1991, both from memory; 3 and 1 an hour: common practice.
struct Thermostat : RoomSensor, TwoPointModes {
  TemperatureChange differential, anticipation;
  Rate cycles;

  double lag = 0;  // τ [s], from prepare()

  static constexpr std::string_view kind = "thermostat", summary = "Room thermostat set in cycles per hour";
  static std::vector<Field> schema() {
    using namespace unit;
    return schema_with<Thermostat>(
        {field<&Thermostat::differential>("differential", degF_change, 0.1, 8,
                                          "differential between call and call end at first; it adjusts itself to the cycle rate")
             .otherwise(0.5)
             .as(FieldRole::differential),
         field<&Thermostat::anticipation>("anticipation", degF_change, 0.2, 10, "heat anticipation: droop from no load to full load")
             .otherwise(1.5),
         field<&Thermostat::cycles>("cycles_per_hour", per_hour, 0.2, 12, "thermostat cycles per hour at half load")
             .otherwise(3)
             .told_as("by the emitter: 1 per hour with a radiant slab, else 3 per hour")});
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &d = value_of<&Thermostat::differential>(e), &a = value_of<&Thermostat::anticipation>(e);
    if (!d.numbers.empty() && !a.numbers.empty() && d.numbers[0] >= a.numbers[0])
      faults.add({"E225", d.given ? d.at : a.at, e.who + ": differential is not below anticipation", "differential below anticipation",
                  "lower the differential; anticipation (droop to full load) is usually 1 to 3 °F. For a plain on/off differential "
                  "write kind = \"differential thermostat\""});
  }
  void prepare() {
    double const a = *anticipation, d = *differential;
    lag = 1 / (2 * *cycles * std::log((a + d) / (a - d)));
  }
  std::vector<OwnState> states() const {
    return {sensed_state(), {"anticipation", 0, *anticipation / 2, 0.1}, {"differential", 0, *differential, 0}, {"last call", 0, -1, 0}};
  }
  void links(Links& book, Site const& s) const {
    RoomSensor::links(book, s);
    book.drift(s.own(1), is_calling(s) ? *anticipation / lag : 0);
    // x' = −x/τ written as following a place that is always 1, less that 1
    book.follow(s.own(1), given::unity, 1 / lag), book.drift(s.own(1), -1 / lag);
  }

  static auto transitions() {
    using T = Transition<Thermostat>;
    using K = Thermostat;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{satisfied, calling, &K::cold, Cause::on_temperature, call_starts, t, &K::adjust},
                      T{calling, satisfied, &K::warm, Cause::off_temperature, call_ends, t, &K::count},
                      T{calling, satisfied, &K::refused, Cause::warm_weather_shutdown, blocked, measure::plain, &K::forget},
                      T{satisfied_setback, calling_setback, &K::cold, Cause::on_temperature, call_starts, t, &K::adjust},
                      T{calling_setback, satisfied_setback, &K::warm, Cause::off_temperature, call_ends, t, &K::count},
                      T{calling_setback, satisfied_setback, &K::refused, Cause::warm_weather_shutdown, blocked, measure::plain, &K::forget},
                      T{satisfied, satisfied_setback, &K::evening, Cause::setback_began, setback_starts, t, &K::forget},
                      T{calling, calling_setback, &K::evening, Cause::setback_began, setback_starts, t, &K::forget},
                      T{satisfied_setback, satisfied, &K::morning, Cause::setback_ended, setback_ends, t, &K::forget},
                      T{calling_setback, calling, &K::morning, Cause::setback_ended, setback_ends, t, &K::forget}};
  }
  double wanted(Site const& s) const { return is_set_back(s) ? *setback : *setting; }
  double felt(Site const& s) const { return sensed(s) + s[s.own(1)] - *anticipation / 2; }
  double half(Site const& s) const { return s[s.own(2)] / 2; }
  Reading cold(Site const& s) const {
    auto r = permitted(s) ? Reading::below(felt(s), wanted(s) - half(s)) : Reading::never();
    return r.value = sensed(s), r.limit = wanted(s), r;
  }
  Reading warm(Site const& s) const {
    auto r = Reading::above(felt(s), wanted(s) + half(s));
    return r.value = sensed(s), r.limit = wanted(s), r;
  }

  void count(Site const& s, std::span<double> own) const {
    if (own[3] == 0) own[3] = s.time_in_mode();
  }
  void forget(Site const&, std::span<double> own) const { own[3] = -1; }
  /// A cycle is complete: the last call, and the rest that ends now.
  void adjust(Site const& s, std::span<double> own) const {
    if (double const on = own[3]; on > 0) {
      double const period = on + s.time_in_mode(), X = std::clamp(on / period, 0.05, 0.95);
      double const wanted = 1 / (4 * *cycles * X * (1 - X));
      own[2] = std::clamp(own[2] * std::clamp(std::pow(wanted / period, 0.7), 1 / 1.6, 1.6), 0.03, 3.0);
    }
    own[3] = 0;
  }
};

/// Thermostat between two temperatures: calls half the differential below its setting, rests half of it above.
///
/// Shape   no branch; own state: sensed; odd modes call.
struct DifferentialThermostat : RoomSensor, TwoPointModes {
  TemperatureChange differential;

  static constexpr std::string_view kind = "differential thermostat",
                                    summary = "Room thermostat with a plain differential, half of it on either side of the setting";
  static std::vector<Field> schema() {
    using D = DifferentialThermostat;
    return schema_with<D>({field<&D::differential>("differential", unit::degF_change, 0.1, 8,
                                                   "differential between call and call end, half of it on either side of the setting")
                               .otherwise(1)
                               .as(FieldRole::differential)});
  }
  std::vector<OwnState> states() const { return {sensed_state()}; }
  static auto transitions() {
    using T = Transition<DifferentialThermostat>;
    using K = DifferentialThermostat;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{satisfied, calling, &K::cold, Cause::on_temperature, call_starts, t},
                      T{calling, satisfied, &K::warm, Cause::off_temperature, call_ends, t},
                      T{calling, satisfied, &K::refused, Cause::warm_weather_shutdown, blocked},
                      T{satisfied_setback, calling_setback, &K::cold, Cause::on_temperature, call_starts, t},
                      T{calling_setback, satisfied_setback, &K::warm, Cause::off_temperature, call_ends, t},
                      T{calling_setback, satisfied_setback, &K::refused, Cause::warm_weather_shutdown, blocked},
                      T{satisfied, satisfied_setback, &K::evening, Cause::setback_began, setback_starts, t},
                      T{calling, calling_setback, &K::evening, Cause::setback_began, setback_starts, t},
                      T{satisfied_setback, satisfied, &K::morning, Cause::setback_ended, setback_ends, t},
                      T{calling_setback, calling, &K::morning, Cause::setback_ended, setback_ends, t}};
  }
  double wanted(Site const& s) const { return is_set_back(s) ? *setback : *setting; }
  Reading cold(Site const& s) const {
    auto r = permitted(s) ? Reading::below(sensed(s), wanted(s) - *differential / 2) : Reading::never();
    return r.limit = wanted(s), r;
  }
  Reading warm(Site const& s) const {
    auto r = Reading::above(sensed(s), wanted(s) + *differential / 2);
    return r.limit = wanted(s), r;
  }
};

}  // namespace steadyfire
