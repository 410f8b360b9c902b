#include "sim/record/review_json.hpp"

#include "sim/record/json_parts.hpp"

namespace steadyfire {
namespace {

Json figure(Figure const& f) { return {{json_key(f.name, f.measure), json_value(f.value, f.measure)}}; }

Json judgement(Judgement const& j) {
  return {{"id", j.id},
          {"place", j.place},
          {"subject", j.subject},
          {"figure", figure(j.actual)},
          {j.sense == Judgement::at_most ? "at_most" : "at_least", figure(j.limit)},
          {"whose", j.whose}};
}

/// A column's unit stands in its numbers: {"K": 12.5}; words stand as they are.
Json cell(ReviewCell const& c) {
  if (!c.is_number) return c.words;
  auto const unit = json_unit(c.measure);
  if (unit.empty()) return json_value(c.value, c.measure);
  return {{unit, json_value(c.value, c.measure)}};
}

Json table(ReviewTable const& t) {
  Json rows = Json::array();
  for (auto const& r : t.rows) {
    Json cells = Json::array();
    for (auto const& c : r) cells.push_back(cell(c));
    rows.push_back(std::move(cells));
  }
  return {{"id", t.id}, {"title", t.title}, {"columns", t.columns}, {"rows", std::move(rows)}};
}

Json part(ReviewPart const& p) {
  Json in_order = Json::array(), tables = Json::array();
  for (auto const& j : p.in_order) in_order.push_back(judgement(j));
  for (auto const& t : p.tables) tables.push_back(table(t));
  return {{"id", p.id},
          {"title", p.title},
          {"sentences", p.sentences},
          {"findings", findings_to_json(p.findings)},
          {"in_order", std::move(in_order)},
          {"tables", std::move(tables)},
          {"missing", p.missing},
          {"not_covered", p.not_covered},
          {"reminders", p.reminders},
          {"cautions", p.cautions}};
}

}  // namespace

Json review_to_json(ReviewRecord const& r) {
  Json parts = Json::array();
  for (auto const& p : r.parts) parts.push_back(part(p));
  return {{"format", 1},
          {"title", r.title},
          {"program_version", r.program_version},
          {"parts", std::move(parts)},
          {"assumptions", assumptions_to_json(r.assumptions)},
          {"cautions", r.cautions}};
}

}  // namespace steadyfire
