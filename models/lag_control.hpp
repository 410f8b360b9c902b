#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Calls a second boiler when the first has fired hard for a while, and lets it go when
/// the first has had little to do for a while.
///
/// Shape   no branch; modes alone, waiting, both, letting go; which of them call stands in `traits`.
/// Valid   the first boiler's fire is its second own state; one that does not burn fires nothing.
/// Source  common practice, no source.
struct LagControl {
  Reference lead, call;
  Fraction call_above, release_below;
  Time call_after, release_after;

  static constexpr std::string_view kind = "lag control", family = "lag control", summary = "Stages the second boiler";
  static constexpr Role role = Role::relay;
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        reference<&LagControl::lead>("lead", "boiler", "boiler that fires first").optional(),
        reference<&LagControl::call>("call", "control", "call for heat of the whole house").optional(),
        field<&LagControl::call_above>("call_above", percent, 10, 100, "firing rate of the first boiler that starts the second")
            .otherwise(90),
        field<&LagControl::call_after>("call_after", minute, 0, 120, "time above that firing rate").otherwise(10),
        field<&LagControl::release_below>("release_below", percent, 1, 95, "firing rate of the first boiler that stops the second")
            .otherwise(40),
        field<&LagControl::release_after>("release_after", minute, 0, 120, "time below that firing rate").otherwise(5)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &above = value_of<&LagControl::call_above>(e), &below = value_of<&LagControl::release_below>(e);
    if (!above.numbers.empty() && !below.numbers.empty() && below.numbers[0] >= above.numbers[0])
      faults.add({"E247", below.given ? below.at : above.at, e.who + ": release_below is not below call_above",
                  "release_below less than call_above", "lower release_below", above.given ? above.at : Position{}});
  }

  enum Mode { alone, both, waiting, letting_go };
  static constexpr std::array<std::string_view, 4> modes{"first alone", "both", "waiting to call", "letting go"};
  static constexpr std::array<Traits, 4> traits{trait::none, trait::calls, trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<LagControl>;
    using L = LagControl;
    auto constexpr ended = "second boiler off: no call left";
    return std::array{T{alone, waiting, &L::hard, Cause::lead_busy, "first boiler at {value}, above {limit}", measure::share},
                      T{waiting, alone, &L::eased, Cause::lead_idle, "first boiler back at {value}", measure::share},
                      T{waiting, both, &L::waited, Cause::lead_busy, "second boiler on: first busy for {value}", measure::minutes},
                      T{both, alone, &L::uncalled, Cause::call_ended, ended},
                      T{both, letting_go, &L::little, Cause::lead_idle, "first boiler at {value}, below {limit}", measure::share},
                      T{letting_go, alone, &L::uncalled, Cause::call_ended, ended},
                      T{letting_go, both, &L::busy, Cause::lead_busy, "first boiler back at {value}", measure::share},
                      T{letting_go, alone, &L::released, Cause::lead_idle, "second boiler off: first at low fire for {value}",
                        measure::minutes}};
  }
  static double constexpr hysteresis = 0.02;  // of fire, so that no two guards stand at one value
  double fire(Site const& s) const {
    return s.burns(lead) ? s[s.of(lead, StateRole::fire)] : 0;
  }
  bool called(Site const& s) const { return !call || s.calls(call); }
  Reading hard(Site const& s) const { return called(s) ? Reading::above(fire(s), *call_above) : Reading::never(); }
  Reading eased(Site const& s) const { return Reading::below(fire(s), *call_above - hysteresis); }
  Reading waited(Site const& s) const { return Reading::after(s, *call_after); }
  Reading little(Site const& s) const { return Reading::below(fire(s), *release_below); }
  Reading busy(Site const& s) const { return Reading::above(fire(s), *release_below + hysteresis); }
  Reading released(Site const& s) const { return Reading::after(s, *release_after); }
  Reading uncalled(Site const& s) const { return Reading::fact(!called(s)); }
};

}  // namespace steadyfire
