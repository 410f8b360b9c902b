#pragma once
#include "models/valve.hpp"

namespace steadyfire {

/// Pressure-independent flow limiter: holds its flow while the difference across it lies
/// between a least and a most.
///
///   below    Δp = least·(Q/Q₁)²         its spring is slack: a fixed opening
///   between  Δp rises from least to most while Q rises from Q₁ = 0.995 to Q₂ = 1.005 of the setting
///   above    Δp = most·(Q/Q₂)²          its spring is at its end: the smallest opening
///
/// Shape   one branch without cells; odd: backwards it behaves alike. Continuous, with a bend at Q₁ and Q₂.
/// Valid   holds within 0.5 % of the setting; those made hold within 5 to 10 %, common practice, no source.
struct FlowLimiter {
  VolumeFlow flow;
  Pressure least, most;
  bool may_pass_less;

  static constexpr double play = 0.005;
  static constexpr std::string_view kind = "flow limiter", family = "limiter", summary = "Pressure-independent flow limiter";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&FlowLimiter::flow>("flow", gpm, 0.05, 500, "flow setting").optional("in a zone its flow needed"),
            field<&FlowLimiter::least>("least_difference", psi, 0.1, 50, "minimum pressure difference to hold the flow").typical(1.5, 2, 4),
            field<&FlowLimiter::most>("most_difference", psi, 1, 200, "maximum pressure difference to hold the flow").typical(15, 32, 60),
            flag<&FlowLimiter::may_pass_less>("may_pass_less", "less flow than the setting is no fault").otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &least = value_of<&FlowLimiter::least>(e), &most = value_of<&FlowLimiter::most>(e);
    if (!least.numbers.empty() && !most.numbers.empty() && least.numbers[0] >= most.numbers[0]) {
      auto const &at = most.given ? most : least, &other = most.given ? least : most;
      faults.add({"E251", at.at,
                  e.who + ": least_difference, " +
                      show(least.numbers[0], measure::pressure, UnitSystem::us) + ", is not below most_difference, " +
                      show(most.numbers[0], measure::pressure, UnitSystem::us),
                  "least_difference below most_difference", "swap or correct them", other.at});
    }
    if (!e.ports.empty() && !value_of<&FlowLimiter::flow>(e).given)
      faults.add({"E205",
                  e.at,
                  e.who + ": 'flow' is missing",
                  "flow = \"2 gpm\"",
                  "state the flow; only in a zone it follows from the load",
                  {},
                  {},
                  "flow"});
  }

  template <class Flow>
  Flow loss(int, Flow m, Site const& s) const {
    double const set = *flow * s.local().density, low = (1 - play) * set, high = (1 + play) * set, size = std::abs(value_of(m));
    if (size <= low) return *least / (low * low) * m * abs(m);
    if (size >= high) return *most / (high * high) * m * abs(m);
    double const rise = (*most - *least) / (high - low), way = value_of(m) < 0 ? -1 : 1;
    return rise * (m - way * low) + way * *least;
  }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double const Q = std::abs(s.flow()) / s.local().density, difference = std::abs(loss(0, s.flow(), s));
    if (Q < 1e-6 || (difference >= *least && difference <= *most)) return;
    bool const short_of = difference < *least;
    if (short_of && may_pass_less) return;
    list.push_back({.id = short_of ? "limiter.below_range" : "limiter.above_range",
                    .place = "",
                    .severity = Severity::minor,
                    .figures = {{"difference", difference, measure::pressure},
                                {"flow", Q, measure::flow},
                                {"setting", *flow, measure::flow}},
                    .limit = short_of ? Figure{"least_difference", *least, measure::pressure}
                                      : Figure{"most_difference", *most, measure::pressure},
                    .whose = "its range",
                    .words = say("flow {}, set {}; pressure difference {}, {} {}.", Amount{Q, measure::flow}, Amount{*flow, measure::flow},
                                 Amount{difference, measure::pressure}, short_of ? "needs at least" : "holds up to",
                                 Amount{short_of ? *least : *most, measure::pressure}),
                    .order = 22,
                    .fix = short_of ? "use more circulator head, or another limiter." : "use less circulator head, or another limiter."});
  }
};

}  // namespace steadyfire
