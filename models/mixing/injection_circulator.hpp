#pragma once
#include "models/mixing/steering.hpp"

namespace steadyfire {

/// Injection by a circulator of variable speed: hot water is pumped into the zone's loop through closely spaced tees,
/// and as much leaves it towards the return header.
///
///   rise = ρ·g·(s²·H₀ − H₀·(Q/Q₀)²)       Q₀: flow at full speed, set by the balancing valve in its riser
///   s' = sat(beyond/full-speed error)/travel time     beyond = (wanted − T_mixed) outside ±neutral zone
///   power = ρ·g·Q·rise/efficiency, with least 5 % of that at a quarter of Q₀·H₀
///
/// Shape   one branch, hot to mixed; own states: speed s, what is asked of the boiler (wanted + margin), thermometer
///         in the mixed water.
/// Valid   a quadratic for circulator and riser together; a spring check shuts the riser at rest, ghost flow left out.
///         Flows are solved anew whenever the speed has moved by 1 %.
/// Source  affinity laws; the rest common practice, no source.
struct InjectionCirculator {
  Length shutoff_head;
  VolumeFlow greatest_flow;
  Fraction efficiency;
  Temperature setting;
  Reference reset, call;
  Time travel_time, sensor_lag;
  TemperatureChange neutral_zone, band, margin;

  static constexpr std::string_view kind = "injection circulator", family = "mixing",
                                    summary = "Variable-speed injection circulator of a zone";
  static constexpr Role role = Role::circulator;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"hot", "mixed"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using C = InjectionCirculator;
    std::vector<Field> all{
        field<&C::shutoff_head>("shutoff_head", foot, 0.5, 100, "head at zero flow and full speed").typical(6, 12, 20),
        field<&C::greatest_flow>("greatest_flow", gpm, 0.02, 500, "injection flow at full speed, set by its balancing valve")
            .otherwise(2),
        field<&C::efficiency>("efficiency", percent, 1, 80, "wire-to-water efficiency").typical(5, 15, 30)};
    for (auto& f : motor_fields<C>()) all.push_back(std::move(f));
    return all;
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const weight = s.fluid().density * 9.80665 * *shutoff_head, speed = std::clamp(s[s.own()], 0.0, 1.0);
    Flow const q = flow / s.local().density / *greatest_flow;
    return weight * (q * abs(q) - speed * speed);
  }
  Way way(int, Site const& s) const { return s.mode() == mixing_works ? Way::forward : Way::shut; }

  std::vector<OwnState> states() const { return Motor<InjectionCirculator>::states("speed"); }
  void begin(Site const& s, std::span<double> own) const { Motor<InjectionCirculator>{*this}.begin(s, own); }
  double power(Site const& s) const {
    if (s.mode() != mixing_works) return 0;
    double const weight = s.fluid().density * 9.80665, Q = std::max(0.0, s.flow() / s.local().density);
    double const rise = weight * *shutoff_head * std::max(0.0, s[s.own()] * s[s.own()] - Q * Q / (*greatest_flow * *greatest_flow));
    return std::max(0.05 * weight * *shutoff_head * *greatest_flow / 4, Q * rise) / *efficiency;
  }
  void links(Links& book, Site const& s) const {
    Motor<InjectionCirculator>{*this}.links(book, s);
    book.give(account::electricity, account::motor, power(s));
  }
  void laws(auto& book, Site const& s) const { Motor<InjectionCirculator>{*this}.laws(book, s, given::unity, 0); }

  static constexpr auto modes = mixing_modes;
  static auto transitions() { return mixing_transitions<InjectionCirculator>(); }
  Reading wanted(Site const& s) const { return Reading::fact(!call || s.calls(call)); }
  Reading unwanted(Site const& s) const { return Reading::fact(call && !s.calls(call)); }
  void findings(Site const& s, std::vector<Finding>& list) const {
    find_starved(s, s[s.own(2)], Motor<InjectionCirculator>{*this}.wanted(s), s[s.inlet()], list);
  }
};

}  // namespace steadyfire
