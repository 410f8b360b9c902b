#include "sim/scenario/reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>

#include "sim/core/files.hpp"
#include "sim/scenario/syntax.hpp"
#include "sim/scenario/table_reader.hpp"

namespace steadyfire {

namespace {
constexpr std::size_t most_bytes = 5'000'000;
constexpr int format_of_today = 1;

/// Faults that stand before any syntax. True if there are none.
bool is_text(std::string const& text, Diagnostics& faults) {
  auto const nul = text.find('\0');
  auto const line_of = [&](std::size_t byte) { return Position{1 + int(std::count(text.begin(), text.begin() + long(byte), '\n')), 0}; };
  if (text.size() > most_bytes)
    faults.add({"E102", {}, "the file is larger than 5 MB", "a scenario file, usually a few kB", "check the file name"});
  else if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
    faults.add({"E103",
                {},
                "the file is in UTF-16",
                "a text file in UTF-8",
                "save it again with encoding UTF-8"});
  else if (nul != std::string::npos)
    faults.add({"E103", line_of(nul), "not a text file: it contains a zero byte", "a TOML text file in UTF-8",
        "save it again with encoding UTF-8"});
  else if (text.find_first_not_of(" \t\r\n") == std::string::npos)
    faults.add({"E104", {}, "the file is empty", "format = 1, then tables", "start with 'steadyfire new house.toml'"});
  return faults.empty();
}

class DocumentReader {
 public:
  DocumentReader(Document& document, Catalog catalog, Diagnostics& faults, toml::table const& root)
      : document_{document}, catalog_{catalog}, faults_{faults}, root_{root}, arranged_{root.contains("boiler") || root.contains("zone")} {}

  void read() {
    if (!format_is_known()) return;
    read_top();
    for (auto const& [key, node] : root_) read_tables(key, node);
    std::stable_sort(document_.tables.begin(), document_.tables.end(), [](auto const& a, auto const& b) { return a.at < b.at; });
    refuse_same_names();
  }

 private:
  /// Without a format the rest is read all the same; of another format nothing is known.
  bool format_is_known() {
    std::string const hint = "write format = 1 at the top of the file";
    auto const* node = root_.get("format");
    if (!node) {
      auto const is_meant = [](auto const& entry) { return !nearest(entry.first.str(), {"format"}).empty(); };
      if (std::none_of(root_.begin(), root_.end(), is_meant))
        faults_.add({"E106", {1, 0}, "'format' is missing", "format = 1", hint});
      return true;
    }
    auto const format = node->is_integer() ? node->value_or<int64_t>(0) : 0;
    if (format == format_of_today) return true;
    faults_.add({"E107", position_of(*node), "format is " + type_text(*node), "format = 1",
                 format > format_of_today ? "this file needs a newer version of this program" : hint});
    return false;
  }

  void read_top() {
    Kind const* top = find_kind(catalog_, "scenario");
    if (!top) throw InternalError("the catalog has no kind 'scenario'");
    TableRules rules;
    rules.elsewhere.push_back("format"), rules.tables_elsewhere = true;
    for (auto const& [key, node] : root_)
      if (!is_top_key(*top, key.str()) && kind_at(key.str())) rules.elsewhere.emplace_back(key.str());
    document_.root = read_table(*top, root_, {1, 0}, rules, {catalog_, faults_, "scenario"});
  }

  void read_tables(toml::key const& key, toml::node const& node) {
    auto const* kind = kind_at(key.str());
    if (is_top_key(*document_.root.kind, key.str()) || key.str() == "format" || (!kind && !is_table(node))) return;
    std::string const name{key.str()}, once = "[" + name + "]", often = "[[" + name + "]]";
    auto const *table = node.as_table();
    auto const *array = node.as_array();
    if (!kind && faults_.is_full()) {
      faults_.add({"E202", place_of(key, node), "", "", ""});
    } else if (!kind) {
      std::vector<std::string> known;
      for (auto const& k : catalog_)
        if (k.home != Home::nested && k.name != "scenario") known.push_back(table_key(k));
      auto const near = did_you_mean(name, known);
      faults_.add({"E202", place_of(key, node), "unknown table " + in_quotes(name),
                   near.empty() ? fmt::format("one of: {}", fmt::join(known, ", ")) : "", near});
    } else if (!table && !array) {
      faults_.add({"E209", position_of(node), "'" + name + "' is " + type_text(node),
                   "a table " + (kind->home == Home::single ? once : often), ""});
    } else {  // with the wrong brackets it is read all the same, for its other faults
      if (array && kind->home == Home::single)
        faults_.add({"E217", place_of(key, node), once + " may appear only once", once + " with single brackets",
            "use single brackets, once in the file"});
      if (table && kind->home == Home::repeated)
        faults_.add({"E217", place_of(key, node), often + " has single brackets here", often + " with double brackets", "write " + often});
      if (table) read_one(*kind, *table, position_of(node));
      else for (auto const& item : *array)
        if (auto const* one = item.as_table()) read_one(*kind, *one, position_of(item));
        else faults_.add({"E209", position_of(item), "'" + name + "' contains " + type_text(item), "a table " + often, ""});
    }
  }

  void read_one(Kind const& kind, toml::table const& table, Position at) {
    bool const repeated = kind.home == Home::repeated, joined = !kind.branches.empty();
    TableRules const rules{.named = repeated && !kind.is_nameless,
                           .ports = joined,
                           .ports_needed = repeated && joined && !arranged_,
                           .may_lack_keys = repeated && joined && arranged_};
    auto entry = read_table(kind, table, at, rules, {catalog_, faults_, kind.name});
    if (faults_.is_full()) return;  // read for its faults alone: nobody will use so bad a file
    if (auto const* name = table.get("name")) name_at_[at] = position_of(*name);
    document_.tables.push_back(std::move(entry));
  }

  /// All pieces share one space of names, as they are told apart by name alone in drawings
  /// and records; sections of the file have one for each family.
  void refuse_same_names() {
    std::map<std::pair<std::string, std::string>, Entry const*> seen;
    for (auto const& entry : document_.tables) {
      if (entry.name.empty()) continue;
      auto const [known, is_new] = seen.try_emplace({entry.kind->empty_batch ? "" : entry.kind->family, entry.name}, &entry);
      if (!is_new)
        faults_.add({"E215", name_at_.at(entry.at),
                     entry.kind->name + ": the name '" + entry.name + "' is already used by a " + known->second->kind->name,
                         "a unique name",
                     "", name_at_.at(known->second->at)});
    }
  }

  Kind const* kind_at(std::string_view key) const {
    for (auto const& k : catalog_)
      if (k.home != Home::nested && k.name != "scenario" && table_key(k) == key) return &k;
    return nullptr;
  }
  static bool is_top_key(Kind const& top, std::string_view key) {
    return std::any_of(top.fields.begin(), top.fields.end(), [&](auto const& f) { return f.key == key; });
  }
  /// The heading of a table, or its key where it is written as one.
  static Position place_of(toml::key const& key, toml::node const& node) { return std::min(position_of(key), position_of(node)); }

  Document& document_;
  Catalog catalog_;
  Diagnostics& faults_;
  toml::table const& root_;
  std::map<Position, Position> name_at_;  ///< by the heading of the table
  bool arranged_;  ///< the file leaves piping to an arrangement
};

/// "did you mean 'house.toml'?": of the scenarios beside a file that is not there.
std::string nearest_file(std::filesystem::path const& file) {
  std::vector<std::string> names;
  std::error_code none;
  for (auto const& entry : std::filesystem::directory_iterator{file.parent_path().empty() ? "." : file.parent_path(), none})
    if (entry.path().extension() == ".toml") names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());  // of two as near the first, on every machine
  auto const asked = file.filename().string();
  auto const near = holds(names, asked + ".toml") ? asked + ".toml" : nearest(asked, names);
  return near.empty() ? "" : "did you mean '" + (file.parent_path() / near).string() + "'?";
}
}  // namespace

Entry const* Document::find(std::string_view kind) const {
  for (auto const& t : tables)
    if (t.kind->name == kind) return &t;
  return nullptr;
}

Document read_document(std::string file, std::string text, Catalog catalog, Diagnostics& faults) {
  Document document{std::move(file), std::move(text), {}, {}};
  if (!is_text(document.text, faults)) return document;
  try {
    auto const root = parse_toml(document.text);
    DocumentReader{document, catalog, faults, root}.read();
  } catch (toml::parse_error const& error) {
    faults.add(explain_syntax(document.text, position_of(error.source()), error.description()));
  }
  return document;
}

std::string read_text(std::string const& file) {
  auto const refuse = [&](std::string code, std::string words, std::string expected, std::string hint = "") {
    Diagnostics faults;
    faults.add({std::move(code), {}, std::move(words), std::move(expected), std::move(hint)});
    throw BadInput(faults.render(file, ""));
  };
  std::error_code error;
  if (!std::filesystem::exists(file, error)) refuse("E101", "file not found", "the name of a scenario file", nearest_file(file));
  if (std::filesystem::is_directory(file, error)) refuse("E101", "this is a folder, not a file", "the name of a scenario file");
  std::ifstream in{file, std::ios::binary};
  if (!in) refuse("E101", "the file cannot be opened", "a readable file", "check its permissions");
  std::string text(most_bytes + 1, '\0');
  note_read(file);
  in.read(text.data(), std::streamsize(text.size()));
  text.resize(std::size_t(in.gcount()));
  if (text.size() > most_bytes) refuse("E102", "the file is larger than 5 MB", "a scenario file, usually a few kB", "check the file name");
  return text;
}

}  // namespace steadyfire
