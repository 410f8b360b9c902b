#include "sim/scenario/edit.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <functional>
#include <random>

#include "tools/job/catalog.hpp"
#include "sim/core/files.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/toml.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using Path = std::vector<std::string>;

std::vector<fs::path> shipped() {
  std::vector<fs::path> files;
  for (auto const* folder : {"scenarios", "scenarios/readings"})
    for (auto const& entry : fs::directory_iterator{fs::path{in_source()} / folder})
      if (entry.path().extension() == ".toml" && toml::parse(read_file(entry.path()))["format"] &&
          !toml::parse(read_file(entry.path()))["readings"])
        files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

std::string changed(std::string const& text, std::vector<Edit> const& edits) { return edited(text, edits, catalog()); }
std::string set(std::string const& text, ValuePlace const& at, std::string const& value) {
  return changed(text, {{Edit::Do::set, at, value}});
}

/// Values by their path from the root, as TOML prints them; it knows nothing of the text's form.
using Values = std::map<Path, std::string>;
void gather(toml::node const& node, Path const& at, Values& all) {
  auto inner = [&](std::string word) {
    Path p = at;
    p.push_back(std::move(word));
    return p;
  };
  if (auto const* table = node.as_table()) {
    all[inner("")] = "a table";  // so that an empty one is told from none
    for (auto const& [key, value] : *table) gather(value, inner(std::string(key.str())), all);
  } else if (node.is_array_of_tables()) {
    int n = 0;
    for (auto const& item : *node.as_array()) gather(item, inner(std::to_string(n++)), all);
  } else {
    std::ostringstream out;
    node.visit([&](auto const& n) { out << n; });
    all[at] = out.str();
  }
}
Values values(std::string const& text) {
  Values all;
  gather(toml::parse(text), {}, all);
  return all;
}

struct Stated {
  ValuePlace at;
  Path path;        ///< from the root
  toml::node const* node;
};
/// Everything but tables, wherever it stands.
void state(toml::table const& table, ValuePlace const& at, Path const& path, std::vector<Stated>& all) {
  for (auto const& [key, node] : table) {
    if (node.is_array_of_tables()) continue;
    auto inner = at;
    auto whole = path;
    inner.path.emplace_back(key.str()), whole.emplace_back(key.str());
    if (auto const* below = node.as_table()) state(*below, inner, whole, all);
    else all.push_back({inner, whole, &node});
  }
}
std::vector<Stated> stated(toml::table const& root) {
  std::vector<Stated> all;
  for (auto const& [key, node] : root) {
    std::string const word{key.str()};
    if (auto const* table = node.as_table()) state(*table, {word, 0, {}}, {word}, all);
    else if (node.is_array_of_tables())
      for (int n = 0; auto const& item : *node.as_array()) state(*item.as_table(), {word, n, {}}, {word, std::to_string(n)}, all), ++n;
    else all.push_back({{"", 0, {word}}, {word}, &node});
  }
  return all;
}

/// As a user would type it: the form's field shows this.
std::string typed(toml::node const& node) {
  if (auto const* text = node.as_string()) return text->get();
  if (auto const* list = node.as_array()) {
    std::string all;
    for (auto const& item : *list) all += (all.empty() ? "" : ", ") + typed(item);
    return all;
  }
  if (auto const* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (node.is_integer()) return fmt::format("{}", node.value_or(0));
  double const x = node.value_or(0.0);
  return x == std::round(x) ? fmt::format("{:.1f}", x) : fmt::format("{}", x);
}

std::vector<std::string> lines(std::string const& text) {
  std::vector<std::string> all(1);
  for (char c : text) {
    all.back() += c;
    if (c == '\n') all.emplace_back();
  }
  return all;
}

TEST(Edit, AnyValueOfAnyShippedScenarioIsSetAloneAndBack) {
  int count = 0;
  for (auto const& file : shipped()) {
    SCOPED_TRACE(file.string());
    auto const text = read_file(file);
    auto const root = toml::parse(text);
    auto const before = values(text);
    for (auto const& s : stated(root)) {
      SCOPED_TRACE(testing::PrintToString(s.path));
      auto const was = typed(*s.node);
      EXPECT_TRUE(set(text, s.at, was) == text);
      std::string other = s.node->is_boolean() ? (was == "true" ? "false" : "true") : s.node->is_integer() ? "7" + was : "1" + was;
      if (s.node->is_array()) other = "1" + was;
      auto const after = set(text, s.at, other);
      auto expected = before, found = values(after);
      EXPECT_NE(expected.at(s.path), found.at(s.path));
      expected.erase(s.path), found.erase(s.path);
      EXPECT_EQ(expected, found);
      auto const a = lines(text), b = lines(after);
      ASSERT_EQ(a.size(), b.size());
      int differ = 0;
      for (std::size_t i = 0; i < a.size(); ++i) differ += a[i] != b[i];
      EXPECT_EQ(differ, 1);
      EXPECT_TRUE(set(after, s.at, was) == text);
      ++count;
    }
  }
  EXPECT_GT(count, 1000);
}

TEST(Edit, AZoneThatIsAddedAndRemovedLeavesNothing) {
  for (auto const& file : shipped()) {
    SCOPED_TRACE(file.string());
    auto const text = read_file(file);
    auto const root = toml::parse(text);
    auto const* zones = root["zone"].as_array();
    int const count = zones ? int(zones->size()) : 0;
    for (int like = -1; like < count; ++like) {
      Edit add{Edit::Do::add, {"zone", 0, {}}, "a new one"};
      if (like >= 0) add.like = like;
      auto const with = changed(text, {add});
      auto const expected = values(text);
      auto found = values(with);
      for (auto const& [path, value] : expected) EXPECT_EQ(found[path], value);
      EXPECT_EQ((found[{"zone", std::to_string(count), "name"}]), "'a new one'");
      if (like >= 0)
        for (auto const& [path, value] : expected)
          if (path.size() > 2 && path[0] == "zone" && path[1] == std::to_string(like) && path[2] != "name") {
            auto copy = path;
            copy[1] = std::to_string(count);
            EXPECT_EQ(found[copy], value) << testing::PrintToString(path);
          }
      EXPECT_TRUE(changed(with, {{Edit::Do::remove, {"zone", count, {}}, ""}}) == text) << like;
    }
  }
}

/// All that TOML allows and a person might write.
std::string const odd = R"(# µ head: a comment with ö [brackets] and "quotes"
format = 1
title = 'as "written"'   # literal
notes = """
two
lines"""
near_boiler.arrangement = "closely spaced tees"  # dotted, above all tables
near_boiler.size = '1 in copper M'

# of the site
[ site ]   # with blanks
outdoor_design="5 degF" # tight
weather = { kind = "daily wave", mean = "20 degF", swing = "12 degF" }

[boiler]
heating_input = "80 kBtu/h"
minimum_input = "19 kBtu/h"
"excess_air" = "25 %"
fuel = "natural gas"

# the bath, größer
[[zone]]
name = "bäth"
design_load = "4 kBtu/h" # ü
emitter = { kind = "panel radiator", output = "5 kBtu/h", cv = 0.8 } # { }
circulator = { duty = "small" }
room.construction = "light"
room.gains = [
  "0 Btu/h", # night
  "1 Btu/h",
]

[[zone]]
  name = "studio"   # indented
  design_load = "20 kBtu/h"
  circulator = {}
  [zone.emitter]
  kind = "fin-tube baseboard"
  length = "56 ft"
  # within the studio

[[pipe]]
name = "bäth/supply"
length = "20 ft"

# last words
[run]
duration = "1 d")";

/// Tables as values, and tables that only those inside them bring about.
std::string const braces = R"(format = 1
title = "t"
site = { outdoor_design = "5 degF", weather = { kind = "constant", outdoors = "5 degF" } }
zone = [
  { name = "a", elbows = 3, emitter = "panel radiator" },  # first
  { name = "b" }
]

[near_boiler.circulator]
duty = "small"

[hot_water]
recirculation.zone_output = "a"
[hot_water.storage]
volume = "2 gal"
)";

std::string with_crlf(std::string const& text) {
  std::string all;
  for (char c : text) all += c == '\n' ? std::string{"\r\n"} : std::string(1, c);
  return all;
}

using Difference = std::pair<std::string, std::string>;
/// Old and new text, but for what they share at both ends.
Difference difference(std::string const& a, std::string const& b) {
  auto const most = std::min(a.size(), b.size());
  std::size_t from = 0, back = 0;
  while (from < most && a[from] == b[from]) ++from;
  while (back < most - from && a[a.size() - 1 - back] == b[b.size() - 1 - back]) ++back;
  return {a.substr(from, a.size() - from - back), b.substr(from, b.size() - from - back)};
}

TEST(Edit, WhateverTheFormOnlyTheValueChanges) {
  for (auto const& text : {odd, with_crlf(odd)}) {
    auto const changes = [&](ValuePlace const& at, std::string const& value, std::string const& from, std::string const& to) {
      auto const [old, now] = difference(text, set(text, at, value));
      EXPECT_EQ(old, from);
      EXPECT_EQ(now, to);
    };
    changes({"", 0, {"title"}}, "as you like", "'as \"written\"'", "\"as you like\"");
    changes({"site", 0, {"outdoor_design"}}, "7 degF", "5", "7");
    changes({"near_boiler", 0, {"size"}}, "2 in copper M", "'1 in copper M'", "\"2 in copper M\"");
    changes({"near_boiler", 0, {"arrangement"}}, "direct", "closely spaced tees", "direct");
    changes({"boiler", 0, {"excess_air"}}, "35 %", "2", "3");
    changes({"zone", 0, {"design_load"}}, "9 kBtu/h", "4", "9");
    changes({"zone", 0, {"emitter", "cv"}}, "0.9", "8", "9");
    changes({"zone", 1, {"emitter", "length"}}, "50 ft", "6", "0");
    changes({"zone", 0, {"room", "construction"}}, "heavy", "light", "heavy");
    changes({"zone", 0, {"room", "gains"}}, "0 Btu/h, 2 Btu/h", "1", "2");
    changes({"zone", 0, {"room", "gains"}}, "0 Btu/h, 1 Btu/h", "", "");
    changes({"run", 0, {"duration"}}, "2 d", "1", "2");
  }
}

TEST(Edit, KeysAreMadeWhereTheyBelongAndTakenAway) {
  for (auto const& text : {odd, with_crlf(odd)}) {
    std::string const end = text.find('\r') == text.npos ? "\n" : "\r\n";
    auto const made = [&](ValuePlace const& at, std::string const& value, std::string const& words) {
      SCOPED_TRACE(testing::PrintToString(at.path));
      auto const after = set(text, at, value);
      EXPECT_EQ(difference(text, after).first, "");
      EXPECT_EQ(after.size() - text.size(), words.size());
      EXPECT_THAT(difference(text, text + "x" + after).second, HasSubstr(words));
      EXPECT_NO_THROW(toml::parse(after));
      EXPECT_TRUE(set(after, at, "") == text || at.path.size() > 1);
      return after;
    };
    made({"", 0, {"author"}}, "me", "author = \"me\"" + end);
    made({"near_boiler", 0, {"elbows"}}, "3", "near_boiler.elbows = 3" + end);
    made({"near_boiler", 0, {"circulator", "duty"}}, "small", "near_boiler.circulator = { duty = \"small\" }" + end);
    made({"boiler", 0, {"prepurge"}}, "unknown", "prepurge = \"unknown\"" + end);
    auto const inside = made({"zone", 0, {"emitter", "exponent"}}, "1.3", ", exponent = 1.3");
    EXPECT_TRUE(set(inside, {"zone", 0, {"emitter", "exponent"}}, "") == text);
    auto const dotted = made({"zone", 0, {"room", "start"}}, "60 degF", "room.start = \"60 degF\"" + end);
    EXPECT_TRUE(set(dotted, {"zone", 0, {"room", "start"}}, "") == text);
    auto const below = made({"zone", 1, {"emitter", "tube"}}, "1 in copper M", "  tube = \"1 in copper M\"" + end);
    EXPECT_TRUE(set(below, {"zone", 1, {"emitter", "tube"}}, "") == text);
    auto const own = made({"zone", 1, {"elbows"}}, "4", "  elbows = 4" + end);
    EXPECT_EQ(values(own).at({"zone", "1", "elbows"}), "4");
    EXPECT_EQ(values(set(text, {"zone", 1, {"circulator", "duty"}}, "small")).at({"zone", "1", "circulator", "duty"}), "'small'");
    EXPECT_THAT(set(text, {"controls", 0, {"reset", "cold_supply"}}, "160 degF"),
                testing::EndsWith("duration = \"1 d\"" + end + end + "[controls]" + end + "reset = { cold_supply = \"160 degF\" }" + end));
    EXPECT_THAT(set(text, {"circulator", 0, {"duty"}, "bäth/circulator"}, "small"),
                HasSubstr("[[circulator]]" + end + "name = \"bäth/circulator\"" + end + "duty = \"small\"" + end));
    EXPECT_THAT(set(set(text, {"site", 0, {"weather"}}, ""), {"site", 0, {"weather", "outdoors"}}, "3 degF"),
                HasSubstr("weather = { kind = \"constant\", outdoors = \"3 degF\" }" + end)) << "the only kind that knows this key";
  }
}

TEST(Edit, TablesGoWithTheirCommentAndRenamesAreFollowed) {
  for (auto const& text : {odd, with_crlf(odd)}) {
    for (auto const& [table, index] :
         {std::pair<std::string, int>{"site", 0}, {"boiler", 0}, {"zone", 0}, {"zone", 1}, {"pipe", 0}, {"run", 0}}) {
      SCOPED_TRACE(table);
      auto const after = changed(text, {{Edit::Do::remove, {table, index, {}}, ""}});
      bool const is_bath = table == "zone" && index == 0;  // whose pipe the text changes
      auto const of_it = [&](Path const& p) {
        return (is_bath && p[0] == "pipe") || (p[0] == table && (table != "zone" || p[1] == std::to_string(index)));
      };
      Values expected;
      for (auto const& [path, value] : values(text))
        if (!of_it(path)) {
          auto at = path;
          if (at[0] == "zone" && is_bath) at[1] = "0";
          expected[at] = value;
        }
      EXPECT_EQ(values(after), expected);
      EXPECT_EQ(after.find("\n\n\n"), std::string::npos);
      EXPECT_EQ(after.find("\r\n\r\n\r\n"), std::string::npos);
    }
    auto const without = changed(text, {{Edit::Do::remove, {"zone", 0, {}}, ""}});
    EXPECT_EQ(without.find("the bath, größer"), std::string::npos);
    auto const renamed = changed(text, {{Edit::Do::rename, {"zone", 0, {}}, "wet \"room\""}});
    EXPECT_EQ(values(renamed).at({"zone", "0", "name"}), "'wet \"room\"'");
    EXPECT_EQ(values(renamed).at({"pipe", "0", "name"}), "'wet \"room\"/supply'");
    EXPECT_TRUE(changed(renamed, {{Edit::Do::rename, {"zone", 0, {}}, "bäth"}}) == text);
  }
}

TEST(Edit, RenamesReachAllThatNamesAZone) {
  std::string const text =
      "[[zone]]\nname = \"a\"\n[[zone]]\nname = \"a b\"\n[[output]]\nname = \"one\"\nserves = \"a\"\n[[output]]\nname = \"two\"\n"
      "serves = \"a b/circulator\"\n[[pipe]]\nname = \"spare\"\nfrom = \"a in\"\nto = \"a b in\"\naround = \"a/room\"\n"
      "[[circulator]]\nname = \"p\"\ncalls = [\"a/thermostat\", \"a b/thermostat\"]\n[[pipe]]\nname = \"headers/to a\"\n"
      "[hot_water]\nrecirculation = { zone_output = \"a\" }\n[[cold_run]]\nname = \"a\"\npipe = \"a/supply\"\n";
  auto const found = values(changed(text, {{Edit::Do::rename, {"zone", 0, {}}, "bath"}}));
  auto const at = [&](Path const& path) { return found.at(path); };
  EXPECT_EQ(at({"zone", "0", "name"}), "'bath'");
  EXPECT_EQ(at({"zone", "1", "name"}), "'a b'");
  EXPECT_EQ(at({"output", "0", "serves"}), "'bath'");
  EXPECT_EQ(at({"output", "1", "serves"}), "'a b/circulator'");
  EXPECT_EQ(at({"pipe", "0", "from"}), "'bath in'");
  EXPECT_EQ(at({"pipe", "0", "to"}), "'a b in'");
  EXPECT_EQ(at({"pipe", "0", "around"}), "'bath/room'");
  EXPECT_THAT(at({"circulator", "0", "calls"}), testing::AllOf(HasSubstr("'bath/thermostat'"), HasSubstr("'a b/thermostat'")));
  EXPECT_EQ(at({"pipe", "1", "name"}), "'headers/to bath'");
  EXPECT_EQ(at({"hot_water", "recirculation", "zone_output"}), "'bath'");
  EXPECT_EQ(at({"cold_run", "0", "name"}), "'a'");
  EXPECT_EQ(at({"cold_run", "0", "pipe"}), "'bath/supply'");
}

TEST(Edit, WhatIsTypedIsWrittenByTheSortOfItsField) {
  std::string const text = "format = 1\ntitle = \"t\"\n[[zone]]\nname = \"a\"\nemitter = \"panel radiator\"\n";
  auto const line = [&](Path const& path, std::string const& value) { return lines(set(text, {"zone", 0, path}, value)).at(5); };
  EXPECT_EQ(line({"elbows"}, " 4 "), "elbows = 4\n");
  EXPECT_EQ(line({"elbows"}, "four"), "elbows = \"four\"\n");
  EXPECT_EQ(line({"elbows"}, "4] # = \"x"), "elbows = \"4] # = \\\"x\"\n");
  EXPECT_EQ(line({"balancing_cv"}, "2.50"), "balancing_cv = 2.50\n");
  EXPECT_EQ(line({"balancing_cv"}, "inf\nx = 1"), "balancing_cv = \"inf\\nx = 1\"\n");
  EXPECT_EQ(line({"supply_length"}, "30 ft"), "supply_length = \"30 ft\"\n");
  EXPECT_EQ(line({"supply_length"}, "30"), "supply_length = \"30\"\n");
  EXPECT_EQ(line({"size"}, "3/4 in copper M"), "size = \"3/4 in copper M\"\n");
  EXPECT_EQ(line({"circulator", "duty"}, "small"), "circulator = { duty = \"small\" }\n");
  EXPECT_EQ(line({"mixing"}, "injection circulator"), "mixing = { kind = \"injection circulator\" }\n");
  EXPECT_EQ(line({"room", "gains"}, "0 W, 5 W"), "room = { gains = [\"0 W\", \"5 W\"] }\n");
  EXPECT_EQ(line({"no_such"}, "x"), "no_such = \"x\"\n");
  EXPECT_EQ(lines(set(text, {"zone", 0, {"emitter", "output"}}, "5 kW")).at(4),
            "emitter = { kind = \"panel radiator\", output = \"5 kW\" }\n");
}

TEST(Edit, PlacesThatAreNoneAreRefused) {
  auto const refused = [](Edit const& e) { EXPECT_THROW(changed(odd, {e}), BadEdit) << e.at.table << testing::PrintToString(e.at.path); };
  using Do = Edit::Do;
  refused({Do::set, {"zone", 5, {"elbows"}, "x"}, "1"});
  refused({Do::set, {"zone", 2, {"elbows"}}, "1"});
  refused({Do::set, {"zoo", 0, {"elbows"}}, "1"});
  refused({Do::set, {"zone", 0, {}}, "1"});
  refused({Do::set, {"zone", 0, {""}}, "1"});
  refused({Do::set, {"site", 1, {"ground"}}, "1"});
  refused({Do::set, {"zone", 0, {"room", "gains", "0"}}, "1"});
  refused({Do::remove, {"zone", 2, {}}, ""});
  refused({Do::remove, {"", 0, {}}, ""});
  refused({Do::rename, {"zone", 2, {}}, "x"});
  refused({Do::rename, {"site", 0, {}}, "x"});
  refused({Do::rename, {"zone", 0, {}}, " "});
  refused({Do::add, {"site", 0, {}}, "x"});
  refused({Do::add, {"", 0, {}}, "x"});
  refused({Do::add, {"zone", 0, {}}, ""});
  refused({Do::add, {"zone", 0, {}}, "x", 7});
  EXPECT_THROW(changed("a = ", {{Do::set, {"site", 0, {"ground"}}, "1"}}), BadInput);
}

TEST(Edit, TablesInBracesAndTablesWithoutAHeadingAreEditedToo) {
  auto const is = [](std::string const& text, Path const& path, std::string const& value) {
    auto const all = values(text);
    auto const found = all.find(path);
    ASSERT_NE(found, all.end()) << text;
    EXPECT_EQ(found->second, value) << text;
  };
  is(set(braces, {"site", 0, {"ground"}}, "50 degF"), {"site", "ground"}, "'50 degF'");
  is(set(braces, {"site", 0, {"weather", "outdoors"}}, "7 degF"), {"site", "weather", "outdoors"}, "'7 degF'");
  is(set(braces, {"zone", 0, {"elbows"}}, "4"), {"zone", "0", "elbows"}, "4");
  is(set(braces, {"zone", 1, {"elbows"}}, "4"), {"zone", "1", "elbows"}, "4");
  is(set(braces, {"zone", 0, {"emitter", "output"}}, "5 kW"), {"zone", "0", "emitter", "output"}, "'5 kW'");
  is(set(braces, {"near_boiler", 0, {"size"}}, "1 in copper M"), {"near_boiler", "size"}, "'1 in copper M'");
  is(set(braces, {"near_boiler", 0, {"circulator", "duty"}}, "medium"), {"near_boiler", "circulator", "duty"}, "'medium'");
  is(set(braces, {"hot_water", 0, {"set_point"}}, "120 degF"), {"hot_water", "set_point"}, "'120 degF'");
  is(changed(braces, {{Edit::Do::add, {"zone", 0, {}}, "c"}}), {"zone", "2", "name"}, "'c'");
  is(changed(braces, {{Edit::Do::add, {"zone", 0, {}}, "c", 0}}), {"zone", "2", "elbows"}, "3");
  is(changed(braces, {{Edit::Do::remove, {"zone", 0, {}}, ""}}), {"zone", "0", "name"}, "'b'");
  is(changed(braces, {{Edit::Do::rename, {"zone", 0, {}}, "c"}}), {"hot_water", "recirculation", "zone_output"}, "'c'");
  auto const none = changed(braces, {{Edit::Do::remove, {"near_boiler", 0, {}}, ""},
                                     {Edit::Do::remove, {"hot_water", 0, {}}, ""},
                                     {Edit::Do::remove, {"site", 0, {}}, ""}});
  for (auto const* key : {"near_boiler", "hot_water", "site"}) EXPECT_FALSE(toml::parse(none).contains(key)) << none;
}

TEST(Edit, NoRowOfEditsMakesATextThatCannotBeParsed) {
  std::mt19937 random{20261125};
  auto const any = [&](std::size_t n) { return std::size_t(random() % n); };
  std::vector<std::string> const words{"",        "8 gpm", "\"",   "'",    "''' \"\"\"", "# no", "a, b",          "[1",  "{ kind = 1",
                                       "unknown", "\\",    "ü\n",  "1.5",  "bäth",       "=",    "panel radiator", "true"};
  std::vector<std::string> texts{odd, with_crlf(odd), braces};
  for (auto const& f : shipped()) texts.push_back(read_file(f));
  long done = 0;
  for (auto const& start : texts) {
    auto text = start;
    for (int n = 0; n < 60; ++n) {
      auto const& kind = catalog()[any(catalog().size())];
      Edit e{Edit::Do(any(6) < 4 ? 0 : 1 + any(3)), {table_key(kind), int(any(3)), {}}, words[any(words.size())]};
      auto const root = toml::parse(text);
      auto const places = stated(root);
      if (any(3) && !places.empty()) e.at = places[any(places.size())].at;
      else if (!kind.fields.empty()) e.at.path = {kind.fields[any(kind.fields.size())].key};
      if (any(8) == 0) e.at = {"", 0, {any(2) ? table_key(kind) : "title"}};
      if (any(4) == 0) e.at.path.push_back(words[any(words.size())] + "k");
      if (any(2)) e.at.name = "n";
      if (any(2) && e.what == Edit::Do::add) e.like = int(any(3));
      auto const before = text;
      try {
        text = changed(text, {e});
        ++done;
      } catch (BadEdit const&) {
        continue;
      }
      try {
        (void)toml::parse(text);
      } catch (toml::parse_error const& error) {
        auto const [old, now] = difference(before, text);
        FAIL() << error.description() << " do " << int(e.what) << " " << e.at.table << " " << e.at.index << " "
               << testing::PrintToString(e.at.path) << " = " << e.value << " | " << old << " -> " << now;
      }
    }
  }
  EXPECT_GT(done, 500);
}

}  // namespace
}  // namespace steadyfire
