#include "sim/record/record_json.hpp"

#include <gmock/gmock.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "sim/record/json_parts.hpp"
#include "sim/record/record_csv.hpp"

namespace steadyfire {
namespace {

Record small_record() {
  Record r;
  r.title = "A title, with a comma";
  r.duration = 3600;
  r.burner.name = "boiler", r.burner.starts = 3, r.burner.starts_per_hour_worst = 2, r.burner.burns = {100, 250.5};
  r.burner.burn_shortest = 100, r.burner.burn_median = 175.25, r.burner.burn_longest = 250.5, r.burner.time_firing = 400;
  r.burner.ends = {{Cause::off_temperature, 1}, {Cause::call_ended, 1}};
  r.supply_min = r.supply_mean = r.supply_max = 333.15;
  ZoneRecord z;
  z.name = "bath", z.emitter = "panel radiator", z.room_min = 292.15, z.room_mean = 293.15, z.room_max = 295.15, z.setting = 294.15,
  z.heat = 5e6;
  r.zones.push_back(z);
  r.energy.fuel = 1e7, r.energy.useful = 8e6, r.energy.closure = 1e-12, r.energy.losses = {{"flue", 1e6}};
  r.weather.source = "invented", r.weather.min = 263.15, r.weather.mean = 268.15, r.weather.max = 273.15;
  r.events = {{12.5, "boiler", "igniting", "prepurge done: 15 s", Cause::timer},
              {40, "bath/thermostat", "calling", "said \"cold\", twice", Cause::on_temperature}};
  r.whole = {0, 1800, {{"boiler/supply", "supply", "water", measure::fine_temperature, {300, 310}, {305, 315}, {310, 320}},
                       {"boiler/fire", "fire", "fire", measure::share, {0, 0.2f}, {0.1f, 0.5f}, {0.3f, 1}}}};
  r.closeup = r.whole;
  r.resets = {{"bath", {{255.15, 343.15}, {293.15, 303.15}}}};
  r.points = {{268.15, 333.15, 0.4}};
  r.drawing = {{"a", "b"}, {{"boiler", "boiler", "boiler", "", "a", "b", 0, "boiler"}}};
  r.moment = {1800, "middle of the longest burn", {1e-4}, {333.15}};
  r.moments = {{60, "burner resting", {0}, {293.15}}, r.moment};
  r.findings = {{.id = "slab.floor_too_warm",
                 .place = "bath/emitter",
                 .severity = Severity::serious,
                 .figures = {{"floor temperature", 304.15, measure::fine_temperature}, {"flow", 1e-4, measure::flow}},
                 .limit = Figure{"limit", 302.15, measure::fine_temperature},
                 .whose = "EN 1264-2",
                 .words = say("floor surface {}", Amount{304.15, measure::fine_temperature}),
                 .order = 40,
                 .fix = say("lower it by {} of temperature", Amount{2, measure::fine_temperature_change})}};
  r.assumptions = {{"boiler", "rated_head_loss", 1.8, 0.6, 4.3, measure::head, common_practice}};
  return r;
}

TEST(RunJson, HoldsWhatTheRecordHoldsUnderKeysWithUnits) {
  auto const j = run_to_json(small_record(), UnitSystem::us);
  EXPECT_EQ(j["format"], 1);
  EXPECT_EQ(j["burner"]["starts"], 3);
  EXPECT_EQ(j["burner"]["burns_ended"], Json({{"off_temperature", 1}, {"call_ended", 1}}));
  EXPECT_EQ(j["burner"]["starts_per_hour_worst"], 2);
  EXPECT_EQ(j["burner"]["burn_s"], Json({{"shortest", 100.0}, {"median", 175.25}, {"longest", 250.5}}));
  EXPECT_EQ(j["energy"]["fuel_J"], 1e7);
  EXPECT_EQ(j["energy"]["useful_J"], 8e6);
  EXPECT_EQ(j["energy"]["losses_J"]["flue"], 1e6);
  EXPECT_EQ(j["energy"]["closure"], 1e-12);
  EXPECT_FALSE(j["energy"].contains("cost_money"));
  EXPECT_NEAR(j["zones"]["bath"]["room_degC"]["min"].get<double>(), 19, 1e-9);
  EXPECT_NEAR(j["zones"]["bath"]["room_degC"]["mean"].get<double>(), 20, 1e-9);
  EXPECT_NEAR(j["zones"]["bath"]["room_degC"]["max"].get<double>(), 22, 1e-9);
  EXPECT_EQ(j["events"][0], Json({{"time_s", 12.5}, {"place", "boiler"}, {"what", "igniting"}, {"why", "prepurge done: 15 s"},
                                  {"cause", "timer"}}));
  EXPECT_NEAR(j["weather"]["outdoors_degC"]["min"].get<double>(), -10, 1e-9);
  EXPECT_NEAR(j["resets"][0]["curve_degC"][1]["supply"].get<double>(), 30, 1e-9);
  EXPECT_EQ(j["drawing"]["limbs"][0]["flow_m3_s"], 1e-4);
  EXPECT_EQ(j["drawing"]["moments"][1]["flow_m3_s"][0], 1e-4);
  EXPECT_NEAR(j["drawing"]["moments"][0]["leaving_degC"][0].get<double>(), 20, 1e-9);
  auto const& track = j["tracks"]["whole"];
  EXPECT_EQ(track["step_s"], 1800.0);
  EXPECT_NEAR(track["channels"]["boiler/supply"]["bins_degC"]["mean"][1].get<double>(), 41.85, 1e-4);
  EXPECT_NEAR(track["channels"]["boiler/fire"]["bins"]["most"][1].get<double>(), 1, 1e-6);
  auto const& finding = j["findings"][0];
  EXPECT_NEAR(finding["figures"]["floor_temperature_degC"].get<double>(), 31, 1e-9);
  EXPECT_EQ(finding["figures"]["flow_m3_s"], 1e-4);
  EXPECT_NEAR(finding["limit"]["limit_degC"].get<double>(), 29, 1e-9);
  EXPECT_EQ(finding["weight"], "serious");
  EXPECT_EQ(finding["words"], "floor surface 87.8 °F");  // 31 °C
  EXPECT_EQ(finding["remedy"], "lower it by 3.6 °F of temperature");
  EXPECT_EQ(run_to_json(small_record(), UnitSystem::si)["findings"][0]["words"], "floor surface 31.0 °C");
  EXPECT_EQ(j["assumptions"][0]["value_m"], 1.8);
}

TEST(RunJson, WhatDoesNotExistIsNull) {
  auto const j = run_to_json(Record{}, UnitSystem::us);
  EXPECT_TRUE(j["burner"]["burn_s"]["median"].is_null());
  EXPECT_TRUE(j["supply_degC"]["mean"].is_null());
  EXPECT_EQ(j["events"], Json::array());
  EXPECT_EQ(j["zones"], Json::object());
}

/// Every number stands under a key that ends in a unit, or in a group that does; or is a count or fraction.
void expect_units(Json const& j, std::string const& path, bool has_unit) {
  static std::regex const unit{R"(.*_(s|W|J|K|m|m3_s|degC|kg|money|Ks|Kd|m_s|Pa_s|kg_m3|J_kgK|W_mK)$)"};
  static std::vector<std::string> const none{"format", "starts",   "starts_per_hour_worst", "starts_by_day", "closure",   "limb",
                                             "fire",   "bins",     "events_left_out",       "burns_ended",   "count",     "near_stops",
                                             "hours",  "reynolds", "friction_factor",       "head_gradient", "heat_share"};
  if (j.is_object()) {
    for (auto const& [key, value] : j.items())
      expect_units(value, path + "." + key, has_unit || std::regex_match(key, unit) || std::count(none.begin(), none.end(), key) > 0);
  } else if (j.is_array()) {
    for (auto const& value : j) expect_units(value, path, has_unit);
  } else if (j.is_number()) {
    EXPECT_TRUE(has_unit) << path;
  }
}

FlowsRecord small_flows() {
  FlowsRecord r;
  r.title = "two loops", r.fluid = {998, 1e-3, 4186, 0.6}, r.fluid_words = "water";
  FlowState s;
  s.calls = {"bath"};
  EdgeFlow bare, bore;
  bare.name = "AB", bare.kind = "valve", bare.flow = 1e-4, bare.head_loss = 0.5;
  bore = bare, bore.name = "BC", bore.diameter = 0.02, bore.velocity = 0.32, bore.reynolds = 6400, bore.friction_factor = 0.035;
  s.edges = {bare, bore}, s.heads = {{"A", 3}, {"B", 2.5}}, s.circulators = {{"pump", 1e-4, 2, 30}};
  ZoneFlow z;
  z.name = "bath", z.got = 1e-4, z.wanted = 2e-4, z.supply = 333.15, z.room = 290.15, z.heat = 900, z.design_load = 1000;
  s.zones = {z};
  r.states = {s};
  return r;
}

TEST(Json, EveryNumberSaysItsUnit) {
  expect_units(run_to_json(small_record(), UnitSystem::us), "", false);
  expect_units(flows_to_json(small_flows(), UnitSystem::us), "", false);
}

TEST(Json, IsTheSameAfterItsOwnText) {
  auto const j = run_to_json(small_record(), UnitSystem::us);
  EXPECT_EQ(Json::parse(j.dump()), j);
}

TEST(FlowsJson, ABranchWithoutABoreHasNoVelocity) {
  auto const j = flows_to_json(small_flows(), UnitSystem::us);
  EXPECT_EQ(j["fluid"]["density_kg_m3"], 998.0);
  auto const& state = j["states"][0];
  EXPECT_EQ(state["calls"], Json::array({"bath"}));
  EXPECT_EQ(state["edges"]["AB"]["flow_m3_s"], 1e-4);
  EXPECT_EQ(state["edges"]["AB"]["head_loss_m"], 0.5);
  for (auto const* key : {"velocity_m_s", "reynolds", "friction_factor"}) {
    EXPECT_FALSE(state["edges"]["AB"].contains(key)) << key;
    EXPECT_TRUE(state["edges"]["BC"].contains(key)) << key;
  }
  EXPECT_EQ(state["joints"]["A"]["head_m"], 3.0);
  EXPECT_EQ(state["circulators"]["pump"]["power_W"], 30.0);
  EXPECT_EQ(j["findings"], Json::array());
}

TEST(FlowsJson, WhatIsRightStandsApartFromFindings) {
  auto record = small_flows();
  EXPECT_FALSE(flows_to_json(record, UnitSystem::us).contains("passed"));
  record.passed = {{.id = "tees.needed",
                    .place = "tees",
                    .severity = Severity::note,
                    .figures = {{"head_needed", 3, measure::head}},
                    .limit = std::nullopt,
                    .whose = "head losses",
                    .words = "Keep the tees."}};
  auto const j = flows_to_json(record, UnitSystem::us);
  EXPECT_EQ(j["passed"][0]["id"], "tees.needed");
  EXPECT_EQ(j["passed"][0]["figures"]["head_needed_m"], 3.0);
}

TEST(JsonKey, TakesItsSuffixFromTheDimension) {
  EXPECT_EQ(json_key("floor temperature", measure::temperature), "floor_temperature_degC");
  EXPECT_EQ(json_key("rise", measure::temperature_change), "rise_K");
  EXPECT_EQ(json_key("flow", measure::flow), "flow_m3_s");
  EXPECT_EQ(json_key("velocity", measure::velocity), "velocity_m_s");
  EXPECT_EQ(json_key("rate", measure::per_hour), "rate_per_s");
  EXPECT_EQ(json_key("over", measure::degree_hours), "over_Ks");
  EXPECT_EQ(json_key("flow share", measure::share), "flow_share");
}

TEST(Csv, HeadersCarryUnitsAndTextIsQuoted) {
  std::map<std::string, std::ostringstream> tables;
  write_csv(small_record(), UnitSystem::us, [&](std::string const& name) -> std::ostream& { return tables[name]; });
  for (auto const& [name, text] : tables)
    EXPECT_NE(std::find(csv_tables.begin(), csv_tables.end(), name), csv_tables.end()) << name << " is not among the tables known";
  EXPECT_EQ(tables["series.csv"].str(), "time_s,boiler/supply_degC,boiler/fire\r\n0,31.85,0.1\r\n1800,41.85,0.5\r\n");
  EXPECT_EQ(tables["events.csv"].str(),
            "time_s,place,what,why\r\n12.500,boiler,igniting,prepurge done: 15 s\r\n40.000,bath/thermostat,calling,\"said \"\"cold\"\", "
            "twice\"\r\n");
  EXPECT_EQ(tables["burns.csv"].str(), "burn,length_s\r\n1,100.000\r\n2,250.500\r\n");
  EXPECT_THAT(tables["zones.csv"].str(), testing::HasSubstr("bath,panel radiator,19.0000,20.0000,22.0000,21.0000"));
}

// Each number must read back as the same bits, whichever way it is printed.
TEST(JsonText, ReadsBackAsItWas) {
  Json const few{0.5, 20.0, -0.0, -1e-7, 1e300, 999999.5, 1e9, 0.1, 3, -4};
  EXPECT_EQ(json_text(few), "[0.5, 20.0, -0.0, -1e-07, 1e+300, 999999.5, 1000000000.0, 0.1, 3, -4]\n");
  Json all = Json::object();
  for (int i = 0; i < 20000; ++i) {
    all["list"].push_back(std::ldexp(std::sin(i * 1.7), i % 90 - 45));
    all["short"].push_back((i - 9000) / 1000.0);
  }
  all["words"] = {"a\"b", nullptr, true};
  EXPECT_EQ(Json::parse(json_text(all)), all);
}

}  // namespace
}  // namespace steadyfire
