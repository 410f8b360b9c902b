#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Charges a buffer tank: calls while the tank's thermometer is below what the zones want.
///
///   calls below wanted − call_below, rests above wanted − rest_below
///
/// Shape   no branch; modes resting and charging, the odd one calls.
/// Valid   rests while none of `permits` permits, as in warm weather.
/// Source  common practice, no source.
struct TankControl {
  Reference tank, target;
  std::vector<Reference> permits;
  TemperatureChange call_below, rest_below;

  static constexpr std::string_view kind = "tank control", family = "tank control", summary = "Charges a buffer tank by its own sensor";
  static constexpr Role role = Role::relay;
  static constexpr Caller caller = Caller::tank;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        reference<&TankControl::tank>("tank", "tank", "tank with the sensor").optional("the buffer tank").as(FieldRole::charged_tank),
        reference<&TankControl::target>("target_from", "control", "control that sets the target").optional("the zone relay"),
        reference<&TankControl::permits>("permits", "control", "controls that permit charging").optional("the zones' reset curves"),
        field<&TankControl::call_below>("call_below", degF_change, 1, 80, "calls when the tank is this far below target")
            .otherwise(12),
        field<&TankControl::rest_below>("rest_below", degF_change, 0, 60, "call ends when the tank is within this of target").otherwise(2)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &call = value_of<&TankControl::call_below>(e), &rest = value_of<&TankControl::rest_below>(e);
    if (!call.numbers.empty() && !rest.numbers.empty() && rest.numbers[0] >= call.numbers[0])
      faults.add({"E256", rest.given ? rest.at : call.at, e.who + ": rest_below is not below call_below",
                  "rest_below less than call_below", "lower rest_below", call.given ? call.at : Position{}});
  }

  enum Mode { resting, charging };
  static constexpr std::array<std::string_view, 2> modes{"resting", "charging"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<TankControl>;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{resting, charging, &TankControl::cool, Cause::on_temperature, "tank charging: {value}, {beyond} below target", t},
                      T{charging, resting, &TankControl::warm, Cause::off_temperature, "tank charged: {value}", t},
                      T{charging, resting, &TankControl::refused, Cause::warm_weather_shutdown,
                        "tank charging blocked: warm-weather shutdown"}};
  }
  bool permitted(Site const& s) const {
    return permits.empty() || std::any_of(permits.begin(), permits.end(), [&](Reference r) { return s.calls(r); });
  }
  Reading cool(Site const& s) const {
    if (!permitted(s)) return Reading::never();
    double const goal = s[s.of(target, StateRole::wanted)];
    auto r = Reading::below(s[s.of(tank)], goal - *call_below);
    return r.limit = goal, r;
  }
  Reading warm(Site const& s) const { return Reading::above(s[s.of(tank)], s[s.of(target, StateRole::wanted)] - *rest_below); }
  Reading refused(Site const& s) const { return Reading::fact(!permitted(s)); }
};

}  // namespace steadyfire
