#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>

#include "tools/job/catalog.hpp"
#include "tests/web/ask.hpp"
#include "tools/web/request.hpp"
#include "tests/paths.hpp"

namespace steadyfire::web {
namespace {

using testing::HasSubstr;

std::string const four_zones = in_source("/scenarios/four_zone_house.toml");

TEST(Asks, DescribeTellsEveryKindWithItsFields) {
  auto const answer = web::answer("describe", Json::object());
  ASSERT_EQ(answer["kinds"].size(), catalog().size());
  for (std::size_t i = 0; i < catalog().size(); ++i) {
    auto const& told = answer["kinds"][i];
    EXPECT_EQ(told["name"], catalog()[i].name);
    ASSERT_EQ(told["fields"].size(), catalog()[i].fields.size());
    for (auto const& f : told["fields"]) {
      EXPECT_FALSE(f["help"].get<std::string>().empty()) << f;
      if (f["sort"] == "choice") EXPECT_FALSE(f["choices"].empty()) << f;
      if (f["sort"] == "quantity" && f["unit"] != "") EXPECT_FALSE(f["units"].empty()) << f;
    }
  }
  EXPECT_EQ(answer["questions"].size(), 6u);
  for (auto const& q : answer["questions"])
    EXPECT_TRUE(std::any_of(answer["answers"].begin(), answer["answers"].end(), [&](auto const& k) { return k["table"] == q["table"]; }))
        << q;
}

TEST(Asks, LookTellsValuesAsTheyStand) {
  for (auto const& file : shipped_scenarios()) {
    auto const text = read_file(file);
    auto const look = answer("look", about(file));
    for (auto const& t : look["tables"])
      for (auto const& v : t["values"]) EXPECT_THAT(text, HasSubstr(v["source"].get<std::string>()));
  }
}

TEST(Asks, TheZonesThatCallAreShown) {
  auto request = about(four_zones);
  request["calls"] = {"bath", "living"};
  auto const look = answer("look", request);
  auto const& state = look["states"][look["shown"].get<std::size_t>()];
  EXPECT_EQ(state["calls"], Json({"living", "bath"}));
  std::map<std::string, std::string> flows;
  for (auto const& p : look["pieces"])
    for (auto const& f : p["figures"])
      if (f["name"] == "flow") flows[p["id"]] = f["words"];
  double const by_density = 0.15;  // [gpm] a circulator moves hot water, and a zone's flow is told at its own temperature
  for (auto const& z : state["zones"])
    EXPECT_NEAR(std::stod(flows.at(z["name"].get<std::string>() + "/circulator")), std::stod(z["got"].get<std::string>()), by_density);
  EXPECT_THAT(flows.at("studio/circulator"), HasSubstr("0.0"));
}

/// A value that stands where a piece says it may is that piece's from then on, and no fault.
TEST(Asks, EveryPieceLeadsToWhereItsValuesAreStated) {
  auto const kinds = answer("describe", Json::object())["kinds"];
  auto const sort_of = [&](Json const& kind, Json const& key) -> std::string {
    for (auto const& k : kinds)
      if (k["name"] == kind)
        for (auto const& f : k["fields"])
          if (f["key"] == key) return f["sort"];
    return "";
  };
  int tried = 0;
  for (std::string const name : {"four_zone_house", "combi_family", "two_loops"}) {
    auto const request = about(in_source("/scenarios/") + name + ".toml");
    auto const look = answer("look", request);
    for (auto const& p : look["pieces"]) {
      SCOPED_TRACE(p["id"].get<std::string>());
      auto const table = p["at"]["table"].get<std::string>();
      bool const is_section = table == "controls" || table == "hot_water" || table == "tap" || table == "near_boiler";
      if (is_section && p["at"]["path"].empty()) continue;
      for (auto const& t : p["taken"]) {
        if (t["whose"] == "stated" || sort_of(p["kind"], t["key"]) != "quantity") continue;
        auto at = p["at"];
        at["path"].push_back(t["key"]);
        auto const edited = answer("edit", with_edits(request, Json::array({set_edit(at, t["words"])})));
        if (!edited["faults"].empty()) {  // keys that rule each other out: another one
          EXPECT_EQ(edited["faults"][0]["code"], "E222") << edited["faults"][0] << at;
          continue;
        }
        auto changed = request;
        changed["text"] = edited["text"];
        auto const after = answer("look", changed)["pieces"];
        auto const same = std::find_if(after.begin(), after.end(), [&](auto const& q) { return q["id"] == p["id"]; });
        ASSERT_NE(same, after.end());
        EXPECT_EQ((*same)["is_stated"], true);
        for (auto const& u : (*same)["taken"])
          if (u["key"] == t["key"]) EXPECT_EQ(u["whose"], "stated") << u << (*same)["at"];
        ++tried;
        break;
      }
    }
  }
  EXPECT_GT(tried, 50);
}

TEST(Asks, AFaultLeadsToTheValueItIsAbout) {
  std::string gains;
  for (int hour = 0; hour < 23; ++hour) gains += "  \"0 W\",\n";
  std::string const text =
      "format = 1\ntitle = \"t\"\n[boiler]\nheating_input = \"80 kBtu/h\"\nminimum_input = \"19 kBtu/h\"\n[near_boiler]\n"
      "arrangement = \"closely spaced tees\"\n[[zone]]\nname = \"a\"\ndesign_load = \"9 kBtu/h\"\n"
      "emitter = { kind = \"panel radiator\", output = \"5 kBtu/h\" }\n[[zone]]\nname = \"b\"\ndesign_load = \"9 kBtu/h\"\nelbows = 4\n"
      "room.gains = [\n" + gains + "  \"1 W\"\n]\n[zone.emitter]\nkind = \"fin-tube baseboard\"\nlength = \"50 ft\"\n";
  ASSERT_EQ(answer("look", about_text(text))["faults"], Json::array());
  auto const at = [&](std::string const& was, std::string const& now) {
    auto changed = text;
    changed.replace(changed.find(was), was.size(), now);
    auto const faults = answer("look", about_text(changed))["faults"];
    if (faults.empty()) return Json("no fault");
    return faults[0].contains("at") ? faults[0]["at"] : Json("nowhere: " + faults[0].dump());
  };
  EXPECT_EQ(at("output = \"5", "output = \"5000"), place("zone", 0, {"emitter", "output"}));
  EXPECT_EQ(at("output =", "outpud ="), place("zone", 0, {"emitter", "outpud"}));
  EXPECT_EQ(at(", output = \"5 kBtu/h\"", ""), place("zone", 0, {"emitter", "output"}));
  EXPECT_EQ(at("length = \"50 ft\"\n", ""), place("zone", 1, {"emitter", "length"}));
  EXPECT_EQ(at("\"50 ft\"", "\"50 psi\""), place("zone", 1, {"emitter", "length"}));
  EXPECT_EQ(at("fin-tube baseboard", "fin"), place("zone", 1, {"emitter", "kind"}));
  EXPECT_EQ(at("panel radiator", "panel"), place("zone", 0, {"emitter", "kind"}));
  EXPECT_EQ(at("elbows = 4", "elbows = \"four\""), place("zone", 1, {"elbows"}));
  EXPECT_EQ(at("elbows = 4", "elbow = 4"), place("zone", 1, {"elbow"}));
  EXPECT_EQ(at("\"1 W\"", "\"1 ft\""), place("zone", 1, {"room", "gains"}));
  EXPECT_EQ(at("name = \"b\"", "name = \"a\""), place("zone", 1, {"name"}));
  EXPECT_EQ(at("name = \"b\"\n", ""), place("zone", 1, {}));
  EXPECT_EQ(at("minimum_input = \"19", "minimum_input = \"190"), place("boiler", 0, {"minimum_input"}));
  EXPECT_EQ(at("minimum_input = \"19 kBtu/h\"\n", ""), place("boiler", 0, {"minimum_input"}));
  EXPECT_EQ(at("closely spaced tees", "tees"), place("near_boiler", 0, {"arrangement"}));
  EXPECT_EQ(at("title = \"t\"", "title = 3"), place("", 0, {"title"}));
  auto const syntax = answer("look", about_text("format = 1\ntitle = \"t\nx = 1\n"));
  EXPECT_EQ(syntax["faults"][0]["code"], "E105");
  EXPECT_EQ(syntax["faults"][0]["line"], 2);
  EXPECT_EQ(syntax["tables"], Json::array());
}

TEST(Asks, WhatHasNoSolutionIsAFaultInWords) {
  auto const fault =
      fault_of(Stopped{"E410", 0, "no hydraulic solution", "loop P1 → R3", "valve V2 closed", "add a bypass"}.of_state("with a calling"));
  EXPECT_EQ(fault["code"], "E410");
  EXPECT_EQ(fault["message"], "no hydraulic solution with a calling");
  EXPECT_EQ(fault["hint"], "where: loop P1 → R3; likely: valve V2 closed; add a bypass");
}

TEST(Asks, ATextThatCannotBeParsedIsLeftAlone) {
  std::string const text = "format = 1\ntitle = \"t\nx = 1\n";
  auto const edited = answer("edit", with_edits(about_text(text), Json::array({set_edit(place("", 0, {"title"}), "u")})));
  EXPECT_EQ(edited["text"], text);
  EXPECT_EQ(edited["faults"][0]["code"], "E105");
}

TEST(Asks, NoSliderMakesAFault) {
  for (auto const& file : shipped_scenarios())
    for (auto const* units : {"us", "si"}) {
      auto const request = about(file, units);
      auto const knobs = answer("knobs", request);
      EXPECT_EQ(knobs["faults"], Json::array());
      for (auto const& k : knobs["knobs"]) {
        SCOPED_TRACE(file + k.dump());
        if (k["barred"] != "") continue;
        EXPECT_LE(k["least"], k["value"]);
        EXPECT_LE(k["value"], k["most"]);
        EXPECT_LT(k["least"], k["most"]);
        for (auto const* end : {"least", "most"}) {
          auto const typed = fmt::format("{} {}", k[end].get<double>(), k["unit"].get<std::string>());
          auto const edited = answer("edit", with_edits(request, Json::array({set_edit(k["at"], typed)})));
          EXPECT_EQ(edited["faults"], Json::array());
        }
      }
    }
}

TEST(Asks, SlidersStandWhereTheScenarioStands) {
  auto const knobs = answer("knobs", about(in_source("/scenarios/buffer_two_pipes.toml")));
  std::map<std::string, Json> by_id;
  for (auto const& k : knobs["knobs"]) by_id[k["id"]] = k;
  EXPECT_EQ(by_id["burner"]["value"], 60);
  EXPECT_EQ(by_id["minimum_fire"]["value"], 15);
  EXPECT_EQ(by_id["smallest_zone"]["value"], 8);
  EXPECT_EQ(by_id["off_differential"]["value"], 9);  // usual, as nobody stated it
  EXPECT_EQ(by_id["tank"]["value"], 30);
  EXPECT_EQ(by_id["outdoors"]["value"], 26);
  EXPECT_EQ(knobs["curve"]["supply"], Json({165, 100}));
  EXPECT_EQ(knobs["curve"]["outdoors"], Json({8, 65}));
  EXPECT_THAT(answer("knobs", about(four_zones))["knobs"].dump(), HasSubstr("no tank: "));
  EXPECT_EQ(answer("knobs", about(in_source("/scenarios/two_loops.toml")))["knobs"], Json::array());
}

TEST(Asks, AnswersAtTheCounterMakeAScenario) {
  Json const answers{{"house", {{"floor_area", "1800 ft2"}, {"construction", ""}}},
                     {"zone", Json::array({{{"name", "down"}, {"share", ""}}, {{"name", "up"}}})}};
  auto const started = answer("start", {{"answers", answers}});
  ASSERT_EQ(started["faults"], Json::array());
  EXPECT_FALSE(started["unknown"].empty());
  EXPECT_EQ(answer("look", about_text(started["text"]))["faults"], Json::array());
  auto const none = answer("start", {{"answers", Json::object()}});
  EXPECT_FALSE(none.contains("text"));
  ASSERT_EQ(none["faults"].size(), 1u);
  auto const wrong = answer("start", {{"answers", {{"house", {{"floor_area", "1800 gpm"}}}}}});
  EXPECT_EQ(wrong["faults"][0]["code"], "E207");
  EXPECT_EQ(wrong["faults"][0]["at"], place("house", 0, {"floor_area"}));
}

TEST(Asks, BadRequestsAreRefusedInWords) {
  auto const refused = [](char const* ask, Json const& request) {
    try {
      auto const said = answer(ask, request);
      ADD_FAILURE() << ask << " " << request << " gave " << said.dump().substr(0, 200);
    } catch (BadRequest const& e) {
      EXPECT_NE(std::string(e.what()), "");
    }
  };
  auto const good = about_text("format = 1\ntitle = \"t\"\n[[zone]]\nname = \"a\"\n");
  for (auto const* ask : {"look", "edit", "knobs"}) {
    refused(ask, Json::array());
    refused(ask, Json::object());
    for (auto const* key : {"text", "units", "file"})
      for (auto const& value : {Json(3), Json(nullptr), Json::array(), Json::object()}) {
        auto request = good;
        request[key] = value;
        refused(ask, request);
      }
    auto request = good;
    request["units"] = "imperial";
    refused(ask, request);
  }
  auto const edits = [&](Json const& all) { refused("edit", with_edits(good, all)); };
  for (auto const& one : {Json(3),
                          Json::object(),
                          Json{{"do", "burn"}},
                          Json{{"do", 3}},
                          Json{{"do", "set"}},
                          Json{{"do", "add"}},
                          Json{{"do", "remove"}, {"table", "zone"}},
                          Json{{"do", "remove"}, {"table", "zone"}, {"index", -1}},
                          Json{{"do", "remove"}, {"table", "zone"}, {"index", 0.5}},
                          Json{{"do", "remove"}, {"table", "zone"}, {"index", 1}},
                          Json{{"do", "remove"}, {"table", "zone"}, {"index", 1e300}},
                          Json{{"do", "remove"}, {"table", ""}, {"index", 0}},
                          Json{{"do", "add"}, {"table", "zoo"}, {"name", "x"}},
                          Json{{"do", "add"}, {"table", "zone"}, {"name", "x"}, {"like", 4}},
                          Json{{"do", "add"}, {"table", "zone"}, {"name", "x"}, {"like", "a"}},
                          Json{{"do", "rename"}, {"table", "zone"}, {"index", 0}, {"name", ""}},
                          set_edit(place("zoo", 0, {"x"}), "1"),
                          set_edit(place("zone", 7, {"x"}), "1"),
                          set_edit(place("zone", 0, {}), "1"),
                          set_edit(Json("zone"), "1"),
                          set_edit({{"table", "zone"}, {"index", 0}, {"path", {1, 2}}}, "1"),
                          set_edit({{"table", "zone"}, {"index", 0}}, "1")})
    edits(Json::array({one}));
  edits(Json("all"));
  auto request = good;
  request["calls"] = "a";
  refused("look", request);
  request = about(four_zones);
  request["calls"] = {"attic"};
  refused("look", request);
  refused("start", Json::object());
  refused("start", {{"answers", 3}});
  for (auto const& answers : {Json{{"zoo", Json::object()}}, Json{{"house", 3}}, Json{{"house", Json::array()}},
                              Json{{"zone", Json::object()}}, Json{{"zone", Json::array({3})}}, Json{{"house", {{"floor_area", 3}}}}})
    refused("start", {{"answers", answers}});
  refused("dance", Json::object());
}

}  // namespace
}  // namespace steadyfire::web
