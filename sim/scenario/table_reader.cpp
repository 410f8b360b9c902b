#include "sim/scenario/table_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "sim/core/text.hpp"
#include "sim/scenario/trade_words.hpp"

namespace steadyfire {

namespace {
bool is_elsewhere(toml::node const& node, TableRules const& rules) { return rules.tables_elsewhere && is_table(node); }

/// The keys that unknown keys of the table stand for, by the nearest name or the trade's word: one slip is one fault. Of a table with
/// nothing but slips only the first are looked at.
std::vector<std::string> misspelt_keys(toml::table const& table, std::vector<std::string> const& known, TableRules const& rules) {
  int left = 1000;
  std::vector<std::string> meant;
  for (auto const& [key, node] : table)
    if (!is_elsewhere(node, rules) && !holds(known, key.str()) && left-- > 0)
      for (auto& near : {nearest(key.str(), known), meant_by(key.str(), known)})
        if (!near.empty() && !table.contains(near)) {
          meant.push_back(near);
          break;
        }
  return meant;
}

/// A name stands in drawings, tables and on terminals: short, and of signs alone.
bool is_name(std::string const& text, std::string const& key, Position at, Scope const& scope) {
  constexpr std::size_t longest = 100;
  if (auto const size = count_characters(text); size > longest) {
    scope.fault("E266", at, fmt::format("{} has {} characters", key, size), fmt::format("at most {} characters", longest),
                "shorten it, here and where it is used");
    return false;
  }
  if (has_control_character(text)) {
    scope.fault("E265", at, key + " has a control character: " + in_quotes(text), "letters, digits, signs and spaces",
                "delete the name and type it again");
    return false;
  }
  return true;
}

std::string read_name(Kind const& kind, toml::table const& table, Position at, std::vector<std::string> const& misspelt,
                      Scope const& scope) {
  auto const* node = table.get("name");
  auto const* name = node ? node->as_string() : nullptr;
  if (name && !name->get().empty()) return is_name(name->get(), "name", position_of(*node), scope) ? name->get() : "";
  if (!node && holds(misspelt, "name")) return "";
  if (!node) scope.fault("E216", at, "has no name", "name = \"…\"", "give every [[" + table_key(kind) + "]] a unique name");
  else scope.fault("E209", position_of(*node), name ? "name is empty" : "name is " + type_text(*node), "text in quotes");
  return "";
}

void read_ports(Kind const& kind, toml::table const& table, TableRules const& rules, std::vector<std::string> const& misspelt,
                Scope const& scope, Entry& entry) {
  auto const keys = port_keys(kind);
  bool const any = std::any_of(keys.begin(), keys.end(), [&](auto const& k) { return table.contains(k) || holds(misspelt, k); });
  if (!any && !rules.ports_needed) return;
  std::vector<std::string> missing;
  for (auto const& key : keys) {
    auto const* node = table.get(key);
    auto const* joint = node ? node->as_string() : nullptr;
    entry.ports.push_back(joint ? joint->get() : "");
    entry.ports_at.push_back(node ? position_of(*node) : entry.at);
    if (!node && !holds(misspelt, key) && !holds(missing, key)) missing.push_back(key);
    if (!node) continue;
    if (!joint || joint->get().empty())
      scope.fault("E209", position_of(*node), key + " is " + (joint ? "empty" : type_text(*node)), "the name of a joint, in quotes");
    else (void)is_name(joint->get(), key, position_of(*node), scope);
  }
  if (!missing.empty())
    scope.fault("E219", entry.at, fmt::format("connections are missing: {}", fmt::join(missing, ", ")),
                "names of joints; ends that meet share a name",
                any ? "" : "state these joints, or add [boiler] and [[zone]] for automatic piping");
}

void refuse_unknown_keys(toml::table const& table, std::vector<std::string> const& known, TableRules const& rules, Scope const& scope) {
  for (auto const& [key, node] : table) {
    std::string const word{key.str()};
    if (is_elsewhere(node, rules) || holds(known, word)) continue;
    if (scope.faults.is_full()) {
      scope.fault("E201", position_of(key), "", "");
      continue;
    }
    auto const* top = find_kind(scope.catalog, "scenario");
    bool const above = top && std::any_of(top->fields.begin(), top->fields.end(), [&](auto const& f) { return f.key == word; });
    auto const near = did_you_mean(word, known);
    scope.fault("E201", position_of(key), "unknown key " + in_quotes(word),
                near.empty() ? fmt::format("one of: {}", fmt::join(known, ", ")) : "",
                above ? "'" + word + "' belongs at the top of the file, above all tables" : near);
  }
}
}  // namespace

bool is_table(toml::node const& node) { return node.is_table() || node.is_array_of_tables(); }

bool holds(std::vector<std::string> const& words, std::string_view word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

Entry read_table(Kind const& kind, toml::table const& table, Position at, TableRules const& rules, Scope const& scope) {
  auto const before = scope.faults.count();
  Entry entry;
  entry.kind = &kind, entry.at = at;
  auto known = rules.elsewhere;
  if (rules.named) known.push_back("name");
  if (rules.nested) known.push_back("kind");
  if (rules.ports)
    for (auto& key : port_keys(kind))
      if (!holds(known, key)) known.push_back(std::move(key));
  for (auto const& f : kind.fields) known.push_back(f.key);
  auto const misspelt = misspelt_keys(table, known, rules);
  if (rules.named) entry.name = read_name(kind, table, at, misspelt, scope);
  entry.who = entry.name.empty() ? scope.who : scope.who + " '" + entry.name + "'";
  Scope const own{scope.catalog, scope.faults, entry.who};
  if (rules.ports) read_ports(kind, table, rules, misspelt, own, entry);
  refuse_unknown_keys(table, known, rules, own);
  bool complete = true;
  for (auto const& f : kind.fields) {
    if (auto const* node = table.get(f.key)) {
      entry.values.push_back(read_value(f, *node, own));
      continue;
    }
    entry.values.push_back(absent_value(f, at));
    if (!f.is_required() || holds(rules.elsewhere, f.key)) continue;
    complete = false;
    bool const is_change = rules.may_lack_keys && entry.ports.empty();
    if (!is_change && !holds(misspelt, f.key))
      own.missing(f.key, at, wanted(f, scope.catalog), f.may_be_unknown() ? "write \"unknown\" if you do not know it" : "");
  }
  if (complete && kind.check && scope.faults.count() == before) kind.check(entry, scope.faults);
  return entry;
}

std::shared_ptr<Entry const> read_nested(Field const& f, toml::node const& node, Scope const& scope) {
  auto const kinds = nested_kinds(scope.catalog, f.refers_to);
  std::vector<std::string> names;
  for (auto const* k : kinds) names.push_back(k->name);
  std::string const choose = wanted(f, scope.catalog);
  toml::table const nothing;
  auto const* table = node.as_table();
  auto const* word = table ? table->get("kind") : &node;
  if (!table && !node.is_string()) return scope.fault("E209", position_of(node), f.key + " is " + type_text(node), choose), nullptr;
  Kind const* kind = !word ? kind_unsaid(kinds, f.refers_to) : nullptr;
  if (!word && !kind) {
    for (auto const& [key, value] : *table)
      if (auto const near = did_you_mean(key.str(), {"kind"}); !near.empty())
        return scope.fault("E201", position_of(key),
                           "unknown key in " + f.key + ": " + in_quotes(key.str()), choose, near), nullptr;
    return scope.fault("E205", position_of(node), "'kind' is missing in " + f.key, choose), nullptr;
  }
  if (word) {
    auto const* text = word->as_string();
    if (!text) return scope.fault("E209", position_of(*word), "kind of " + f.key + " is " + type_text(*word), choose), nullptr;
    for (auto const* k : kinds)
      if (same_word(k->name, text->get())) kind = k;
    if (!kind) {
      scope.fault("E218", position_of(*word), fmt::format("{} is {}, an unknown kind of {}", f.key, in_quotes(text->get()), f.refers_to),
                  choose, did_you_mean(text->get(), names));
      return nullptr;
    }
  }
  Scope const inside{scope.catalog, scope.faults, scope.who + ", " + f.key};
  return std::make_shared<Entry const>(read_table(*kind, table ? *table : nothing, position_of(node), TableRules{.nested = true}, inside));
}

std::string table_key(Kind const& kind) {
  std::string key = kind.name;
  std::replace(key.begin(), key.end(), ' ', '_');
  return key;
}

std::vector<std::string> port_keys(Kind const& kind) {
  if (kind.branches.size() == 1 && kind.branches[0].outlet.empty()) return {"joint"};  // what it leads to is its own
  if (kind.branches.size() == 1) return {"from", "to"};
  std::vector<std::string> keys;
  for (auto const& b : kind.branches) keys.emplace_back(b.inlet), keys.emplace_back(b.outlet);
  return keys;
}

Kind const* kind_unsaid(std::vector<Kind const*> const& kinds, std::string const& family) {
  if (kinds.size() == 1) return kinds[0];
  auto const same = std::find_if(kinds.begin(), kinds.end(), [&](Kind const* k) { return k->name == family; });
  return same == kinds.end() ? nullptr : *same;
}

std::vector<Kind const*> nested_kinds(Catalog catalog, std::string const& family) {
  std::vector<Kind const*> found;
  for (auto const& k : catalog)
    if (k.family == family && k.home != Home::single) found.push_back(&k);
  if (found.empty()) throw InternalError("no kind of the family '" + family + "' can stand inside another table");
  return found;
}

}  // namespace steadyfire
