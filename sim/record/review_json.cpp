#include "sim/record/review_json.hpp"

#include "sim/record/json_parts.hpp"

namespace steadyfire {
namespace {

Json figure(Figure const& f) { return {{json_key(f.name, f.measure), json_value(f.value, f.measure)}}; }

Json judgement(Judgement const& j, UnitSystem system) {
  return {{"id", j.id},
          {"place", j.place},
          {"subject", j.subject.in(system)},
          {"figure", figure(j.actual)},
          {j.sense == Judgement::at_most ? "at_most" : "at_least", figure(j.limit)},
          {"whose", j.whose.in(system)}};
}

/// A column's unit stands in its numbers: {"K": 12.5}; words stand as they are.
Json cell(ReviewCell const& c, UnitSystem system) {
  if (!c.is_number) return c.words.in(system);
  auto const unit = json_unit(c.measure);
  if (unit.empty()) return json_value(c.value, c.measure);
  return {{unit, json_value(c.value, c.measure)}};
}

Json table(ReviewTable const& t, UnitSystem system) {
  Json rows = Json::array();
  for (auto const& r : t.rows) {
    Json cells = Json::array();
    for (auto const& c : r) cells.push_back(cell(c, system));
    rows.push_back(std::move(cells));
  }
  return {{"id", t.id}, {"title", t.title}, {"columns", t.columns}, {"rows", std::move(rows)}};
}

Json part(ReviewPart const& p, UnitSystem system) {
  Json in_order = Json::array(), tables = Json::array();
  for (auto const& j : p.in_order) in_order.push_back(judgement(j, system));
  for (auto const& t : p.tables) tables.push_back(table(t, system));
  return {{"id", p.id},
          {"title", p.title},
          {"sentences", told(p.sentences, system)},
          {"findings", findings_to_json(p.findings, system)},
          {"in_order", std::move(in_order)},
          {"tables", std::move(tables)},
          {"missing", told(p.missing, system)},
          {"not_covered", told(p.not_covered, system)},
          {"reminders", told(p.reminders, system)},
          {"cautions", told(p.cautions, system)}};
}

}  // namespace

Json review_to_json(ReviewRecord const& r, UnitSystem system) {
  Json parts = Json::array();
  for (auto const& p : r.parts) parts.push_back(part(p, system));
  return {{"format", 1},
          {"title", r.title},
          {"program_version", r.program_version},
          {"parts", std::move(parts)},
          {"assumptions", assumptions_to_json(r.assumptions)},
          {"cautions", told(r.cautions, system)}};
}

}  // namespace steadyfire
