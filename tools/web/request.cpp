#include "tools/web/request.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <sstream>

#include "models/catalog.hpp"
#include "plots/page_parts.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/toml.hpp"

namespace steadyfire::web {
namespace {

[[noreturn]] void refuse(std::string const& words) {
  throw BadRequest(words, "tools/web/page/src/interface.ts says what an ask is made of");
}

Json const& needed(Json const& request, char const* key) {
  if (!request.is_object() || !request.contains(key)) refuse(fmt::format("the request lacks '{}'", key));
  return request.at(key);
}

bool holds_position(toml::source_region const& range, Position p) {
  std::pair const at{p.line, p.column}, from{int(range.begin.line), int(range.begin.column)},
      to{int(range.end.line), int(range.end.column)};
  return from == at || (from < at && at < to);
}

/// Adds to a path the keys that lead to what stands at a position: a key, a value, or a table's heading.
bool leads_to(toml::table const& table, Position p, std::vector<std::string>& path) {
  for (auto const& [key, node] : table) {
    path.emplace_back(key.str());
    auto const* inner = node.as_table();
    if ((inner && leads_to(*inner, p, path)) || holds_position(node.source(), p) || holds_position(key.source(), p)) return true;
    path.pop_back();
  }
  return false;
}

/// The key that a fault misses in the table at a place, where a field has it.
void add_lacking_key(Place& place, Diagnostic const& d) {
  static constexpr std::string_view words = ": '";
  auto const from = d.message.find(words);
  if (d.code != "E205" || from == d.message.npos || !d.message.ends_with("' is missing")) return;
  auto const begin = from + words.size();
  place.path.push_back(d.message.substr(begin, d.message.find('\'', begin) - begin));
}

/// Goes through the values of an entry, and of those inside, until `found` says true of one.
template <class F>
bool walk(Entry const& e, std::vector<std::string>& path, F const& found) {
  if (!e.kind) return false;
  for (std::size_t i = 0; i < e.values.size(); ++i) {
    auto const& v = e.values[i];
    path.push_back(e.kind->fields[i].key);
    if (v.entry && walk(*v.entry, path, found)) return true;
    if (v.given && found(v)) return true;
    path.pop_back();
  }
  return false;
}

/// The faults of other files come rendered: their code, and the rest as it stands.
Json rendered_fault(std::string const& words) {
  auto const from = words.find("error["), to = words.find("]: ", from);
  bool const has_code = from != words.npos && to != words.npos;
  auto const colon = words.find(':');
  return {{"code", has_code ? words.substr(from + 6, to - from - 6) : ""},
          {"message", has_code ? words.substr(to + 3) : words},
          {"expected", ""},
          {"hint", ""},
          {"line", 0},
          {"column", 0},
          {"file", colon == words.npos ? "" : words.substr(0, colon)}};
}

}  // namespace

std::string text_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  if (!value.is_string()) refuse(fmt::format("'{}' is no text", key));
  return value.get<std::string>();
}
std::string text_under(Json const& request, char const* key, std::string otherwise) {
  return request.is_object() && request.contains(key) ? text_under(request, key) : otherwise;
}
bool flag_under(Json const& request, char const* key) {
  if (!request.is_object() || !request.contains(key)) return false;
  if (!request.at(key).is_boolean()) refuse(fmt::format("'{}' is neither true nor false", key));
  return request.at(key).get<bool>();
}
int count_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  int constexpr most = 1'000'000;
  if (!value.is_number_integer() || value < 0 || value > most) refuse(fmt::format("'{}' is no count", key));
  return value.get<int>();
}
std::vector<std::string> texts_under(Json const& request, char const* key) {
  std::vector<std::string> texts;
  for (auto const& item : list_under(request, key)) {
    if (!item.is_string()) refuse(fmt::format("'{}' holds something that is no text", key));
    texts.push_back(item.get<std::string>());
  }
  return texts;
}
Json const& list_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  if (!value.is_array()) refuse(fmt::format("'{}' is no list", key));
  return value;
}
Json const& object_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  if (!value.is_object()) refuse(fmt::format("'{}' is no object", key));
  return value;
}

UnitSystem units_of(Json const& request) {
  auto const units = text_under(request, "units");
  if (units != "us" && units != "si") refuse("'units' is neither us nor si");
  return units == "si" ? UnitSystem::si : UnitSystem::us;
}

Scenario scenario_of(Json const& request) { return {text_under(request, "text"), text_under(request, "file", ""), units_of(request)}; }

ReadScenario read(Scenario const& scenario) {
  ReadScenario r;
  r.document = read_document(scenario.file.empty() ? "scenario" : scenario.file, scenario.text, catalog(), r.faults);
  if (r.document.root.kind) r.project = make_project(r.document, catalog(), r.faults);
  return r;
}

Json ReadScenario::faults_json() const {
  Json list = Json::array();
  for (auto const& d : faults.list()) {
    Json one{{"code", d.code}, {"message", d.message}, {"expected", d.expected}, {"hint", d.hint},
             {"line", d.at.line}, {"column", d.at.column}, {"file", d.file}};
    if (d.file.empty())
      if (auto place = place_at(document, d.at)) {
        add_lacking_key(*place, d);
        one["at"] = to_json(*place);
      }
    list.push_back(std::move(one));
  }
  if (!project.weather_faults.empty()) list.push_back(rendered_fault(project.weather_faults));
  return list;
}

Json fault_of(Stopped const& stopped) {
  std::istringstream lines{stopped.what()};
  std::string message, advice;
  std::getline(lines, message);
  if (auto const code = message.find("]: "); code != message.npos) message.erase(0, code + 3);
  for (std::string name, words; lines >> name && std::getline(lines >> std::ws, words);)
    advice += (advice.empty() ? "" : "; ") + (name == "hint" ? words : name + ": " + words);
  return {{"code", stopped.code}, {"message", message}, {"expected", ""}, {"hint", advice}, {"line", 0}, {"column", 0}, {"file", ""}};
}

Json to_json(Place const& p) {
  Json place{{"table", p.table}, {"index", p.index}, {"path", p.path}};
  if (!p.name.empty()) place["name"] = p.name;
  return place;
}

Place place_of(Json const& place) {
  return {text_under(place, "table"), count_under(place, "index"), texts_under(place, "path"), text_under(place, "name", "")};
}

std::vector<Place> tables_of(Document const& document) {
  std::map<std::string, int> count;
  std::vector<Place> places;
  for (auto const& t : document.tables) {
    auto const key = table_key(*t.kind);
    places.push_back({key, count[key]++, {}});
  }
  return places;
}

std::optional<Place> place_at(Document const& document, Position p) {
  if (p.line <= 0) return {};
  try {
    for (auto const& [key, node] : toml::parse(document.text)) {
      std::string const word{key.str()};
      bool const is_table = node.is_table() || node.is_array_of_tables();
      auto const* list = node.is_array_of_tables() ? node.as_array() : nullptr;
      for (std::size_t i = 0; is_table && i < (list ? list->size() : 1); ++i) {
        auto const& one = list ? *list->get(i)->as_table() : *node.as_table();
        Place place{word, int(i), {}};
        if (leads_to(one, p, place.path) || holds_position(one.source(), p)) return place;
      }
      if (!is_table && (holds_position(node.source(), p) || holds_position(key.source(), p))) return Place{"", 0, {word}};
    }
  } catch (toml::parse_error const&) {
  }
  return {};
}

std::optional<Place> entry_at(Document const& document, Position p) {
  if (p.line <= 0) return {};
  auto const places = tables_of(document);
  std::vector<std::string> path;
  for (std::size_t i = 0; i < document.tables.size(); ++i) {
    auto const& t = document.tables[i];
    if (t.at == p) return places[i];
    path.clear();
    if (walk(t, path, [&](Value const& v) { return v.entry && v.entry->at == p; })) return Place{places[i].table, places[i].index, path};
  }
  return {};
}

Json to_json(std::vector<Finding> const& findings, UnitSystem system) {
  Json list = Json::array();
  for (auto const& f : findings)
    list.push_back({{"id", f.id},
                    {"place", f.place},
                    {"weight", word_for(f.severity)},
                    {"words", with_printed_units(f.words.in(system))},
                    {"remedy", with_printed_units(f.fix.in(system))},
                    {"whose", with_printed_units(f.whose.in(system))}});
  return list;
}

Json shown(std::string name, std::string words) { return {{"name", std::move(name)}, {"words", with_printed_units(std::move(words))}}; }

}  // namespace steadyfire::web
