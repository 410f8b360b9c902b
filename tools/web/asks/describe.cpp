// What may stand in a scenario, for forms: from the catalog's own descriptions.

#include <fmt/format.h>

#include "tools/job/catalog.hpp"
#include "tools/counter/answers.hpp"
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

/// Spellings of the reader's system that fit, the one of the form first.
Json units_for(Field const& f, AnyUnit const& shown, UnitSystem units) {
  if (f.unit.symbol.empty()) return Json::array();
  Json all{shown.symbol};
  for (auto const& symbol : usual_units(f.unit.dimension, units))
    if (symbol != shown.symbol) all.push_back(symbol);
  return all;
}

/// "45 to 60 °F (common practice, no published source)".
std::string usual_words(Field const& f, AnyUnit const& shown) {
  auto const in_shown = [&](double declared) { return shown.from_si(f.unit.to_si(declared)); };
  auto const unit = printed_unit(shown);
  return fmt::format("{:.4g} to {:.4g}{}{} ({})", in_shown(f.low), in_shown(f.high), unit.empty() || unit == "%" ? "" : " ", unit,
                     f.typical_source);
}

Json described(Field const& f, UnitSystem units) {
  auto const shown = unit_for(f, units);
  auto const in_shown = [&](double declared) { return shown.from_si(f.unit.to_si(declared)); };
  bool const has_range = f.most > f.least && f.choices.empty() && f.sort != Field::Sort::clock && f.sort != Field::Sort::clocks;
  Value standard;
  if (!std::isnan(f.standard)) standard.numbers = {f.unit.to_si(f.standard)};
  Json one{{"key", f.key},
           {"sort", word_for(f.sort)},
           {"help", f.help.in(units)},
           {"unit", shown.symbol},
           {"units", units_for(f, shown, units)},
           {"range", has_range ? range_text(f, shown) : ""},
           {"standard", words_of(f, standard, units)},
           {"absent", f.absent.in(units)},
           {"usual", f.has_typical() ? usual_words(f, shown) : ""},
           {"may_be_unknown", f.may_be_unknown()},
           {"required", f.is_required()},
           {"choices", f.choices},
           {"family", f.refers_to}};
  if (has_range) one["least"] = in_shown(f.least), one["most"] = in_shown(f.most);
  return one;
}

Json described(Catalog catalog, UnitSystem units) {
  Json kinds = Json::array();
  for (auto const& k : catalog) {
    Json fields = Json::array();
    for (auto const& f : k.fields) fields.push_back(described(f, units));
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

Json describe(Json const& request, Listener const&) {
  auto const units = request.contains("units") ? units_of(request) : UnitSystem::us;
  Json asked = Json::array();
  for (auto const& q : questions) asked.push_back({{"words", q.words}, {"table", table_key(*find_kind(answers_catalog(), q.table))}});
  return {{"version", STEADYFIRE_VERSION},
          {"caution", caution},
          {"kinds", described(catalog(), units)},
          {"questions", asked},
          {"answers", described(answers_catalog(), units)}};
}

}  // namespace steadyfire::web
