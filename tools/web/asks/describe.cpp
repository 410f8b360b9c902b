// What may stand in a scenario, for forms: from the catalog's own descriptions.

#include <fmt/format.h>

#include "models/catalog.hpp"
#include "models/counter/answers.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/table_reader.hpp"
#include "tools/job/house_run.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/request.hpp"

namespace steadyfire::web {
namespace {

char const* word_for(Field::Sort sort) {
  static constexpr char const* words[]{"quantity", "number", "count", "choice", "flag",      "text",      "clock",
                                       "clocks",   "list",   "curve", "reference", "references", "entry"};
  return words[int(sort)];
}

Json units_for(Field const& f) {
  Json all = Json::array();
  auto const usual = usual_units(f.unit.dimension);
  for (std::size_t from = 0; !f.unit.symbol.empty() && from < usual.size();) {
    auto const to = std::min(usual.find(", ", from), usual.size());
    all.push_back(usual.substr(from, to - from));
    from = to + 2;
  }
  if (!f.unit.symbol.empty() && std::find(all.begin(), all.end(), f.unit.symbol) == all.end()) all.insert(all.begin(), f.unit.symbol);
  return all;
}

Json described(Field const& f) {
  bool const has_range = f.most > f.least && f.choices.empty() && f.sort != Field::Sort::clock && f.sort != Field::Sort::clocks;
  Value standard;
  if (!std::isnan(f.standard)) standard.numbers = {f.unit.to_si(f.standard)};
  Json one{
      {"key", f.key},
      {"sort", word_for(f.sort)},
      {"help", f.help},
      {"unit", f.unit.symbol},
      {"units", units_for(f)},
      {"range", has_range ? range_text(f, f.unit) : ""},
      {"standard", words_of(f, standard, UnitSystem::us)},
      {"absent", f.absent},
      {"usual", f.has_typical() ? fmt::format("{:.6g} to {} ({})", f.low, words_of(f.unit, f.unit.to_si(f.high)), f.typical_source) : ""},
      {"may_be_unknown", f.may_be_unknown()},
      {"required", f.is_required()},
      {"choices", f.choices},
      {"family", f.refers_to}};
  if (has_range) one["least"] = f.least, one["most"] = f.most;
  return one;
}

Json described(Catalog catalog) {
  Json kinds = Json::array();
  for (auto const& k : catalog) {
    Json fields = Json::array();
    for (auto const& f : k.fields) fields.push_back(described(f));
    static constexpr char const* homes[]{"nested", "single", "repeated"};
    kinds.push_back({{"name", k.name},
                     {"table", k.name == "scenario" ? "" : table_key(k)},
                     {"family", k.family},
                     {"summary", k.summary},
                     {"home", homes[int(k.home)]},
                     {"ports", k.branches.empty() ? std::vector<std::string>{} : port_keys(k)},
                     {"fields", std::move(fields)}});
  }
  return kinds;
}

}  // namespace

Json describe(Json const&, Listener const&) {
  Json asked = Json::array();
  for (auto const& q : questions) asked.push_back({{"words", q.words}, {"table", table_key(*find_kind(answers_catalog(), q.table))}});
  return {{"version", STEADYFIRE_VERSION},
          {"caution", caution},
          {"kinds", described(catalog())},
          {"questions", asked},
          {"answers", described(answers_catalog())}};
}

}  // namespace steadyfire::web
