#pragma once
#include "models/valve.hpp"

namespace steadyfire {

/// Three-way valve with three places: to one way, to the other, or part open to both while both call.
///
///   in the middle  Kv of the hot water way = split·Kv, of the heating way = (1 − split)·Kv
///
/// Shape   two branches that share their inlet. The motor takes its turning time from any place to any other.
/// Valid   while it turns it lets water through to both ways, as in the middle.
struct ProportioningValve {
  double cv, kv;
  Fraction split;
  Time turning_time;
  Reference call, heating;

  static constexpr std::string_view kind = "proportioning valve", family = "proportioning valve",
                                    summary = "Proportioning valve: serves heating and hot water together";
  static constexpr Role role = Role::valve;
  static constexpr std::array branches{Branch{"inlet", "called_way"}, Branch{"inlet", "heating_way"}};
  static std::vector<Field> schema() {
    using V = ProportioningValve;
    return {number<&V::cv>("cv", 1e-3, 1e5, "flow coefficient Cv of one port fully open").typical(3, 7, 14).unless("kv"),
            number<&V::kv>("kv", 1e-3, 1e5, "flow coefficient Kv of one port fully open").optional(),
            field<&V::split>("split", unit::percent, 5, 95, "opening of the hot water port while both call").typical(30, 60, 80),
            field<&V::turning_time>("turning_time", unit::second, 0, 600, "running time of its motor").typical(3, 6, 15),
            reference<&V::call>("call", "hot water control", "hot water control that turns it").optional(),
            reference<&V::heating>("heating", "control", "control that calls for heating").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) { Valve::check_cv<ProportioningValve>(e, faults, true); }

  template <class Flow>
  Flow loss(int b, Flow flow, Site const& s) const {
    double const all = kv_from(cv, kv), part = b == 0 ? *split : 1 - *split;
    return kv_loss(flow, s.mode() == to_both || s.mode() == turning ? part * all : all, s.local(b));
  }
  Way way(int b, Site const& s) const {
    if (s.mode() == to_both || s.mode() == turning) return Way::open;
    return (s.mode() == to_hot_water) == (b == 0) ? Way::open : Way::shut;
  }

  enum Mode { to_heating, to_hot_water, to_both, turning };
  static constexpr std::array<std::string_view, 4> modes{"to heating", "to hot water", "to both", "turning"};
  static auto transitions() {
    using T = Transition<ProportioningValve>;
    using V = ProportioningValve;
    auto constexpr called = "proportioning valve turning: calls have changed";
    auto constexpr t = measure::seconds;
    return std::array{T{to_heating, turning, &V::not_heating, Cause::call, called},
                      T{to_hot_water, turning, &V::not_hot_water, Cause::call, called},
                      T{to_both, turning, &V::not_both, Cause::call, called},
                      T{turning, to_heating, &V::at_heating, Cause::timer, "proportioning valve turned to heating ({value})", t},
                      T{turning, to_hot_water, &V::at_hot_water, Cause::timer, "proportioning valve turned to hot water ({value})", t},
                      T{turning, to_both, &V::at_both, Cause::timer, "proportioning valve turned to both ({value})", t}};
  }
  Mode wanted(Site const& s) const {
    bool const hot = call && s.calls(call), warm = heating && s.calls(heating);
    return hot && warm ? to_both : hot ? to_hot_water : to_heating;
  }
  Reading not_heating(Site const& s) const { return Reading::fact(wanted(s) != to_heating); }
  Reading not_hot_water(Site const& s) const { return Reading::fact(wanted(s) != to_hot_water); }
  Reading not_both(Site const& s) const { return Reading::fact(wanted(s) != to_both); }
  Reading arrived(Site const& s, Mode at) const { return wanted(s) == at ? Reading::after(s, *turning_time) : Reading::never(); }
  Reading at_heating(Site const& s) const { return arrived(s, to_heating); }
  Reading at_hot_water(Site const& s) const { return arrived(s, to_hot_water); }
  Reading at_both(Site const& s) const { return arrived(s, to_both); }
};

}  // namespace steadyfire
