#pragma once
#include "models/valve.hpp"

namespace steadyfire {

/// Differential-pressure bypass: begins to open where the head across it reaches the
/// setting and is fully open a band above it.
///
///   lift = clamp((Δp − setting)/band, 0, 1)      Q = lift·Kv·√(Δp/SG)
///   partly open, y = √Δp:  y³ − setting·y − band·√C·ṁ = 0,  C = Δp/ṁ² of the open valve
///
/// Shape   one branch without cells; a check: nothing runs backwards. Value is continuous, its
///         slope bends where it is fully open.
/// Valid   at rest; a spring's hysteresis is left out.
/// Source  the law of lift is ours, common practice, no source; Kv as models/fittings.hpp.
struct BypassValve {
  Length setting, band;
  double cv, kv;

  static constexpr std::string_view kind = "bypass valve", family = "bypass", summary = "Differential pressure bypass valve";
  static constexpr Role role = Role::valve;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&BypassValve::setting>("setting", foot, 0.5, 100, "head that starts to open it").typical(3, 6, 12),
            field<&BypassValve::band>("band", foot, 0.1, 50, "fully open this far above the setting").typical(1, 2, 4),
            number<&BypassValve::cv>("cv", 1e-3, 1e5, "flow coefficient Cv fully open").typical(2, 5, 10).unless("kv"),
            number<&BypassValve::kv>("kv", 1e-3, 1e5, "flow coefficient Kv fully open").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) { Valve::check_cv<BypassValve>(e, faults, true); }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const weight = s.fluid().density * 9.80665;
    return detail::follow(at(value_of(flow), weight * *setting, weight * *band, kv_loss(1.0, kv_from(cv, kv), s.local())), flow);
  }
  Way way(int, Site const&) const { return Way::forward; }

  /// Loss [Pa] and slope by mass flow; `start` and `width` in Pa, `C` in Pa·s²/kg². Below no flow its tangent.
  static WithSlope at(double m, double start, double width, double C) {
    if (m <= 0) {
      double const slope = width * std::sqrt(C / start);
      return {start + slope * m, slope};
    }
    if (m >= std::sqrt((start + width) / C)) return {C * m * m, 2 * C * m};
    double const c = width * std::sqrt(C) * m;
    double y = std::sqrt(start + width);  // above the root the cubic is convex: Newton comes down to it and never passes it
    for (int i = 0; i < 50; ++i) {
      double const step = (y * (y * y - start) - c) / (3 * y * y - start);
      y -= step;
      if (step < 1e-14 * y) break;
    }
    return {y * y, 2 * y * width * std::sqrt(C) / (3 * y * y - start)};
  }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double const Q = s.flow() / s.local().density;
    if (Q < 3e-6) return;  // 0.05 gpm
    double const head = loss(0, s.flow(), s) / (s.fluid().density * 9.80665);
    list.push_back({.id = "bypass.passes",
                    .place = "",
                    .severity = Severity::note,
                    .figures = {{"head", head, measure::head}, {"flow", Q, measure::flow}},
                    .limit = Figure{"setting", *setting, measure::head},
                    .whose = "its setting",
                    .words = say("bypass is open: {} at {} head (set {}). That supply water returns without heating a zone.",
                                 Amount{Q, measure::flow}, Amount{head, measure::head}, Amount{*setting, measure::head}),
                    .order = 7 + Q / (Q + 1e-3),
                    .fix = "raise the setting or slow the circulator."});
  }
};

}  // namespace steadyfire
