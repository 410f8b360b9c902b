/// What a run tells of the taps of a shipped house.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "models/house/hot_water_answer.hpp"
#include "models/house/hot_water_failures.hpp"
#include "sim/study/draws_watcher.hpp"
#include "sim/study/flows_study.hpp"
#include "tests/scenarios/whole_run.hpp"
#include "tests/paths.hpp"
#include "tests/told.hpp"

using namespace steadyfire;
using testing::HasSubstr;

namespace {

struct Watched {
  HotWaterRecord record;
  double into_drains;
};  // [J] heat that the main took back

Watched watched(Project const& project, double hours, std::size_t most_draws = 5000) {
  Plan plan = lay_out(project.installation, *project.run.start_water);
  RunWeather const weather{project};
  March march{plan, weather, {}};
  DrawsWatcher draws{plan, project.installation, most_draws};
  march.watch(draws);
  State& s = march.state();
  s.clock = *project.run.clock;
  s.x[given::ground] = project.ground, s.x[given::unheated] = project.unheated;
  double const before = s.x[account::process];
  march.run(hours * 3600);
  return {draws.record(), s.x[account::process] - before};
}

Watched const& family_day() {
  static Watched const day = watched(whole_run::shipped("combi_family"), 24);
  return day;
}

}  // namespace

/// The main takes back what was drawn, above cold water: another sum of the same heat. What rests in the drain's water at the
/// end is not yet back: 0.05 gal through 60 °F are 27 kJ.
TEST(DrawsWatcher, EnergyOfTheDrawsIsWhatCameBackByTheDrains) {
  auto const& [record, drains] = family_day();
  double sum = 0;
  for (auto const& d : record.draws) sum += d.energy;
  EXPECT_NEAR(sum, record.all.energy, 1e-6 * sum);
  EXPECT_NEAR(record.all.energy, drains, 0.01 * drains);
}

TEST(DrawsWatcher, EachDrawEndsAndDrawsItsVolume) {
  auto const& record = family_day().record;
  EXPECT_EQ(record.all.draws, 12);
  EXPECT_EQ(record.all.on_target + record.all.never_hot + record.all.cooled + record.all.short_of_flow, record.all.draws);
  for (auto const& d : record.draws) {
    EXPECT_NEAR(d.volume, d.volume_wanted, 0.01 * d.volume_wanted);
    EXPECT_LE(d.run_off, d.volume);
    if (d.was_hot()) {
      EXPECT_LT(d.time_to_hot, d.duration);
      EXPECT_GE(d.after_hot, d.lowest_after_hot);
    }
  }
}

TEST(DrawsWatcher, TheBasinBelowTheStartFlowIsNeverHotAndNoBurnerBurnsForIt) {
  auto const& record = family_day().record;
  for (auto const& t : record.taps) {
    if (t.name == "basin") {
      EXPECT_EQ(t.never_hot, t.draws);
      EXPECT_EQ(t.not_fired, t.draws);
    }
    if (t.name == "shower") {
      EXPECT_EQ(t.on_target, t.draws);
      EXPECT_EQ(t.not_fired, 0);
    }
  }
}

/// 30 ft of 1/2 in copper M and 10 ft of 3/4 in hold 0.39 and 0.27 gal by their bores (0.569 and 0.811 in): 20 s at 2 gpm. The
/// burner takes some more from cold.
TEST(DrawsWatcher, WaterIsHotNoSoonerThanThePipesAreFilled) {
  for (auto const& d : family_day().record.draws)
    if (family_day().record.taps[std::size_t(d.tap)].name == "shower" && d.time_to_hot > 5) {
      EXPECT_GT(d.time_to_hot, 19);
      EXPECT_LT(d.time_to_hot, 60);
      EXPECT_NEAR(d.run_off, d.time_to_hot * d.flow_wanted, 0.05 * d.run_off);
    }
}

TEST(DrawsWatcher, MemoryIsBoundedAndTheTotalsAreNot) {
  auto const few = watched(whole_run::shipped("combi_family"), 24, 2).record;
  EXPECT_EQ(few.draws.size(), 2u);
  EXPECT_EQ(few.draws_left_out, 10);
  EXPECT_EQ(few.all.draws, 12);
  EXPECT_DOUBLE_EQ(few.all.energy, family_day().record.all.energy);
}

TEST(DrawsWatcher, RoomsCoolWhileHotWaterGoesFirst) {
  auto const& dips = family_day().record.dips;
  ASSERT_FALSE(dips.empty());
  EXPECT_GT(dips[0].before - dips[0].lowest, 0);
  EXPECT_LT(dips[0].before - dips[0].lowest, 3) << "eight minutes of a shower";
}

/// 0.4 gpm is below the 0.5 gpm at which the shipped boiler starts: every draw of the basin fails, and none of the shower.
TEST(HotWaterFailures, TheBasinFailsByItsStartFlow) {
  auto const project = whole_run::shipped("combi_family");
  Record record;
  record.hot_water = family_day().record;
  auto const failed = failed_draws(project, record).failures;
  ASSERT_FALSE(failed.empty());
  EXPECT_EQ(failed[0].cause, DrawCause::start_flow);
  EXPECT_EQ(failed[0].severity, Severity::serious);
  EXPECT_EQ(failed[0].draws, 6);
  EXPECT_EQ(failed[0].of, 6);
  for (auto const& f : failed) EXPECT_NE(family_day().record.taps[std::size_t(f.tap)].name, "shower");
}

/// By hand: 180 kBtu/h at the efficiency told, into 2 gpm of 105 °F from 42 °F each (63 kBtu/h): two fit, and three get
/// 42 + output/(3000) °F by the trade's 500 for 6 gpm.
TEST(HotWaterAnswer, TwoShowersFitAndAThirdDoesNot) {
  auto const project = whole_run::shipped("combi_family");
  auto const d = deliverable_of(project, family_day().record);
  double const output = d.output / unit::kBtu_per_hour.scale;
  EXPECT_NEAR(output, 180 * d.efficiency, 0.01);
  EXPECT_GT(d.efficiency, 0.84);
  EXPECT_LT(d.efficiency, 0.98);
  ASSERT_FALSE(d.words.empty());
  EXPECT_THAT(us(d.words[0]), HasSubstr("coldest incoming water at 42 °F, 2 taps like the shower (2.0 gpm of 105 °F) run at once; "));
  EXPECT_THAT(us(d.words[0]), HasSubstr(std::to_string(std::lround(42 + output / 3)) + " °F at the tap"));
  EXPECT_TRUE(d.takes_turns);
  for (auto const& row : d.rows) {
    EXPECT_LE(row.beside_heating, row.alone);
    if (row.season == "coldest incoming water") {
      EXPECT_NEAR(row.heating, unit::kBtu_per_hour.to_si(38), 1) << "the design load of both zones";
      EXPECT_LT(row.beside_heating, row.alone);
    }
    if (row.season == "warmest incoming water") { EXPECT_EQ(row.heating, 0) << "no weather of a year"; }
  }
}

/// Flows are looked at over hours, so that each motor has turned: no tap may open meanwhile, however many draws are waiting.
TEST(HotWaterAnswer, NobodyDrawsWhileFlowsAreLookedAt) {
  std::string text = read_text(in_source("/scenarios/combi_family.toml"));
  std::string const head = "[hot_water]\n";
  text.insert(text.find(head) + head.size(), "draws = { kind = \"tapping profile\", profile = \"L\" }\n");
  auto const project = project_of(text);
  EXPECT_NO_THROW(study_flows(project.installation, {}));
}

/// Moritz and Henriques 1947, as printed in two public tables: 49 °C 8 min, 51 °C 2 min, 55 °C 17 s, 60 °C 3 s.
TEST(HotWaterAnswer, CautionsCarryThePublishedFigures) {
  auto const cautions = si(hot_water_cautions(family_day().record));
  ASSERT_EQ(cautions.size(), 2u);
  for (char const* figure : {"8.0 min at 49.0 °C", "2.0 min at 51.0 °C", "17 s at 55.0 °C", "3 s at 60.0 °C"})
    EXPECT_THAT(cautions[0], HasSubstr(figure));
  for (char const* figure : {"60.0 °C", "51.0 °C", "20.0 °C", "ASHRAE Guideline 12"}) EXPECT_THAT(cautions[1], HasSubstr(figure));
}
