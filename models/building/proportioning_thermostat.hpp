#pragma once
#include "models/building/thermostats.hpp"

namespace steadyfire {

/// Thermostat that calls for a share of each period, by error and by what is left of it over time; for heated floors.
///
///   u = I + (setting − sensed)/band within 0 to 1      I' = (u − I)/integral time
///   each period 1/N begins with a call of u/N; one shorter than the least call is left out, a rest shorter than it too
///   floor sensor: no call above floor_most, a call below floor_least whatever the room
///
/// Shape   no branch; own states: sensed, I, the share of this period.
/// Valid   I follows u, so it stands still where u is at its end.
/// Source  proportional-integral control with automatic reset by feedback of its own output: textbook control theory;
///         usual values: common practice, no source.
struct ProportioningThermostat : RoomSensor {
  Reference floor;
  TemperatureChange band;
  Time integral_time, least_call;
  Rate cycles;
  Temperature floor_most, floor_least;

  static constexpr std::string_view kind = "proportioning thermostat",
                                    summary = "Thermostat that calls for a share of each period, with a floor sensor; for heated floors";
  static std::vector<Field> schema() {
    using namespace unit;
    using P = ProportioningThermostat;
    return schema_with<P>(
        {field<&P::band>("band", degF_change, 0.5, 20, "room temperature below the setting at which it calls all the time").otherwise(3),
         field<&P::integral_time>("integral_time", hour, 0.1, 48, "time in which a lasting error doubles the answer")
             .otherwise(4),
         field<&P::cycles>("cycles_per_hour", per_hour, 0.2, 12, "periods per hour").otherwise(1),
         field<&P::least_call>("least_call", minute, 0.5, 30, "shortest call, and shortest rest").otherwise(5),
         reference<&P::floor>("floor", "emitter", "floor whose temperature it senses").optional("the zone's own floor"),
         field<&P::floor_most>("floor_most", degF, 60, 120, "no call while the floor is warmer").optional("no limit"),
         field<&P::floor_least>("floor_least", degF, 40, 100, "a call while the floor is cooler, whatever the room").optional("no limit")});
  }
  static void check(Entry const& e, Diagnostics& faults) {
    using P = ProportioningThermostat;
    auto const &most = value_of<&P::floor_most>(e), &least = value_of<&P::floor_least>(e), &call = value_of<&P::least_call>(e),
               &cycles = value_of<&P::cycles>(e);
    if (!most.numbers.empty() && !least.numbers.empty() && most.numbers[0] < least.numbers[0] + 2 * edge)
      faults.add({"E292", most.at, e.who + ": floor_most is not 4 °F above floor_least", "floor_most at least 4 °F above floor_least",
                  "raise floor_most or lower floor_least", least.at});
    if (*get<&P::least_call>(e) * *get<&P::cycles>(e) > 0.5)
      faults.add({"E292", call.given ? call.at : cycles.at, e.who + ": least_call is longer than half a period",
                  "least_call of at most half of 1/cycles_per_hour", "shorten least_call or lower cycles_per_hour",
                  call.given && cycles.given ? cycles.at : Position{}});
  }
  static constexpr double edge = 1.1;  // [K] of the floor limits, to either side of a change

  std::vector<OwnState> states() const { return {sensed_state(), {"integral", 0, 0.5, 0.02}, {"share of the period", 0, 1, 0}}; }
  void begin(Site const& s, std::span<double> own) const { RoomSensor::begin(s, own); }
  template <class N>
  N share(N sensed, N integral, double wanted) const {
    return within(integral + (wanted - sensed) / *band, N(0.0), N(1.0));
  }
  void laws(auto& book, Site const& s) const {
    book.rate(s.own(1), [this, w = wanted(s)](auto sensed, auto I) { return (share(sensed, I, w) - I) / *integral_time; }, s.own(),
              s.own(1));
  }

  enum Mode { satisfied, calling, warming, satisfied_setback, calling_setback, warming_setback };
  static constexpr std::array<std::string_view, 6> modes{"satisfied",           "calling",           "calling for the floor",
                                                         "satisfied in setback", "calling in setback", "calling for the floor in setback"};
  static constexpr std::array<Traits, 6> traits{trait::none,     trait::calls,                   trait::calls,
                                                trait::set_back, trait::calls | trait::set_back, trait::calls | trait::set_back};
  static auto transitions() {
    using T = Transition<ProportioningThermostat>;
    using K = ProportioningThermostat;
    auto constexpr t = measure::fine_temperature;
    auto constexpr starts = "call starts: room {value}, setpoint {limit}", ends = "call ends: room {value}",
                   hot = "call ends: floor reached {value}, limit {limit}", cold = "call starts: floor fell to {value}, minimum {limit}",
                   warm = "call ends: floor reached {value}";
    std::array<T, 24> list{};
    int n = 0;
    for (int const b : {satisfied, satisfied_setback}) {
      int const rest = b, call = b + calling, floor = b + warming, other = satisfied_setback - b;
      auto const turn = b == satisfied ? &K::evening : &K::morning;
      auto const cause = b == satisfied ? Cause::setback_began : Cause::setback_ended;
      list[n++] = {rest, call, &K::due_to_call, Cause::on_temperature, starts, t, &K::sample};
      list[n++] = {rest, rest, &K::nothing_due, Cause::clock, "", measure::plain, &K::skip, false};
      list[n++] = {rest, floor, &K::floor_cold, Cause::on_temperature, cold, t};
      list[n++] = {call, rest, &K::call_over, Cause::off_temperature, ends, t};
      list[n++] = {call, call, &K::goes_on, Cause::clock, "", measure::plain, &K::sample, false};
      list[n++] = {call, rest, &K::floor_hot, Cause::high_limit, hot, t, &K::skip};
      list[n++] = {call, rest, &K::refused, Cause::warm_weather_shutdown, blocked, measure::plain, &K::skip};
      list[n++] = {floor, rest, &K::floor_warm, Cause::off_temperature, warm, t, &K::skip};
      list[n++] = {floor, rest, &K::refused, Cause::warm_weather_shutdown, blocked, measure::plain, &K::skip};
      for (int const from : {rest, call, floor})
        list[n++] = {from, other, turn, cause, b == satisfied ? setback_starts : setback_ends, t, &K::begin_anew};
    }
    return list;
  }
  double wanted(Site const& s) const { return s.mode() >= satisfied_setback ? *setback : *setting; }
  double share_now(Site const& s) const { return share(s[s.own()], s[s.own(1)], wanted(s)); }
  double of_period(Site const& s) const { return s[s.own(2)]; }  // called, or to be called
  double period() const { return 1 / *cycles; }
  double floor_now(Site const& s) const { return s[s.of(floor, StateRole::floor)]; }
  bool has_limit(Temperature limit) const { return floor && !std::isnan(*limit); }
  /// At the end of a time it holds or it does not; until then it is due.
  Reading then(Site const& s, double wait, bool holds) const {
    double const due = s.since() + wait;
    auto r = s.time() < due ? Reading::at(s, due, sensed(s)) : holds ? Reading::fact(true) : Reading::never();
    return r.value = sensed(s), r.limit = wanted(s), r;
  }
  bool calls_next(Site const& s) const {
    return permitted(s) && share_now(s) * period() >= *least_call && !(has_limit(floor_most) && floor_now(s) > *floor_most - edge);
  }
  Reading due_to_call(Site const& s) const { return then(s, (1 - of_period(s)) * period(), calls_next(s)); }
  Reading nothing_due(Site const& s) const { return then(s, (1 - of_period(s)) * period(), !calls_next(s)); }
  bool rests(Site const& s) const { return (1 - of_period(s)) * period() >= *least_call; }
  Reading call_over(Site const& s) const { return rests(s) ? then(s, of_period(s) * period(), true) : Reading::never(); }
  Reading goes_on(Site const& s) const { return rests(s) ? Reading::never() : then(s, period(), true); }
  Reading floor_hot(Site const& s) const { return has_limit(floor_most) ? Reading::above(floor_now(s), *floor_most) : Reading::never(); }
  Reading floor_cold(Site const& s) const {
    return has_limit(floor_least) && permitted(s) ? Reading::below(floor_now(s), *floor_least) : Reading::never();
  }
  Reading floor_warm(Site const& s) const {
    return has_limit(floor_least) ? Reading::above(floor_now(s), *floor_least + edge) : Reading::fact(true);
  }
  void sample(Site const& s, std::span<double> own) const { own[2] = share_now(s); }
  void skip(Site const&, std::span<double> own) const { own[2] = 0; }
  void begin_anew(Site const&, std::span<double> own) const { own[2] = 1; }
};

}  // namespace steadyfire
