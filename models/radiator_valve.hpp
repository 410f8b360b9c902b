#pragma once
#include "models/fittings.hpp"
#include "models/mixing/steering.hpp"

namespace steadyfire {

/// Thermostatic radiator valve: the air of the room moves its pin.
///
///   lift at rest  l = (setting + band − T_air)/band within 0 to 1, within hysteresis ±½
///   l' = sat(beyond/band)/lag       beyond = (setting + band − l·band − T_air) outside ±½ hysteresis
///   Kv = Kv at nominal lift · l, at least 0.1 % of it
///
/// Shape   one branch; own state: lift l, 1 at the setting and 0 a band above it.
/// Valid   the lift beyond the nominal one, to which a cold room would open it, is left out.
/// Source  EN 215 (from memory): nominal flow 2 K below the point where it shuts, hysteresis at most 1 K, response
///         within 40 min; the values are common practice, no source.
struct RadiatorValve {
  double cv;
  Temperature setting;
  TemperatureChange band, hysteresis;
  Time lag;
  Reference room;

  static constexpr std::string_view kind = "radiator valve", family = "radiator valve", summary = "Thermostatic radiator valve";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using V = RadiatorValve;
    return {number<&V::cv>("cv", 1e-3, 100, "flow coefficient Cv at nominal lift").typical(0.3, 0.7, 1.5),
            field<&V::setting>("setting", degF, 40, 90, "room temperature at nominal lift").otherwise(70),
            field<&V::band>("band", degF_change, 0.5, 15, "room temperature above the setting that closes it").typical(1.8, 3.6, 5.4),
            field<&V::hysteresis>("hysteresis", degF_change, 0.1, 5, "hysteresis between opening and closing").typical(0.4, 0.7, 1.8),
            field<&V::lag>("lag", minute, 0.5, 120, "time lag of the sensing element").typical(10, 20, 35),
            reference<&V::room>("room", "room", "room that it senses").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    if (!e.ports.empty() && !value_of<&RadiatorValve::room>(e).given)
      faults.add({"E205", e.at, e.who + ": 'room' is missing", "the name of a room", "state the room that it senses", {}, {},
                  "room"});
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    return cv_to_loss(flow, cv * std::clamp(s[s.own()], 1e-3, 1.0), s.local());
  }
  std::vector<OwnState> states() const { return {{"lift", 0, 1, 0.02, 2 * moves_flow_by}}; }
  void laws(auto& book, Site const& s) const {
    Steering const head{*hysteresis / 2, *band, *lag};
    book.rate(s.own(), [&](auto lift, auto air) { return head.rate(*setting + *band - *band * lift - air, lift); }, s.own(),
              room ? s.of(room) : given::unheated);
  }
};

}  // namespace steadyfire
