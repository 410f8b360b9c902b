#pragma once
#include "models/valve.hpp"

namespace steadyfire {

/// Strainer: a screen whose openings fill up.
///
///   Δp = SG·(Q/((1 − clogged)·Kv))²     free openings side by side: Kv goes with the free area
///
/// Shape   one branch without cells.
/// Valid   the body's own loss, which does not clog, is counted as the screen's: at most that much too high.
struct Strainer {
  double cv, kv;
  Fraction clogged;

  static constexpr std::string_view kind = "strainer", family = "strainer", summary = "Strainer, clean or clogged";
  static constexpr Role role = Role::other;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&Strainer::cv>("cv", 1e-3, 1e5, "flow coefficient Cv when clean").typical(10, 18, 30).unless("kv"),
            number<&Strainer::kv>("kv", 1e-3, 1e5, "flow coefficient Kv when clean").optional(),
            field<&Strainer::clogged>("clogged", unit::percent, 0, 99, "share of the openings that is blocked").otherwise(0)};
  }
  static void check(Entry const& e, Diagnostics& faults) { Valve::check_cv<Strainer>(e, faults, true); }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return kv_loss(flow, (1 - *clogged) * kv_from(cv, kv), s.local()); }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double const weight = s.fluid().density * 9.80665, head = std::abs(loss(0, s.flow(), s)) / weight,
                 clean = head * (1 - *clogged) * (1 - *clogged), limit = 0.3048;
    if (head - clean < limit) return;
    list.push_back({.id = "strainer.clogged",
                    .place = "",
                    .severity = Severity::minor,
                    .figures = {{"head", head, measure::head}, {"clean_head", clean, measure::head}, {"clogged", *clogged, measure::share}},
                    .limit = Figure{"more_than_clean", limit, measure::head},
                    .whose = common_practice,
                    .words = say("head loss {}, clean {}; limit {} more than clean ({}).", Amount{head, measure::head},
                                 Amount{clean, measure::head}, Amount{limit, measure::head}, common_practice),
                    .order = 30 + std::min(20.0, head - clean),
                    .fix = "clean the strainer before you change anything else."});
  }
};

}  // namespace steadyfire
