#include "tools/web/written.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "tools/job/catalog.hpp"
#include "sim/scenario/bytes.hpp"
#include "sim/scenario/table_reader.hpp"

namespace steadyfire::web {
namespace {

/// As a user would type it.
std::string typed(toml::node const& node, Bytes const& source) {
  if (auto const* text = node.as_string()) return text->get();
  auto const* list = node.as_array();
  if (!list || list->empty()) return source.of(node);
  std::vector<std::string> items;
  for (auto const& item : *list) {
    auto const* text = item.as_string();
    if (!text || text->get().find(',') != std::string::npos) return source.of(node);
    items.push_back(text->get());
  }
  return fmt::format("{}", fmt::join(items, ", "));
}

Json values_of(toml::table const& table, Bytes const& source) {
  std::vector<std::pair<Position, Json>> found;
  for (auto const& [key, node] : table) {
    Json one{{"key", key.str()}, {"line", node.source().begin.line}};
    if (auto const* inner = node.as_table()) {
      auto const* kind = inner->get("kind");
      one["kind"] = one["value"] = kind && kind->is_string() ? kind->as_string()->get() : "";
      one["source"] = inner->is_inline() ? source.of(node) : "";
      one["values"] = values_of(*inner, source);
    } else if (node.is_array_of_tables()) {
      continue;
    } else {
      one["value"] = typed(node, source), one["source"] = source.of(node);
    }
    found.emplace_back(position_of(key), std::move(one));
  }
  std::stable_sort(found.begin(), found.end(), [](auto const& a, auto const& b) { return a.first < b.first; });
  Json list = Json::array();
  for (auto& [at, one] : found) list.push_back(std::move(one));
  return list;
}

void flatten(Json const& values, std::string const& above, std::vector<std::pair<std::string, std::string>>& all) {
  for (auto const& v : values) {
    auto const what = above + " / " + v.at("key").get<std::string>();
    if (!v.contains("values")) all.emplace_back(what, v.at("value").get<std::string>());
    else if (v.at("values").empty()) all.emplace_back(what, v.at("kind").get<std::string>());
    else flatten(v.at("values"), what, all);
  }
}

}  // namespace

Json written_json(std::string const& text) {
  std::vector<std::pair<Position, Json>> tables;
  try {
    auto const root = parse_toml(text);
    Bytes const source{text};
    toml::table above;
    Json top = Json::array();
    for (auto const& v : values_of(root, source)) {
      auto const* node = root.get(v.at("key").get<std::string>());
      if (!node->is_table()) top.push_back(v);
    }
    tables.emplace_back(Position{}, Json{{"table", ""}, {"index", 0}, {"kind", "scenario"}, {"name", ""}, {"line", 1}, {"values", top}});
    for (auto const& [key, node] : root) {
      std::vector<toml::table const*> all;
      if (auto const* one = node.as_table()) all = {one};
      else if (node.is_array_of_tables())
        for (auto const& item : *node.as_array()) all.push_back(item.as_table());
      Kind const* kind = nullptr;
      for (auto const& k : catalog())
        if (k.home != Home::nested && table_key(k) == key.str()) kind = &k;
      for (std::size_t i = 0; i < all.size(); ++i) {
        auto const* name = all[i]->get("name");
        tables.emplace_back(position_of(*all[i]),
                            Json{{"table", key.str()}, {"index", i}, {"kind", kind ? kind->name : std::string(key.str())},
                                 {"name", name && name->is_string() ? name->as_string()->get() : ""},
                                 {"line", all[i]->source().begin.line}, {"values", values_of(*all[i], source)}});
      }
    }
  } catch (toml::parse_error const&) {
    return Json::array();
  }
  std::stable_sort(tables.begin(), tables.end(), [](auto const& a, auto const& b) { return a.first < b.first; });
  Json list = Json::array();
  for (auto& [at, one] : tables) list.push_back(std::move(one));
  return list;
}

std::vector<std::pair<std::string, std::string>> written_values(std::string const& text) {
  std::vector<std::pair<std::string, std::string>> all;
  for (auto const& t : written_json(text)) {
    auto const name = t.at("name").get<std::string>(), kind = t.at("kind").get<std::string>();
    flatten(t.at("values"), kind + (name.empty() ? "" : " " + name), all);
  }
  return all;
}

}  // namespace steadyfire::web
