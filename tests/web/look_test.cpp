// What the page is told of every shipped scenario as it stands.

#include <gtest/gtest.h>

#include <ctime>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "tools/web/engine.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {
namespace {

std::filesystem::path const scenarios = std::filesystem::path{in_source()} / "scenarios";

Json asked_of(std::filesystem::path const& file) {
  std::ifstream in{file};
  std::ostringstream text;
  text << in.rdbuf();
  return {{"text", text.str()}, {"file", file.string()}, {"units", "us"}};
}
std::vector<std::filesystem::path> shipped() {
  std::vector<std::filesystem::path> all;
  for (auto const& f : std::filesystem::directory_iterator{scenarios})
    if (f.path().extension() == ".toml") all.push_back(f.path());
  std::sort(all.begin(), all.end());
  return all;
}
Json look_at(std::string const& name) { return answer("look", asked_of(scenarios / name)); }
Json const& piece(Json const& look, std::string const& id) {
  for (auto const& p : look.at("pieces"))
    if (p.at("id") == id) return p;
  throw std::out_of_range(id);
}

// A house of many zones is what a page may be asked to draw; where each piece is stated was once sought through all tables for each.
double seconds_of_look(int zones) {
  std::ostringstream text;
  text << "format = 1\ntitle = \"many\"\n[boiler]\nheating_input = \"900 kBtu/h\"\nminimum_input = \"90 kBtu/h\"\n";
  for (int z = 0; z < zones; ++z)
    text << "[[zone]]\nname = \"" << z
         << "\"\ndesign_load = \"2 kBtu/h\"\nemitter = { kind = \"panel radiator\", output = \"3 kBtu/h\" }\ncirculator = {}\n";
  auto const began = std::clock();
  auto const look = answer("look", {{"text", text.str()}, {"units", "us"}});
  EXPECT_TRUE(look.at("faults").empty()) << look.at("faults");
  return double(std::clock() - began) / CLOCKS_PER_SEC;
}

class Shipped : public testing::TestWithParam<std::filesystem::path> {};
INSTANTIATE_TEST_SUITE_P(Scenarios, Shipped, testing::ValuesIn(shipped()), [](auto const& p) { return p.param.stem().string(); });

TEST(Look, TakesLittleMoreThanTwiceForTwiceTheZones) {
  double const half = seconds_of_look(50), whole = seconds_of_look(100);
  EXPECT_LT(whole, 3 * half);
}

TEST_P(Shipped, IsDrawnWithoutCrossings) {
  auto const look = answer("look", asked_of(GetParam()));
  ASSERT_TRUE(look.at("faults").empty()) << look.at("faults");
  EXPECT_EQ(look.at("crossings"), 0);
}

TEST_P(Shipped, TellsEachDrawnPiece) {
  auto const look = answer("look", asked_of(GetParam()));
  std::set<std::string> known;
  for (auto const& p : look.at("pieces")) known.insert(p.at("id"));
  auto const svg = look.at("svg").get<std::string>();
  int drawn = 0;
  for (std::size_t at = 0; (at = svg.find("<g id=\"piece:", at)) != std::string::npos; ++drawn) {
    auto const from = at + 13, to = svg.find('"', from);
    EXPECT_TRUE(known.count(svg.substr(from, to - from))) << svg.substr(from, to - from);
    at = to;
  }
  EXPECT_GT(drawn, 3);
}

TEST_P(Shipped, SaysOfEachPieceWhereItsValuesStand) {
  auto const request = asked_of(GetParam());
  auto const look = answer("look", request);
  for (auto const& p : look.at("pieces")) {
    auto const& at = p.at("at");
    bool stands = false;
    for (auto const& t : look.at("tables")) {
      if (t.at("table") != at.at("table") || t.at("index") != at.at("index")) continue;
      Json const* values = &t.at("values");
      stands = true;
      for (auto const& key : at.at("path")) {
        Json const* below = nullptr;
        for (auto const& v : *values)
          if (v.at("key") == key) below = &v;
        stands = stands && below;
        if (!below) break;
        static Json const none = Json::array();
        values = below->contains("values") ? &below->at("values") : &none;
      }
    }
    EXPECT_EQ(stands, p.at("is_stated").get<bool>()) << p.at("id");
  }
}

TEST(Look, APieceOfAZoneLeadsToItsEntry) {
  auto const look = look_at("four_zone_house.toml");
  auto const circulator = piece(look, "bath/circulator").at("at");
  EXPECT_EQ(circulator, (Json{{"table", "zone"}, {"index", 2}, {"path", {"circulator"}}}));
  EXPECT_EQ(piece(look, "boiler").at("at"), (Json{{"table", "boiler"}, {"index", 0}, {"path", Json::array()}}));
  EXPECT_EQ(piece(look, "bath/supply").at("at"),
            (Json{{"table", "pipe"}, {"index", 0}, {"path", Json::array()}, {"name", "bath/supply"}}));
}

TEST(Look, AnOverrideThatIsSetTakesHold) {
  auto request = asked_of(scenarios / "four_zone_house.toml");
  auto at = piece(answer("look", request), "bath/supply").at("at");
  at["path"].push_back("length");
  request["edits"] = {{{"do", "set"}, {"at", at}, {"value", "42 ft"}}};
  auto const edited = answer("edit", request);
  ASSERT_TRUE(edited.at("faults").empty()) << edited.at("faults");
  request["text"] = edited.at("text");
  auto const changed = piece(answer("look", request), "bath/supply");
  EXPECT_TRUE(changed.at("is_stated").get<bool>());
  EXPECT_EQ(changed.at("taken")[0], (Json{{"key", "length"}, {"words", "42 ft"}, {"whose", "stated"}}));
}

TEST(Look, ShowsTheStateThatIsAskedFor) {
  auto request = asked_of(scenarios / "four_zone_house.toml");
  request["calls"] = {"bath", "living"};
  auto const look = answer("look", request);
  EXPECT_EQ(look.at("states")[look.at("shown").get<int>()].at("calls"), (Json{"living", "bath"}));
  request["calls"] = {"cellar"};
  EXPECT_THROW(answer("look", request), BadRequest);
}

TEST(Look, AFaultLiesAtItsValue) {
  auto request = asked_of(scenarios / "four_zone_house.toml");
  Json const at{{"table", "zone"}, {"index", 2}, {"path", {"emitter", "output"}}};
  request["edits"] = {{{"do", "set"}, {"at", at}, {"value", "6 gpm"}}};
  auto const edited = answer("edit", request);
  ASSERT_EQ(edited.at("faults").size(), 1u);
  EXPECT_EQ(edited.at("faults")[0].at("at"), at);
  EXPECT_EQ(edited.at("faults")[0].at("code"), "E207");
}

TEST(Look, ATextWithASlipTellsItAndItsTablesAreEmpty) {
  auto const look = answer("look", {{"text", "format = 1\ntitle = \"x\n"}, {"file", ""}, {"units", "us"}});
  ASSERT_EQ(look.at("faults").size(), 1u);
  EXPECT_EQ(look.at("faults")[0].at("line"), 2);
  EXPECT_TRUE(look.at("tables").empty());
}

TEST(Asks, RefuseWhatIsNoRequest) {
  Json const good{{"text", "format = 1\n"}, {"file", ""}, {"units", "us"}};
  for (auto const* name : {"look", "edit", "knobs", "run", "document"}) {
    EXPECT_THROW(answer(name, Json::array()), BadRequest) << name;
    EXPECT_THROW(answer(name, {{"text", 5}, {"units", "us"}}), BadRequest) << name;
    EXPECT_THROW(answer(name, {{"text", ""}, {"units", "furlongs"}}), BadRequest) << name;
  }
  auto edit = good;
  for (auto const& bad : {Json{{"do", "fly"}}, Json{{"do", "set"}}, Json{{"do", "remove"}, {"table", "zone"}, {"index", 7}},
                          Json{{"do", "set"}, {"at", {{"table", "nothing"}, {"index", 0}, {"path", {"x"}}}}, {"value", "1"}},
                          Json{{"do", "set"}, {"at", {{"table", "zone"}, {"index", -1}, {"path", {"x"}}}}, {"value", "1"}},
                          Json{{"do", "set"}, {"at", {{"table", "boiler"}, {"index", 0}, {"path", Json::array()}}}, {"value", "1"}}}) {
    edit["edits"] = Json::array({bad});
    EXPECT_THROW(answer("edit", edit), BadRequest) << bad;
  }
  EXPECT_THROW(answer("guess", good), BadRequest);
}

}  // namespace
}  // namespace steadyfire::web

// Graphviz keeps some of its own memory to the end.
extern "C" char const* __lsan_default_suppressions() { return "leak:libgvc.so\n"; }
