#include "tools/web/request.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "tools/job/catalog.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/toml.hpp"

namespace steadyfire::web {
namespace {

[[noreturn]] void refuse(std::string const& words) {
  throw BadRequest(words, "see tools/web/page/src/interface.ts for the requests");
}

Json const& needed(Json const& request, char const* key) {
  if (!request.is_object() || !request.contains(key)) refuse(fmt::format("'{}' is missing in the request", key));
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

/// A text, parsed once for all that is asked of it.
class Places {
 public:
  explicit Places(std::string const& text) {
    try {
      root_ = parse_toml(text);
    } catch (toml::parse_error const&) {}
  }
  /// The value that a position lies in, or the table; nothing above all.
  std::optional<Place> at(Position p) const {
    if (p.line <= 0) return {};
    for (auto const& [key, node] : root_) {
      std::string const word{key.str()};
      auto const* list = node.is_array_of_tables() ? node.as_array() : nullptr;
      bool const holds_tables = node.is_table() || list;
      for (std::size_t i = 0; holds_tables && i < (list ? list->size() : 1); ++i) {
        auto const& one = list ? *list->get(i)->as_table() : *node.as_table();
        Place place{word, int(i), {}};
        if (leads_to(one, p, place.path) || holds_position(one.source(), p)) return place;
      }
      if (!holds_tables && (holds_position(node.source(), p) || holds_position(key.source(), p))) return Place{"", 0, {word}};
    }
    return {};
  }

 private:
  toml::table root_;
};

}  // namespace

std::string text_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  if (!value.is_string()) refuse(fmt::format("'{}' is not a text", key));
  return value.get<std::string>();
}
std::string text_under(Json const& request, char const* key, std::string otherwise) {
  return request.is_object() && request.contains(key) ? text_under(request, key) : otherwise;
}
bool flag_under(Json const& request, char const* key) {
  if (!request.is_object() || !request.contains(key)) return false;
  if (!request.at(key).is_boolean()) refuse(fmt::format("'{}' is not true or false", key));
  return request.at(key).get<bool>();
}
int count_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  int constexpr most = 1'000'000;
  if (!value.is_number_integer() || value < 0 || value > most) refuse(fmt::format("'{}' is not a whole number from 0 on", key));
  return value.get<int>();
}
std::vector<std::string> texts_under(Json const& request, char const* key) {
  std::vector<std::string> texts;
  for (auto const& item : list_under(request, key)) {
    if (!item.is_string()) refuse(fmt::format("an item of '{}' is not a text", key));
    texts.push_back(item.get<std::string>());
  }
  return texts;
}
Json const& list_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  if (!value.is_array()) refuse(fmt::format("'{}' is not a list", key));
  return value;
}
Json const& object_under(Json const& request, char const* key) {
  auto const& value = needed(request, key);
  if (!value.is_object()) refuse(fmt::format("'{}' is not an object", key));
  return value;
}

UnitSystem units_of(Json const& request) {
  auto const units = text_under(request, "units");
  if (units != "us" && units != "si") refuse("'units' is not us or si");
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
  Places const places{document.text};
  for (auto const& d : faults.told()) {
    auto one = to_json(d);
    if (d.file.empty())
      if (auto place = places.at(d.at)) {
        if (!d.key.empty()) place->path.push_back(d.key);
        one["at"] = to_json(*place);
      }
    list.push_back(std::move(one));
  }
  if (auto const more = faults.more(); !more.empty()) list.push_back(to_json(Diagnostic{"", {}, more + " errors", "", ""}));
  for (auto const& d : project.file_faults.list) list.push_back(to_json(d));
  return list;
}

Json to_json(Diagnostic const& d) {
  return {{"code", d.code}, {"message", d.message}, {"expected", d.expected}, {"hint", d.hint},
          {"line", d.at.line}, {"column", d.at.column}, {"file", d.file}};
}

Json fault_of(Stopped const& stopped) {
  std::vector<std::string> advice;
  auto const add = [&](char const* label, std::string const& words) {
    if (!words.empty()) advice.push_back(label + words);
  };
  add("where: ", stopped.advice.where), add("likely: ", stopped.advice.likely), add("", stopped.advice.hint);
  return to_json(Diagnostic{stopped.code, {}, stopped.message, "", fmt::format("{}", fmt::join(advice, "; "))});
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

EntryPlaces::EntryPlaces(Document const& document) {
  auto const places = tables_of(document);
  std::vector<std::string> path;
  for (std::size_t i = 0; i < document.tables.size(); ++i) {
    auto const& t = document.tables[i];
    all_.try_emplace(t.at, Found{places[i], &t});
    add(places[i], t, path);
  }
}

void EntryPlaces::add(Place const& of_table, Entry const& e, std::vector<std::string>& path) {
  if (!e.kind) return;
  for (std::size_t i = 0; i < e.values.size(); ++i) {
    auto const& v = e.values[i];
    if (!v.entry) continue;
    path.push_back(e.kind->fields[i].key);
    add(of_table, *v.entry, path);
    if (v.given) all_.try_emplace(v.entry->at, Found{Place{of_table.table, of_table.index, path}, v.entry.get()});
    path.pop_back();
  }
}

EntryPlaces::Found const* EntryPlaces::at(Position p) const {
  auto const found = p.line > 0 ? all_.find(p) : all_.end();
  return found == all_.end() ? nullptr : &found->second;
}

Json to_json(std::vector<Finding> const& findings, UnitSystem system) {
  Json list = Json::array();
  for (auto const& f : findings)
    list.push_back({{"id", f.id},
                    {"place", f.place},
                    {"weight", word_for(f.severity)},
                    {"words", f.words.in(system)},
                    {"remedy", f.fix_in(system)},
                    {"whose", f.whose.in(system)}});
  return list;
}

Json shown(std::string name, std::string words) { return {{"name", std::move(name)}, {"words", std::move(words)}}; }

}  // namespace steadyfire::web
