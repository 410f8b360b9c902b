#include <fmt/format.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>

#include "sim/core/si_unit.hpp"
#include "sim/scenario/field_words.hpp"
#include "sim/scenario/reader.hpp"
#include "sim/scenario/table_reader.hpp"

namespace steadyfire {

namespace {
using Json = nlohmann::ordered_json;

/// A number of the field's declaration, as the reader writes it.
std::string written(Field const& f, double declared, UnitSystem system) {
  auto const unit = unit_for(f, system);
  return with_unit(number_in(unit, f, declared), unit);
}

std::string described(Field const& f, UnitSystem system) {
  auto words = f.help.in(system);
  if (f.most > f.least && f.choices.empty() && f.sort != Field::Sort::clock && f.sort != Field::Sort::clocks)
    words += "; " + range_text(f, unit_for(f, system));
  if (!f.absent.empty()) words += "; if not given: " + f.absent.in(system);
  if (f.has_typical())
    words += fmt::format("; usually {} to {} ({})", number_in(unit_for(f, system), f, f.low), written(f, f.high, system), f.typical_source);
  return words;
}

Json quantity(Field const& f, UnitSystem system) {
  if (f.unit.symbol.empty()) return {{"type", Json::array({"number", "string"})}};
  std::string const unknown = f.may_be_unknown() ? "|^unknown$" : "";
  double const example = std::isnan(f.standard) ? f.most : f.standard;
  return {{"type", "string"}, {"pattern", R"(^\s*[+-]?\$?\.?[0-9])" + unknown}, {"examples", Json::array({written(f, example, system)})}};
}

Json one_or_list(Json one) { return {{"anyOf", Json::array({one, {{"type", "array"}, {"items", one}}})}}; }

Json bounded(Json number, Field const& f) {
  number["minimum"] = f.least, number["maximum"] = f.most;
  if (!f.may_be_unknown()) return number;
  return {{"anyOf", Json::array({number, {{"const", "unknown"}}})}};
}

Json curve(Field const& f, UnitSystem system) {
  Json const column{{"type", "string"}}, number{{"type", "number"}};
  Json const point{{"type", "array"}, {"items", number}, {"minItems", 2}, {"maxItems", 2}};
  Json keys = Json::object();
  Json required = Json::array();
  auto const shown = [&](AnyUnit const& unit) { return system == UnitSystem::us ? unit : si_unit(unit); };
  for (auto const& [key, unit] : {std::pair{f.key_x, shown(f.unit)}, {f.key_y, shown(f.unit_y)}}) {
    keys[key] = column;
    keys[key]["examples"] = Json::array({std::string(unit.symbol)});
    if (!unit.symbol.empty()) required.push_back(key);
  }
  keys["points"] = {{"type", "array"}, {"items", point}, {"minItems", 2}};
  keys["coefficients"] = {{"type", "array"}, {"items", number}, {"minItems", 1}};
  return {{"type", "object"}, {"properties", keys}, {"required", required}, {"additionalProperties", false},
          {"oneOf", Json::array({{{"required", {"points"}}}, {{"required", {"coefficients"}}}})}};
}

Json of_kind(Kind const&, Catalog, UnitSystem, bool nested);

Json nested(Field const& f, Catalog catalog, UnitSystem system) {
  auto const kinds = nested_kinds(catalog, f.refers_to);
  Json any = Json::array();
  for (auto const* k : kinds) {
    Json one = of_kind(*k, catalog, system, true);
    one["properties"]["kind"] = {{"const", k->name}};
    if (k != kind_unsaid(kinds, f.refers_to)) one["required"].push_back("kind");
    any.push_back(one);
    if (std::none_of(k->fields.begin(), k->fields.end(), [](auto const& inner) { return inner.is_required(); }))
      any.push_back({{"const", k->name}});
  }
  return {{"anyOf", any}};
}

Json shape(Field const& f, Catalog catalog, UnitSystem system) {
  using Sort = Field::Sort;
  Json const text{{"type", "string"}};
  switch (f.sort) {
    case Sort::quantity: return quantity(f, system);
    case Sort::list: return one_or_list(quantity(f, system));
    case Sort::number: return bounded({{"type", "number"}}, f);
    case Sort::count: return bounded({{"type", "integer"}}, f);
    case Sort::choice: return {{"enum", f.choices}};
    case Sort::flag: return {{"type", "boolean"}};
    case Sort::clock: return {{"type", "string"}, {"pattern", "^[0-9]{1,2}:[0-9]{2}$"}, {"examples", Json::array({"22:30"})}};
    case Sort::clocks: return one_or_list({{"type", "string"}, {"pattern", "^[0-9]{1,2}:[0-9]{2}$"}, {"examples", Json::array({"22:30"})}});
    case Sort::curve: return curve(f, system);
    case Sort::text:
    case Sort::reference: return text;
    case Sort::references: return one_or_list(text);
    case Sort::entry: return nested(f, catalog, system);
    case Sort::written: return {{"type", Json::array({"string", "number", "boolean"})}};
    case Sort::written_list:
      return {{"type", "array"}, {"minItems", 1}, {"items", {{"type", Json::array({"string", "number", "boolean"})}}}};
  }
  throw InternalError("a field of no sort");
}

Json standard(Field const& f, UnitSystem system) {
  using Sort = Field::Sort;
  switch (f.sort) {
    case Sort::choice: return f.choices.at(std::size_t(f.standard));
    case Sort::flag: return f.standard != 0;
    case Sort::count: return int(f.standard);
    case Sort::clock: return clock_text(f.standard);
    default: break;
  }
  if (f.unit.symbol.empty()) return f.standard;
  return written(f, f.standard, system);
}

Json of_kind(Kind const& kind, Catalog catalog, UnitSystem system, bool nested) {
  Json properties = Json::object(), required = Json::array();
  bool const repeated = kind.home == Home::repeated && !nested && !kind.is_nameless, joined = !kind.branches.empty() && !nested;
  if (repeated) {
    properties["name"] = {{"type", "string"}, {"description", "a name of its own"}};
    required.push_back("name");
  }
  if (joined)
    for (auto const& port : port_keys(kind)) properties[port] = {{"type", "string"}, {"description", "joint at this end"}};
  bool const may_only_change = repeated && joined;
  for (auto const& f : kind.fields) {
    Json one = shape(f, catalog, system);
    one["description"] = described(f, system);
    if (!std::isnan(f.standard)) one["default"] = standard(f, system);
    properties[f.key] = std::move(one);
    if (f.is_required() && !may_only_change) required.push_back(f.key);
  }
  return {{"type", "object"},
          {"description", kind.summary},
          {"properties", properties},
          {"required", required},
          {"additionalProperties", false}};
}
}  // namespace

std::string editor_schema(Catalog catalog, UnitSystem system) {
  auto const* top = find_kind(catalog, "scenario");
  if (!top) throw InternalError("the catalog has no kind 'scenario'");
  Json schema{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", "Steadyfire scenario"}};
  schema.update(of_kind(*top, catalog, system, false));
  schema["properties"]["format"] = {{"const", 1}, {"description", "version of this file format"}};
  auto& required = schema["required"];
  if (std::find(required.begin(), required.end(), "format") == required.end()) required.push_back("format");
  for (auto const& kind : catalog) {
    if (kind.home == Home::nested || &kind == top) continue;
    auto const table = of_kind(kind, catalog, system, false);
    schema["properties"][table_key(kind)] =
        kind.home == Home::single ? table : Json{{"type", "array"}, {"description", kind.summary}, {"items", table}};
  }
  return schema.dump(2) + "\n";
}

}  // namespace steadyfire
