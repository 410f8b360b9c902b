#pragma once
#include "models/valve.hpp"

namespace steadyfire {

/// Three-way diverting valve: from its inlet to one of two ways, never to both.
///
/// Shape   two branches that share their inlet. A motor turns it to the called way while `call`
///         calls; a spring turns it back. Mode "turned" calls, as an end switch does.
/// Valid   water keeps to the old way until the motor has arrived; the moments when both ways are
///         part open are left out (seconds). The spring takes no time.
struct DivertingValve {
  double cv, kv;
  Time turning_time;
  Reference call;
  bool turned_by_hand;

  static constexpr std::string_view kind = "diverting valve", family = "diverting valve",
                                    summary = "Three-way diverting valve: inlet to one of two outlets";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"inlet", "called_way"}, Branch{"inlet", "other_way"}};
  static std::vector<Field> schema() {
    return {number<&DivertingValve::cv>("cv", 1e-3, 1e5, "flow coefficient Cv of either outlet").typical(3, 7, 14).unless("kv"),
            number<&DivertingValve::kv>("kv", 1e-3, 1e5, "flow coefficient Kv of either outlet").optional(),
            field<&DivertingValve::turning_time>("turning_time", unit::second, 0, 600, "running time of its motor").typical(5, 15, 60),
            reference<&DivertingValve::call>("call", "control", "control that turns it to the called outlet").optional(),
            flag<&DivertingValve::turned_by_hand>("turned", "position without a call: the called outlet").otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    Valve::check_cv<DivertingValve>(e, faults, true);
    auto const &turned = value_of<&DivertingValve::turned_by_hand>(e), &call = value_of<&DivertingValve::call>(e);
    if (turned.given && call.given)
      faults.add({"E222", turned.at, e.who + " has both 'call' and 'turned'", "one of them", "remove one of them", call.at});
  }
  template <class Flow>
  Flow loss(int b, Flow flow, Site const& s) const { return kv_loss(flow, kv_from(cv, kv), s.local(b)); }
  Way way(int b, Site const& s) const { return (s.mode() == turned) == (b == 0) ? Way::open : Way::shut; }

  enum Mode { at_rest, turned, turning };
  static constexpr std::array<std::string_view, 3> modes{"at rest", "turned", "turning"};
  static constexpr std::array<Traits, 3> traits{trait::none, trait::calls, trait::none};
  static auto transitions() {
    using T = Transition<DivertingValve>;
    auto constexpr ended = "diverting valve back to heating: call ended";
    return std::array{
        T{at_rest, turning, &DivertingValve::wanted, Cause::call, "diverting valve turning to hot water: called"},
        T{turning, turned, &DivertingValve::moved, Cause::timer, "diverting valve turned to hot water ({value})", measure::seconds},
        T{turning, at_rest, &DivertingValve::unwanted, Cause::call_ended, ended},
        T{turned, at_rest, &DivertingValve::unwanted, Cause::call_ended, ended}};
  }
  bool called(Site const& s) const { return call ? s.calls(call) : turned_by_hand; }
  Reading wanted(Site const& s) const { return Reading::fact(called(s)); }
  Reading unwanted(Site const& s) const { return Reading::fact(!called(s)); }
  Reading moved(Site const& s) const { return Reading::after(s, *turning_time); }
};

}  // namespace steadyfire
