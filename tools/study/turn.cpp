#include "tools/study/turn.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "sim/scenario/field_words.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/toml.hpp"

namespace steadyfire {
namespace {

char const* const example = "an address, for example \"boiler.minimum_input\" or \"zone.bath.design_load\"";

/// The keys of a dotted key, by TOML's own rules.
std::vector<std::string> keys_of(std::string const& address) {
  try {
    if (address.find('\n') != address.npos || address.find('=') != address.npos)
      throw BadAddress{in_quotes(address) + " is not an address", example};
    auto const parsed = parse_toml(address + " = 0");
    std::vector<std::string> keys;
    toml::node const* node = &parsed;
    for (auto const* table = node->as_table(); table && !table->empty(); table = node->as_table()) {
      keys.emplace_back(table->begin()->first.str());
      node = &table->begin()->second;
    }
    return keys;
  } catch (toml::parse_error const&) {
    throw BadAddress{in_quotes(address) + " is not an address", example,
                     "put a name with spaces in quotes: zone.\"guest bath\".design_load"};
  }
}

bool is_turnable(Field const& f) {
  using S = Field::Sort;
  return f.sort == S::quantity || f.sort == S::number || f.sort == S::count || f.sort == S::choice || f.sort == S::flag ||
         f.sort == S::clock || f.sort == S::text || f.sort == S::reference || f.sort == S::list;
}

class Finder {
public:
  Finder(Document const& document, Catalog catalog, std::string const& address)
      : document_{document}, catalog_{catalog}, address_{address}, keys_{keys_of(address)} {}

  Turn find() {
    Kind const* kind = kind_of(keys_.at(0));
    std::vector<std::pair<Entry const*, ValuePlace>> tables;
    std::size_t next = 1;
    int index = 0;
    for (auto const& t : document_.tables)
      if (t.kind == kind) tables.emplace_back(&t, ValuePlace{keys_[0], index++, {}});
    if (kind->home == Home::repeated) {
      if (keys_.size() < 2)
        throw BadAddress{in_quotes(address_) + " names a table without a key", "the table and one of its keys", keys_hint(*kind)};
      auto const named = std::find_if(tables.begin(), tables.end(), [&](auto const& t) { return t.first->name == keys_[1]; });
      if (named != tables.end()) {
        tables = {*named}, next = 2;
      } else if (!has_key(*kind, keys_[1]) || tables.empty()) {
        if (!kind->branches.empty() && keys_.size() > 2) {  // a piece that an arrangement makes: its table is added
          tables = {{nullptr, ValuePlace{keys_[0], index, {}, keys_[1]}}}, next = 2;
        } else {
          std::vector<std::string> names;
          for (auto const& t : tables) names.push_back(t.first->name);
          throw BadAddress{fmt::format("{}: no {} '{}' in the scenario", in_quotes(address_), kind->name, keys_[1]),
                           names.empty() ? "a scenario with one" : fmt::format("one of: {}", fmt::join(names, ", ")),
                           did_you_mean(keys_[1], names)};
        }
      }
    } else if (tables.empty()) {
      tables.emplace_back(nullptr, ValuePlace{keys_[0], 0, {}});
    }
    Turn turn{address_, keys_, nullptr, {}, {}, {}};
    for (auto& [entry, place] : tables) {
      auto const [field, own] = walk(*kind, entry, next);
      turn.field = field;
      turn.own.push_back(own.empty() ? std::nan("") : *std::max_element(own.begin(), own.end()));
      turn.lists.push_back(own.size() > 1 ? own : std::vector<double>{});
      place.path.assign(keys_.begin() + long(next), keys_.end());
      turn.places.push_back(std::move(place));
    }
    return turn;
  }

private:
  static bool has_key(Kind const& kind, std::string const& key) {
    return std::any_of(kind.fields.begin(), kind.fields.end(), [&](auto const& f) { return f.key == key; });
  }
  static std::vector<std::string> keys_in(Kind const& kind) {
    std::vector<std::string> all;
    for (auto const& f : kind.fields) all.push_back(f.key);
    return all;
  }
  static std::string keys_hint(Kind const& kind) { return fmt::format("its keys: {}", fmt::join(keys_in(kind), ", ")); }

  Kind const* kind_of(std::string const& table) const {
    std::vector<std::string> known;
    for (auto const& k : catalog_) {
      if (k.home == Home::nested || k.name == "scenario") continue;
      if (table_key(k) == table) return &k;
      known.push_back(table_key(k));
    }
    auto const near = did_you_mean(table, known);
    throw BadAddress{fmt::format("{}: unknown table '{}'", in_quotes(address_), table), example,
                     near.empty() ? "'steadyfire reference' lists all tables and keys" : near};
  }

  std::pair<Field const*, std::vector<double>> walk(Kind const& top, Entry const* entry, std::size_t next) const {
    Kind const* kind = &top;
    for (; next < keys_.size(); ++next) {
      auto const& key = keys_[next];
      auto const f = std::find_if(kind->fields.begin(), kind->fields.end(), [&](auto const& one) { return one.key == key; });
      if (f == kind->fields.end())
        throw BadAddress{fmt::format("{}: unknown key '{}' in {}", in_quotes(address_), key, kind->name),
                         fmt::format("one of: {}", fmt::join(keys_in(*kind), ", ")), did_you_mean(key, keys_in(*kind))};
      Value const* value = entry ? &value_under(*entry, key) : nullptr;
      if (f->sort != Field::Sort::entry) {
        if (next + 1 < keys_.size())
          throw BadAddress{fmt::format("{} continues after '{}', which is a value", in_quotes(address_), key), example};
        if (!is_turnable(*f))
          throw BadAddress{fmt::format("{} cannot be varied; it is {}", in_quotes(address_), wanted(*f)), "the address of a single value"};
        return {&*f, value ? value->numbers : std::vector<double>{}};
      }
      entry = value && value->entry ? value->entry.get() : nullptr;
      auto const kinds = nested_kinds(catalog_, f->refers_to);
      if (entry) kind = entry->kind;
      else if (auto const* unsaid = kind_unsaid(kinds, f->refers_to)) kind = unsaid;
      else
        throw BadAddress{fmt::format("{}: no {} in the scenario", in_quotes(address_), key), wanted(*f, catalog_),
                         "add it to the scenario first"};
    }
    throw BadAddress{in_quotes(address_) + " names a table without a key", "the table and one of its keys", keys_hint(*kind)};
  }

  Document const& document_;
  Catalog catalog_;
  std::string const& address_;
  std::vector<std::string> const keys_;
};

}  // namespace

std::string address_of(std::string_view table, std::string const& name) {
  bool const is_bare = !name.empty() && std::all_of(name.begin(), name.end(), [](unsigned char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
  });
  return fmt::format("{}.{}", table, is_bare ? name : toml_text(name));
}

std::string address_of(Piece const& piece) {
  auto const& in = piece.stated_in;
  if (!in.table) throw InternalError("no table of a file is known to state '" + piece.name + "'");
  auto const table = table_key(*in.table);
  return (in.name.empty() ? table : address_of(table, in.name)) + (in.key ? "." + in.key->key : "");
}

Turn find_turn(Document const& document, Catalog catalog, std::string const& address) { return Finder{document, catalog, address}.find(); }

std::string stated(Field const& f, double si, UnitSystem units) {
  switch (f.sort) {
    case Field::Sort::choice:
      return f.choices.at(std::size_t(si));
    case Field::Sort::flag:
      return si != 0 ? "true" : "false";
    case Field::Sort::clock:
      return clock_text(si / 3600);
    case Field::Sort::count:
      return fmt::format("{}", std::lround(si));
    default:
      break;
  }
  auto const unit = unit_for(f, units);
  auto const x = fmt::format("{:.12g}", unit.from_si(si));  // what conversions leave behind is not for a reader
  return unit.symbol.empty() ? x : x + " " + std::string(unit.symbol);
}

double read_stated(Field const& f, std::string const& words) {
  using S = Field::Sort;
  Diagnostics faults;
  auto const read = [&](toml::node const& node) { return read_value(f, node, {{}, faults, ""}); };
  bool const is_bare = f.sort == S::number || f.sort == S::count || f.sort == S::flag || (f.sort == S::quantity && f.unit.symbol.empty());
  Value v;
  if (toml::value<std::string> const text{words}; is_bare) {
    try {
      auto const parsed = parse_toml("x = " + words);
      v = read(*parsed.get("x"));
    } catch (toml::parse_error const&) { v = read(text); }
  } else {
    v = read(text);
  }
  if (!faults.empty()) {
    auto const& d = faults.list().front();
    throw BadAddress{d.message.starts_with(": ") ? d.message.substr(2) : d.message, d.expected, d.hint};
  }
  if (v.numbers.empty()) throw BadAddress{f.key + " is " + in_quotes(words), wanted(f)};
  return v.numbers[0];
}

}  // namespace steadyfire
