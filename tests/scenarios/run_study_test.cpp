#include "sim/study/run_study.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "sim/record/reasons.hpp"
#include "tests/scenarios/whole_run.hpp"
#include "tests/told.hpp"

namespace steadyfire {
namespace {

/// One zone that takes 7 kBtu/h on a steady day; `more` goes into [boiler], `of_zone` into its zone.
RunResult run(std::string const& more, double hours, std::string const& of_zone = "") {
  std::string const text = R"(format = 1
title = "One room"
[site]
outdoor_design = "0 degF"
weather = { kind = "constant", outdoors = "35 degF" }
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "24 kBtu/h"
)" + more + R"(
[near_boiler]
arrangement = "closely spaced tees"
[[zone]]
name = "room"
design_load = "14 kBtu/h"
floor_area = "600 ft2"
emitter = { kind = "panel radiator", output = "22 kBtu/h" }
circulator = { duty = "small" }
supply_temperature = "150 degF"
)" + of_zone;
  return run_for(project_of(text), hours * 3600);
}

Finding const* finding(Record const& r, std::string const& id) {
  auto const at = std::find_if(r.findings.begin(), r.findings.end(), [&](auto const& f) { return f.id == id; });
  return at == r.findings.end() ? nullptr : &*at;
}

TEST(RunStudy, ItsRecordAgreesWithItself) {
  auto const result = run("", 24);
  auto const& r = result.record;
  EXPECT_FALSE(result.stopped);
  EXPECT_EQ(r.incomplete, "");
  EXPECT_LT(std::abs(r.energy.closure), 1e-10);
  EXPECT_TRUE(std::is_sorted(r.events.begin(), r.events.end(), [](auto const& a, auto const& b) { return a.time < b.time; }));
  long const ignitions =
      std::count_if(r.events.begin(), r.events.end(), [](auto const& e) { return e.place == "boiler" && e.what == "igniting"; });
  EXPECT_EQ(r.burner.starts, ignitions);
  long ended = 0;
  for (auto const& [why, count] : r.burner.ends) ended += count;
  EXPECT_EQ(ended, long(r.burner.burns.size()));
  EXPECT_TRUE(ended == r.burner.starts || ended == r.burner.starts - 1);  // the last may still burn
  double burnt = 0;
  for (float const b : r.burner.burns) burnt += double(b);
  EXPECT_LE(burnt, r.burner.time_firing + 1);
  ASSERT_EQ(r.zones.size(), 1u);
  EXPECT_NEAR(r.zones[0].room_mean, 294.26, 0.5);  // 70 °F
  // Rooms lose what they get: 35 of 70 degF of the design load over the day, within what mass and pipes take.
  EXPECT_NEAR(r.zones[0].heat, 0.5 * 14 * 293.07 * 86400, 0.15 * 0.5 * 14 * 293.07 * 86400);
}

TEST(RunStudy, EachBurnHasOneEndAndWhoHadToDoWithIt) {
  for (char const* name : {"four_zone_house", "slab_beside_fin_tube", "buffer_two_pipes", "combi_family", "night_setback", "two_boilers"}) {
    auto const r = run_for(whole_run::shipped(name), 86400).record;
    long all = 0, stopped = 0;
    for (auto const& e : r.burner.ended_by) {
      all += e.count;
      stopped += e.why == BurnEnd::stop_point || e.why == BurnEnd::target_dropped ? e.count : 0;
      EXPECT_NE(e.why, BurnEnd::other) << name << ": " << e.count;
      EXPECT_NE(e.who, "") << name << ": " << name_of(e.why);
    }
    EXPECT_EQ(all, long(r.burner.burns.size())) << name;
    auto const at = r.burner.ends.find(Cause::off_temperature);
    EXPECT_EQ(stopped, at == r.burner.ends.end() ? 0 : at->second) << name;
  }
}

TEST(RunStudy, FindsShortBurnsInAllTheirFields) {
  auto const result = run("off_differential = \"2 degF\"\non_differential = \"2 degF\"\nminimum_off = \"0.5 min\"", 12,
                          "thermostat = { cycles_per_hour = \"6 1/h\" }\n");
  auto const* f = finding(result.record, "burner.short_burns");
  ASSERT_TRUE(f);
  EXPECT_EQ(f->place, "boiler");
  EXPECT_EQ(f->severity, Severity::serious);
  ASSERT_FALSE(f->figures.empty());
  EXPECT_EQ(f->figures[0].name, "burn_median");
  EXPECT_NEAR(f->figures[0].value, result.record.burner.burn_median, 1e-9);
  ASSERT_TRUE(f->limit);
  EXPECT_EQ(f->limit->value, 300);
  EXPECT_EQ(us(f->whose), common_practice);
  EXPECT_FALSE(f->fix.empty());
}

TEST(RunStudy, LeavesABurnerAloneThatDoesNoHarm) {
  auto const project = whole_run::shipped("four_zone_house");
  RunOptions options;
  options.ground = project.ground, options.unheated = project.unheated, options.start_water = *project.run.start_water;
  auto const calm = run_study(project.installation, options, RunWeather{project}, {}, {}).record;
  EXPECT_GT(calm.burner.burn_median, 600);
  EXPECT_FALSE(finding(calm, "burner.short_burns"));
  EXPECT_FALSE(finding(calm, "burner.many_starts"));
  auto const words = us(reasons(calm.why));
  EXPECT_TRUE(std::any_of(words.begin(), words.end(), [](auto const& w) { return w.find("Change nothing") != std::string::npos; }));
}

TEST(RunStudy, InterruptedItTellsWhatItHas) {
  auto const project = whole_run::shipped("four_zone_house");
  RunOptions options;
  options.duration = 86400;
  auto const r = run_study(project.installation, options, RunWeather{project}, {}, [] { return true; }).record;
  EXPECT_EQ(r.incomplete, "interrupted");
  EXPECT_GT(r.duration, 0);
  EXPECT_LT(r.duration, 86400);
}

}  // namespace
}  // namespace steadyfire
