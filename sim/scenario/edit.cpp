#include "sim/scenario/edit.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <functional>
#include <sstream>

#include "sim/scenario/bytes.hpp"
#include "sim/scenario/table_reader.hpp"

namespace steadyfire {
namespace {

/// A key, bare where it may be.
std::string key_text(std::string const& key) {
  bool const bare =
      !key.empty() && std::all_of(key.begin(), key.end(), [](unsigned char c) { return std::isalnum(c) || c == '_' || c == '-'; });
  return bare ? key : toml_text(key);
}

std::string trimmed(std::string const& s) {
  auto const from = s.find_first_not_of(" \t\r\n"), to = s.find_last_not_of(" \t\r\n");
  return from == s.npos ? "" : s.substr(from, to - from + 1);
}

/// Whether TOML reads it as one value, of a sort that is asked for.
template <class F>
bool reads_as(std::string const& value, F const& is_sort) {
  if (value.find('\n') != value.npos) return false;
  try {
    auto const table = parse_toml("v = " + value);
    return table.size() == 1 && table.contains("v") && is_sort(*table.get("v"));
  } catch (toml::parse_error const&) {
    return false;
  }
}

auto is(bool (toml::node::*sort)() const noexcept) {
  return [sort](toml::node const& n) { return (n.*sort)(); };
}

/// "0 W, 5 W" item by item, as TOML.
std::vector<std::string> items_of(Field const& f, std::string const& value) {
  std::vector<std::string> items;
  std::istringstream all{value};
  for (std::string item; std::getline(all, item, ',');) {
    item = trimmed(item);
    bool const is_bare = f.sort == Field::Sort::list && f.unit.symbol.empty() && reads_as(item, is(&toml::node::is_number));
    items.push_back(is_bare ? item : toml_text(item));
  }
  return items;
}
bool is_listed(Field const* f) {
  return f && (f->sort == Field::Sort::clocks || f->sort == Field::Sort::list || f->sort == Field::Sort::references);
}

/// What a user types, as TOML.
std::string encoded(Field const* f, std::string const& typed) {
  using Sort = Field::Sort;
  auto const value = trimmed(typed);
  if (!f) return toml_text(value);
  bool const is_braced = value.starts_with('{') || value.starts_with('[');
  switch (f->sort) {
    case Sort::number: return reads_as(value, is(&toml::node::is_number)) ? value : toml_text(value);
    case Sort::count: return reads_as(value, is(&toml::node::is_integer)) ? value : toml_text(value);
    case Sort::flag: return reads_as(value, is(&toml::node::is_boolean)) ? value : toml_text(value);
    case Sort::quantity: return f->unit.symbol.empty() && reads_as(value, is(&toml::node::is_number)) ? value : toml_text(value);
    case Sort::clocks:
    case Sort::list:
    case Sort::references:
      if (is_braced && reads_as(value, is(&toml::node::is_array))) return value;
      if (auto const items = items_of(*f, value); items.size() > 1) return fmt::format("[{}]", fmt::join(items, ", "));
      else return items.empty() ? toml_text(value) : items[0];
    case Sort::curve:
    case Sort::entry:
      if (is_braced && reads_as(value, is(&toml::node::is_table))) return value;
      return f->sort == Sort::entry ? "{ kind = " + toml_text(value) + " }" : toml_text(value);
    default: return toml_text(value);
  }
}

class Editor {
 public:
  Editor(std::string& text, Catalog catalog)
      : text_{text}, catalog_{catalog}, root_{parsed(text)}, bytes_{text}, line_end_{text.find("\r\n") != text.npos ? "\r\n" : "\n"} {}

  void set(ValuePlace const& at, std::string const& value) {
    if (at.path.empty() || holds(at.path, "")) throw BadEdit("the value to set has no key");
    if (at.table.empty() && is_table_key(at.path[0])) throw BadEdit("'" + at.path[0] + "' is a table");
    auto const* table = find(at);
    Kind const* kind = kind_of(at.table);
    table_ = at.table;
    if (trimmed(value).empty()) {
      if (table) unset(*table, at.path);
    } else if (table) {
      set_in(*table, *kind, at.path, 0, value);
    } else {
      if (at.index != count(at.table) || (kind->home == Home::single && at.index > 0))
        throw BadEdit(fmt::format("[[{1}]] number {0} does not exist", at.index + 1, at.table));
      std::vector<std::string> lines;
      if (kind->home == Home::repeated && at.path != std::vector<std::string>{"name"}) {
        if (at.name.empty()) throw BadEdit(fmt::format("a new [[{}]] needs a name", at.table));
        lines.push_back("name = " + toml_text(at.name));
      }
      lines.push_back(key_text(at.path[0]) + " = " + braced(*kind, at.path, 0, value));
      append_new(*kind, lines);
    }
  }

  void add(std::string const& key, std::string const& name, std::optional<int> like) {
    if (key.empty()) throw BadEdit("the table to add has no key");
    Kind const* kind = kind_of(key);
    if (kind->home == Home::single && count(key) > 0) throw BadEdit("[" + key + "] already exists");
    if (kind->home == Home::repeated && trimmed(name).empty()) throw BadEdit("a new [[" + key + "]] needs a name");
    if (!like)
      return append_new(*kind, kind->home == Home::repeated ? std::vector{"name = " + toml_text(name)} : std::vector<std::string>{});
    auto const* table = find({key, *like, {}});
    if (!table) throw BadEdit(fmt::format("[[{1}]] number {0} does not exist", *like + 1, key));
    auto const [from, to] = table->is_inline() ? std::pair{bytes_.begin(*table), bytes_.end(*table)} : block(*table);
    auto copy = text_.substr(from, to - from);
    if (auto const* own = table->get("name"))
      copy.replace(bytes_.begin(*own) - from, bytes_.end(*own) - bytes_.begin(*own), toml_text(name));
    if (table->is_inline()) return append_item(key, copy);
    if (!copy.ends_with('\n')) copy += line_end_;
    append(key, copy);
  }

  void remove(ValuePlace const& at) {
    auto const* table = find(at);
    if (!table || at.table.empty()) throw BadEdit(fmt::format("[[{1}]] number {0} does not exist", at.index + 1, at.table));
    auto const* list = root_.get(at.table)->as_array();
    if (list && table->is_inline()) return remove_item(at.table, *list, std::size_t(at.index));
    std::vector<Range> gone{with_comment(*table)};
    auto const name = (*table)["name"].value_or(std::string{});
    for (auto const& k : catalog_)  // with a zone go the tables that change its pieces: nothing else they could be
      if (at.table == "zone" && k.home == Home::repeated && !k.branches.empty())
        each_table(table_key(k), [&](toml::table const& t) {
          auto const ports = port_keys(k);
          bool const is_joined = std::any_of(ports.begin(), ports.end(), [&](auto const& port) { return t.contains(port); });
          if (!is_joined && !t.is_inline() && t["name"].value_or(std::string{}).starts_with(name + "/")) gone.push_back(with_comment(t));
        });
    std::sort(gone.begin(), gone.end(), std::greater{});
    for (auto const& [from, to] : gone) text_.erase(from, to - from);
  }

  /// The name, and what other tables call by it: fields that name pieces or zones, pieces and joints that an arrangement makes of it.
  void rename(ValuePlace const& at, std::string const& name) {
    auto const* table = find(at);
    auto const* own = table ? table->get("name") : nullptr;
    if (!own || !own->is_string()) throw BadEdit(fmt::format("[[{1}]] number {0} has no name", at.index + 1, at.table));
    if (trimmed(name).empty()) throw BadEdit("the name is empty");
    Renaming r{kind_of(at.table), own, own->as_string()->get(), trimmed(name)};
    each_table("zone", [&](toml::table const& zone) {
      if (auto const other = zone["name"].value_or(std::string{}); other.starts_with(r.old + " ")) r.longer.push_back(other);
    });
    r.replaces(*own);
    for (auto const& k : catalog_)
      if (k.home != Home::nested && k.name != "scenario")
        each_table(table_key(k), [&](toml::table const& t) { gather_names(t, &k, r); });
    std::sort(r.found.begin(), r.found.end(),
              [&](auto const& a, auto const& b) { return bytes_.begin(*a.first) > bytes_.begin(*b.first); });
    for (auto const& [node, words] : r.found) replace(*node, toml_text(words));
  }

 private:
  using Range = std::pair<std::size_t, std::size_t>;  ///< bytes

  static toml::table parsed(std::string const& text) {
    try {
      return parse_toml(text);
    } catch (toml::parse_error const& e) {
      throw BadInput(std::string(e.description()));
    }
  }

  Kind const* kind_of(std::string const& key) const {
    if (key.empty()) return find_kind(catalog_, "scenario");
    for (auto const& k : catalog_)
      if (k.home != Home::nested && k.name != "scenario" && table_key(k) == key) return &k;
    throw BadEdit("unknown table '" + key + "'");
  }
  bool is_table_key(std::string const& key) const {
    return std::any_of(catalog_.begin(), catalog_.end(),
                       [&](auto const& k) { return k.home != Home::nested && k.name != "scenario" && table_key(k) == key; });
  }
  template <class F>
  void each_table(std::string const& key, F const& hear) const {
    auto const* node = root_.get(key);
    if (!node) return;
    if (auto const* one = node->as_table()) return hear(*one);
    if (auto const* all = node->as_array())
      for (auto const& item : *all)
        if (auto const* one = item.as_table()) hear(*one);
  }
  std::string heading(Kind const& kind) const {
    return (kind.home == Home::single ? "[" + table_key(kind) + "]" : "[[" + table_key(kind) + "]]") + line_end_;
  }
  int count(std::string const& key) const {
    auto const* node = root_.get(key);
    return !node ? 0 : node->is_array() ? int(node->as_array()->size()) : 1;
  }
  toml::table const* find(ValuePlace const& at) const {
    if (at.table.empty()) return &root_;
    kind_of(at.table);
    auto const* node = root_.get(at.table);
    if (!node) return nullptr;
    if (auto const* table = node->as_table()) return at.index == 0 ? table : nullptr;
    auto const* array = node->as_array();
    if (!array || at.index < 0 || std::size_t(at.index) >= array->size()) return nullptr;
    return array->get(std::size_t(at.index))->as_table();
  }
  Field const* field(Kind const* kind, std::string const& key) const {
    if (kind)
      for (auto const& f : kind->fields)
        if (f.key == key) return &f;
    return nullptr;
  }
  /// The kind of a table inside another: the one that it says, or the only one of the family.
  Kind const* nested_kind(Field const* f, toml::node const* node) const {
    if (!f || f->sort != Field::Sort::entry) return nullptr;
    auto const kinds = nested_kinds(catalog_, f->refers_to);
    auto const* word = node && node->is_table() ? node->as_table()->get("kind") : node;
    if (word && word->is_string())
      for (auto const* k : kinds)
        if (same_word(k->name, word->as_string()->get())) return k;
    return kind_unsaid(kinds, f->refers_to);
  }

  /// `{ circulator = … }`: the value under the last key of a path, in as many braces as the path still has keys.
  std::string braced(Kind const& kind, std::vector<std::string> const& path, std::size_t depth, std::string const& value) const {
    auto const* f = field(&kind, path[depth]);
    if (depth + 1 == path.size()) return encoded(f, value);
    if (path[depth + 1] == "kind" && depth + 2 == path.size()) return toml_text(trimmed(value));
    auto const* inner = nested_kind(f, nullptr);
    std::string word;
    if (inner && !field(inner, path[depth + 1]) && only_kind_with(f, path[depth + 1])) inner = nullptr;
    if (!inner && (inner = only_kind_with(f, path[depth + 1]))) word = "kind = " + toml_text(inner->name) + ", ";
    static Kind const unknown{};
    return "{ " + word + key_text(path[depth + 1]) + " = " + braced(inner ? *inner : unknown, path, depth + 1, value) + " }";
  }
  /// The one kind of a family that knows a key, or null: what is set then says which kind is meant.
  Kind const* only_kind_with(Field const* f, std::string const& key) const {
    if (!f || f->sort != Field::Sort::entry) return nullptr;
    Kind const* found = nullptr;
    for (auto const* k : nested_kinds(catalog_, f->refers_to))
      if (field(k, key)) {
        if (found) return nullptr;
        found = k;
      }
    return found;
  }

  void set_in(toml::table const& table, Kind const& kind, std::vector<std::string> const& path, std::size_t depth,
              std::string const& value) {
    auto const& key = path[depth];
    auto const* node = table.get(key);
    auto const* f = field(&kind, key);
    bool const is_last = depth + 1 == path.size();
    if (!node && has_heading(table) && !has_own_heading(table)) {  // only tables inside it have brought it about
      std::string own = "[" + key_text(table_);
      for (std::size_t i = 0; i < depth; ++i) own += "." + key_text(path[i]);
      auto const at = bytes_.next_line(last_end(table));
      bool const open_end = at > 0 && text_[at - 1] != '\n';
      return void(text_.insert(at, (open_end ? line_end_ : "") + line_end_ + own + "]" + line_end_ + key_text(key) + " = " +
                                       braced(kind, path, depth, value) + line_end_));
    }
    if (!node) return insert(table, key_text(key) + " = " + braced(kind, path, depth, value));
    if (is_last && f && f->sort == Field::Sort::entry && node->is_table() && !trimmed(value).starts_with('{'))
      return change_kind(*node->as_table(), *f, trimmed(value));
    if (is_last && is_listed(f) && node->is_array() && !trimmed(value).starts_with('['))
      return replace_items(*node->as_array(), items_of(*f, value), encoded(f, value));
    if (is_last && node->is_string() && f && f->sort == Field::Sort::entry && !trimmed(value).starts_with('{'))
      return replace(*node, toml_text(trimmed(value)));  // a kind that stands alone
    if (is_last) {
      auto const* below = node->as_table();
      if (node->is_array_of_tables() || (below && !below->is_inline())) throw BadEdit("'" + key + "' is a table, not a value");
      return replace(*node, encoded(f, value));
    }
    auto const* inner = nested_kind(f, node);
    static Kind const unknown{};
    if (auto const* below = node->as_table()) return set_in(*below, inner ? *inner : unknown, path, depth + 1, value);
    if (!node->is_string()) throw BadEdit("'" + key + "' is not a table");
    auto const word = text_.substr(bytes_.begin(*node), bytes_.end(*node) - bytes_.begin(*node));
    if (path[depth + 1] == "kind") return replace(*node, toml_text(trimmed(value)));
    replace(*node, "{ kind = " + word + ", " + key_text(path[depth + 1]) + " = " +
                       braced(inner ? *inner : unknown, path, depth + 1, value) + " }");
  }

  /// Another kind keeps of what stood there what it knows too.
  void change_kind(toml::table const& table, Field const& f, std::string const& name) {
    Kind const* kind = nullptr;
    for (auto const* k : nested_kinds(catalog_, f.refers_to))
      if (same_word(k->name, name)) kind = k;
    std::vector<std::string> gone;
    for (auto const& [key, node] : table)
      if (kind && key.str() != "kind" && !field(kind, std::string(key.str()))) gone.emplace_back(key.str());
    auto const* word = table.get("kind");
    if (!table.is_inline()) {
      if (word) replace(*word, toml_text(name));
      else insert(table, "kind = " + toml_text(name));
      return;  // what the kind does not know, the reader tells
    }
    std::string inside = "kind = " + toml_text(name);
    std::vector<std::pair<std::size_t, std::string>> kept;
    for (auto const& [key, node] : table)
      if (key.str() != "kind" && !holds(gone, key.str()))
        kept.emplace_back(bytes_.begin(key), text_.substr(bytes_.begin(key), bytes_.end(node) - bytes_.begin(key)));
    std::sort(kept.begin(), kept.end());
    for (auto const& [place, words] : kept) inside += ", " + words;
    replace(table, "{ " + inside + " }");
  }

  /// What stands there already keeps its quotes.
  void replace(toml::node const& node, std::string const& by) {
    auto const* text = node.as_string();
    if (text && toml_text(text->get()) == by) return;
    text_.replace(bytes_.begin(node), bytes_.end(node) - bytes_.begin(node), by);
  }
  /// A list as long as before keeps its lines and comments.
  void replace_items(toml::array const& list, std::vector<std::string> const& items, std::string const& whole) {
    if (list.size() != items.size()) return replace(list, items.size() == 1 ? "[" + items[0] + "]" : whole);
    for (auto i = items.size(); i-- > 0;) replace(*list.get(i), items[i]);
  }

  /// Whether a table has a heading, its own or only those of tables inside it.
  bool has_heading(toml::table const& table) const {
    return &table != &root_ && !table.is_inline() && text_[bytes_.begin(table)] == '[';
  }
  bool has_own_heading(toml::table const& table) const {
    return has_heading(table) && std::none_of(table.begin(), table.end(), [&](auto const& inner) {
             auto const* below = inner.second.as_table();
             return below && !below->is_inline() && below->source().begin == table.source().begin;
           });
  }
  /// Whether a value stands under the table's own heading, and not under one of a table inside it.
  bool is_own_line(toml::node const& node) const {
    auto const* table = node.as_table();
    if (table && !table->is_inline()) return !has_heading(*table);
    return !(node.is_array_of_tables() && text_[bytes_.begin(node)] == '[' && text_.compare(bytes_.begin(node), 2, "[[") == 0 &&
             bytes_.line_start(bytes_.begin(node)) == bytes_.begin(node));
  }
  std::size_t last_end(toml::node const& node) const {
    auto const* table = node.as_table();
    auto const* array = node.as_array();
    std::size_t last = table && !table->is_inline() ? bytes_.begin(node) : bytes_.end(node);
    if (table)
      for (auto const& [key, inner] : *table) last = std::max(last, last_end(inner));
    if (array)
      for (auto const& inner : *array) last = std::max(last, last_end(inner));
    return last;
  }

  void insert(toml::table const& table, std::string const& line) {
    std::size_t first = 0, last = 0;  // the last of its lines: where its key begins, and where its value ends
    std::string prefix;
    for (auto const& [key, node] : table) {
      if (!is_own_line(node)) continue;
      if (last_end(node) > last) first = bytes_.begin(key), last = last_end(node);
    }
    if (table.is_inline()) {
      auto const from = bytes_.begin(table), to = bytes_.end(table);
      if (table.empty()) text_.replace(from, to - from, "{ " + line + " }");
      else text_.insert(last, ", " + line);
      return;
    }
    if (&table != &root_ && !has_heading(table)) {  // made by dotted keys: one more of them
      auto const from = bytes_.line_start(first);
      prefix = text_.substr(from, first - from);
    }
    if (last == 0 && &table != &root_) last = bytes_.begin(table);
    auto const at = last == 0 ? 0 : bytes_.next_line(last);
    if (prefix.empty() && at > 0) {
      auto const line_start = bytes_.line_start(first == 0 ? last : first);
      prefix = text_.substr(line_start, text_.find_first_not_of(" \t", line_start) - line_start);
    }
    bool const open_end = at > 0 && text_[at - 1] != '\n';
    text_.insert(at, (open_end ? line_end_ : "") + prefix + line + line_end_);
  }

  void unset(toml::table const& table, std::vector<std::string> const& path) {
    auto const* here = &table;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
      auto const* node = here->get(path[i]);
      if (node && path[i + 1] == "kind" && i + 2 == path.size() && node->is_string()) return unset(*here, {path[i]});
      here = node ? node->as_table() : nullptr;
      if (!here) return;
    }
    auto const* node = here->get(path.back());
    if (!node) return;
    std::vector<std::pair<std::size_t, std::size_t>> all;  // of the keys of the table, from key to end of value
    std::pair<std::size_t, std::size_t> mine{};
    for (auto const& [key, value] : *here) {
      auto const one = std::pair{bytes_.begin(key), last_end(value)};
      if (&value == node) mine = one;
      all.push_back(one);
    }
    std::sort(all.begin(), all.end());
    auto const i = std::find(all.begin(), all.end(), mine) - all.begin();
    if (here->is_inline()) {
      if (all.size() == 1) replace(*here, "{}");
      else if (i == 0) text_.erase(mine.first, all[1].first - mine.first);
      else text_.erase(all[std::size_t(i) - 1].second, mine.second - all[std::size_t(i) - 1].second);
      return;
    }
    if (auto const* inner = node->as_table(); inner && !inner->is_inline() && !has_heading(*inner)) {  // dotted keys: line by line
      for (auto n = inner->size(); n > 0; --n) {
        std::vector<std::size_t> lines;
        for (auto const& [key, value] : *inner) lines.push_back(bytes_.begin(key));
        std::sort(lines.begin(), lines.end());
        auto const from = bytes_.line_start(lines[n - 1]);
        text_.erase(from, bytes_.next_line(from) - from);
      }
      return;
    }
    auto const from = bytes_.line_start(node->is_table() && has_heading(*node->as_table()) ? bytes_.begin(*node) : mine.first);
    text_.erase(from, bytes_.next_line(mine.second) - from);
  }

  /// From a heading to the end of the last line that belongs to it.
  Range block(toml::table const& table) const {
    std::pair const lines{bytes_.line_start(first_begin(table)), bytes_.next_line(last_end(table))};
    auto const is_among = [&](std::size_t i) { return lines.first <= i && i < lines.second; };
    for (auto const& [key, node] : root_) {
      auto const* list = node.is_array_of_tables() ? node.as_array() : nullptr;
      for (std::size_t i = 0; i < (list ? list->size() : 1); ++i)
        if (auto const& other = list ? *list->get(i) : node; &other != &table && is_among(list ? bytes_.begin(other) : bytes_.begin(key)) &&
                                                             (!table.is_inline() || list || other.source().begin != table.source().begin))
          throw BadEdit("this table is mixed with others in the file; edit it as text");
    }
    return lines;
  }
  /// Where the first of its words stand: of dotted keys the source is the dot's.
  std::size_t first_begin(toml::table const& table) const {
    auto first = bytes_.begin(table);
    if (!table.is_inline() && text_[first] != '[')
      for (auto const& [key, node] : table) first = std::min(first, bytes_.begin(key));
    return first;
  }

  /// The same with the comment right above it and a blank line before that.
  Range with_comment(toml::table const& table) const {
    auto [from, to] = block(table);
    auto const line_before = [&](std::size_t i) { return text_.substr(bytes_.line_start(i - 1), i - bytes_.line_start(i - 1)); };
    while (from > 0 && trimmed(line_before(from)).starts_with('#')) from = bytes_.line_start(from - 1);
    if (from > 0 && trimmed(line_before(from)).empty()) from = bytes_.line_start(from - 1);
    return {from, to};
  }
  /// A table at the end of its kind, in braces where the others are.
  void append_new(Kind const& kind, std::vector<std::string> const& lines) {
    auto const key = table_key(kind);
    if (auto const* node = root_.get(key); node && node->is_array() && !node->as_array()->empty() && is_in_braces(*node->as_array()))
      return append_item(key, fmt::format("{{ {} }}", fmt::join(lines, ", ")));
    auto text = heading(kind);
    for (auto const& line : lines) text += line + line_end_;
    append(key, text);
  }
  static bool is_in_braces(toml::array const& list) { return list.get(0)->is_table() && list.get(0)->as_table()->is_inline(); }
  /// Behind the last of a list of tables in braces, on a line of its own where that has one.
  void append_item(std::string const& key, std::string const& item) {
    auto const& last = *root_.get(key)->as_array()->get(root_.get(key)->as_array()->size() - 1);
    auto const from = bytes_.begin(last), line = bytes_.line_start(from);
    auto const indent = text_.substr(line, from - line);
    bool const own_line = indent.find_first_not_of(" \t") == indent.npos;
    text_.insert(bytes_.end(last), "," + (own_line ? line_end_ + indent : " ") + item);
  }
  void remove_item(std::string const& key, toml::array const& list, std::size_t i) {
    if (list.size() == 1) return unset(root_, {key});
    if (i + 1 < list.size())
      return void(text_.erase(bytes_.begin(*list.get(i)), bytes_.begin(*list.get(i + 1)) - bytes_.begin(*list.get(i))));
    auto const from = bytes_.end(*list.get(i - 1)), to = bytes_.end(*list.get(i));
    text_.erase(from, to - from);
  }
  void append(std::string const& key, std::string const& block_text) {
    std::size_t at = text_.size();
    if (auto const* node = root_.get(key); node && count(key) > 0) {
      auto const* array = node->as_array();
      at = block(array ? *array->get(array->size() - 1)->as_table() : *node->as_table()).second;
    }
    bool const open_end = at > 0 && text_[at - 1] != '\n';
    text_.insert(at, (open_end ? line_end_ : "") + line_end_ + block_text);
  }

  /// A table's name while it changes: who may speak of it, and what is called after it.
  struct Renaming {
    Kind const* kind;
    toml::node const* own;
    std::string old, now;
    std::vector<std::string> longer{};  ///< names of other zones that begin with this one and a space
    std::vector<std::pair<toml::node const*, std::string>> found{};

    bool is_joint() const { return kind->name == "joint"; }
    bool is_zone() const { return kind->name == "zone"; }
    bool is_piece() const { return kind->empty_batch != nullptr; }

    void replaces(toml::node const& n, std::size_t from = 0) {
      auto words = n.as_string()->get();
      found.emplace_back(&n, words.replace(from, old.size(), now));
    }
    /// A piece called after it, or by its own name.
    void as_piece(toml::node const& n, bool exact) {
      auto const* word = n.as_string();
      if (!word || &n == own) return;
      auto const& s = word->get();
      if ((exact && s == old) || (kind->begins_names && s.starts_with(old + "/"))) return replaces(n);
      for (auto const& before : kind->name_follows)
        if (s == before + old) return replaces(n, before.size());
    }
    /// A joint of that name, or one that an arrangement makes for a zone: "bath in".
    void as_joint(toml::node const& n) {
      auto const* word = n.as_string();
      if (!word) return;
      auto const& s = word->get();
      auto const of_other = [&](std::string const& zone) { return s.starts_with(zone + " "); };
      bool const made = is_zone() && s.starts_with(old + " ") && std::none_of(longer.begin(), longer.end(), of_other);
      if (made || (is_joint() && s == old)) replaces(n);
    }
  };

  void gather_names(toml::table const& table, Kind const* kind, Renaming& r) const {
    auto const each = [&](toml::node const& n, auto const& take) {
      if (auto const* list = n.as_array())
        for (auto const& item : *list) take(item);
      else take(n);
    };
    auto const ports = kind && !kind->branches.empty() ? port_keys(*kind) : std::vector<std::string>{};
    for (auto const& [key, node] : table) {
      std::string const word{key.str()};
      auto const* f = field(kind, word);
      bool const names_pieces = f && (f->sort == Field::Sort::reference || f->sort == Field::Sort::references);
      if (word == "name") r.as_piece(node, false);
      else if (holds(ports, word) || (f && word == "relief_joint")) r.as_joint(node);
      else if (names_pieces) each(node, [&](auto const& n) { r.as_piece(n, r.is_piece() || f->refers_to == r.kind->family); });
      else if (f && (word == "serves" || word == "pipe")) r.as_piece(node, r.is_piece() || r.is_zone());
      else if (f && word == "zone_output") r.as_piece(node, r.is_zone());
      else if (f && word == "tap") r.as_piece(node, r.kind->name == "tap");
      else if (f && f->sort == Field::Sort::entry && node.is_table()) gather_names(*node.as_table(), nested_kind(f, &node), r);
    }
  }

  std::string& text_;
  Catalog catalog_;
  toml::table const root_;
  Bytes const bytes_;
  std::string const line_end_;
  std::string table_;  ///< whose value is set
};

}  // namespace

std::string toml_text(std::string const& words) {
  std::ostringstream out;
  out << toml::toml_formatter{toml::value<std::string>{words}, toml::format_flags::allow_unicode_strings};
  return out.str();
}

std::string edited(std::string text, std::vector<Edit> const& edits, Catalog catalog) {
  for (auto const& e : edits) {
    Editor editor{text, catalog};
    switch (e.what) {
      case Edit::Do::set: editor.set(e.at, e.value); break;
      case Edit::Do::add: editor.add(e.at.table, e.value, e.like); break;
      case Edit::Do::remove: editor.remove(e.at); break;
      case Edit::Do::rename: editor.rename(e.at, e.value); break;
    }
  }
  return text;
}

}  // namespace steadyfire
