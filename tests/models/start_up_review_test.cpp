#include "tools/review/start_up_review.hpp"

#include <gmock/gmock.h>

#include "job_of.hpp"
#include "tools/review/gas_review.hpp"
#include "tools/review/readings_review.hpp"

namespace steadyfire {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

std::string const house = R"(
format = 1
title = "Two zones"
[site]
outdoor_design = "5 degF"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "10 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
[[expansion_tank]]
name = "by the boiler"
joint = "return tee"
fill_pressure = "15 psi"
[[zone]]
name = "rooms"
design_load = "25 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "60 ft" }
supply_temperature = "160 degF"
circulator = {}
[[zone]]
name = "bath"
design_load = "8 kBtu/h"
emitter = { kind = "panel radiator", output = "9 kBtu/h" }
supply_temperature = "160 degF"
circulator = {}
)";

ReviewTable const& table(ReviewPart const& part, std::string const& id) {
  for (auto const& t : part.tables)
    if (t.id == id) return t;
  throw InternalError("no table " + id);
}
double expected(ReviewTable const& t, std::string const& reading, std::string const& where) {
  for (auto const& row : t.rows)
    if (us(row[0].words) == reading && us(row[1].words) == where) return row[2].value;
  ADD_FAILURE() << "no row " << reading << " at " << where;
  return 0;
}

TEST(StartUp, EveryReadingHasARangeAboutItAndABlank) {
  auto const part = review_start_up(JobOf{house}.job());
  for (auto const& t : part.tables) {
    if (t.id == "start_up_days") continue;
    EXPECT_EQ(t.columns.back(), "read");
    for (auto const& row : t.rows) {
      EXPECT_EQ(us(row.back().words), "");
      EXPECT_THAT(us(row[3].words), HasSubstr(" to "));
    }
  }
  EXPECT_FALSE(part.cautions.empty());
}

TEST(StartUp, RiseAndFlowMakeTheOutput) {
  auto const part = review_start_up(JobOf{house}.job());
  auto const& t = table(part, "start_up_design");
  // trade rule: Btu/h = 500·gpm·degF, for water of 60 degF; at 160 degF 490 (density and heat capacity from tables)
  double const gpm = expected(t, "flow", "boiler") / unit::gpm.scale, rise = expected(t, "temperature rise", "across the boiler") * 1.8;
  double const input = expected(t, "input, by the gas meter", "gas meter") / unit::Btu_per_hour.scale;
  EXPECT_NEAR(490 * gpm * rise / input, 0.87, 0.03);                            // return above the dew point: no condensing
  EXPECT_NEAR(expected(t, "water temperature", "boiler supply"), 344.26, 0.1);  // 160 degF, held at the outlet
}

TEST(StartUp, MinimumFireRisesLess) {
  auto const part = review_start_up(JobOf{house}.job());
  double const low = expected(table(part, "start_up_minimum_fire"), "temperature rise", "across the boiler"),
               design = expected(table(part, "start_up_design"), "temperature rise", "across the boiler");
  EXPECT_LT(low, design);
  EXPECT_GT(low, 0);
}

TEST(StartUp, TheManualsFiguresGoBeforeChemistry) {
  auto const by_chemistry = review_start_up(JobOf{house}.job());
  EXPECT_THAT(us(by_chemistry.missing), Contains(HasSubstr("carbon_dioxide_full_fire")));
  // 25 % excess air, natural gas: 9.3 %, by stoichiometry of its composition (tests/reference/flue_gas_test.cpp)
  EXPECT_NEAR(expected(table(by_chemistry, "start_up_full_fire"), "CO2 in dry flue gas", "boiler vent"), 0.093, 0.001);
  auto const part = review_start_up(JobOf{house + R"([start_up]
carbon_dioxide_full_fire = "8.8 %"
carbon_dioxide_minimum_fire = "8.2 %"
gas_static = "7 inH2O"
gas_running = "6.4 inH2O"
)"}
                                        .job());
  EXPECT_NEAR(expected(table(part, "start_up_full_fire"), "CO2 in dry flue gas", "boiler vent"), 0.088, 1e-6);
  EXPECT_NEAR(expected(table(part, "start_up_minimum_fire"), "CO2 in dry flue gas", "boiler vent"), 0.082, 1e-6);
  EXPECT_NEAR(expected(table(part, "start_up_cold"), "gas pressure, burner off", "boiler gas inlet"), 7 * 249.089, 0.01);
  EXPECT_NEAR(expected(table(part, "start_up_full_fire"), "gas pressure, burner on", "boiler gas inlet"), 6.4 * 249.089, 0.01);
  EXPECT_NEAR(expected(table(part, "start_up_cold"), "pressure, cold", "boiler"), 15 * 6894.757, 1);
  EXPECT_THAT(us(part.missing), Not(Contains(HasSubstr("carbon_dioxide_full_fire"))));
}

TEST(StartUp, GasPressureComesFromTheGasLineWhereItIsStated) {
  auto const job = JobOf{house + R"([gas]
supply_pressure = "7 inH2O"
[[gas_pipe]]
name = "line"
from = "meter"
to = "boiler"
length = "50 ft"
size = "3/4 in steel 40"
[[gas_appliance]]
name = "boiler"
at = "boiler"
)"};
  auto const part = review_start_up(job.job());
  double const left = expected(table(part, "start_up_full_fire"), "gas pressure, burner on", "boiler gas inlet");
  EXPECT_NEAR(left, row_with(table(review_gas(job.job()), "gas_appliances"), 0, "boiler")[5].value, 1e-9);
  EXPECT_LT(left, 7 * 249.089);
  EXPECT_GT(left, 6 * 249.089);
}

ReadingsFile readings(JobOf const& job, std::string const& text, std::string* told = nullptr) {
  Diagnostics faults;
  auto file =
      read_readings("R.toml", "format = 1\ntitle = \"R\"\n" + text, job.project().installation, conditions_of(job.project()), faults);
  std::string const words = faults.render("R.toml", file.document.text);
  if (told) *told = words;
  else EXPECT_TRUE(faults.empty()) << words;
  return file;
}

TEST(Readings, FaultsOfAFileAreToldWithTheirPlaces) {
  JobOf const job{house};
  std::string told;
  readings(job, "[readings]\ncalling = [\"room\"]\n[[zone_reading]]\nname = \"bth\"\n", &told);
  EXPECT_THAT(told, HasSubstr("R.toml:4:11: error[E298]"));
  EXPECT_THAT(told, HasSubstr("did you mean 'rooms'?"));
  EXPECT_THAT(told, HasSubstr("did you mean 'bath'?"));
  readings(job, "[readings]\nsupply = \"150\"\n", &told);
  EXPECT_THAT(told, HasSubstr("E206"));
}

/// What a fault would show, as a file of readings in words.
TEST(Readings, AZoneWithoutFlowIsNamed) {
  JobOf const job{house};
  auto const part = review_readings(job.job(), readings(job, R"([readings]
supply = "161 degF"
[[zone_reading]]
name = "rooms"
flow = "0 gpm"
return = "90 degF"
[[piece_reading]]
name = "rooms/circulator"
difference = "0.1 psi"
)"));
  ASSERT_EQ(ids_of(part), std::vector<std::string>{"readings.fault"});
  EXPECT_EQ(part.findings[0].place, "rooms/circulator");
  EXPECT_THAT(us(part.findings[0].words), HasSubstr("circulator does not run"));
  EXPECT_THAT(part.findings[0].fix.in(UnitSystem::us), HasSubstr("voltage"));
  EXPECT_FALSE(table(part, "causes").rows.empty());
  EXPECT_EQ(table(part, "readings").rows.size(), 4u);
}

TEST(Readings, AGasFaultIsForLicensedPractice) {
  JobOf const job{house + "[start_up]\ngas_static = \"7 inH2O\"\ngas_running = \"6.5 inH2O\"\n"};
  auto const part =
      review_readings(job.job(), readings(job, "[readings]\nfire = \"full\"\ngas_static = \"7.1 inH2O\"\ngas_running = \"4.9 inH2O\"\n"));
  ASSERT_EQ(ids_of(part), std::vector<std::string>{"readings.fault"});
  EXPECT_EQ(part.findings[0].place, "gas");
  EXPECT_THAT(part.findings[0].fix.in(UnitSystem::us), HasSubstr("licensed contractor"));
}

TEST(Readings, WhatNobodyCanExpectIsTold) {
  JobOf const job{house};
  auto const part = review_readings(job.job(), readings(job, "[readings]\ngas_static = \"7 inH2O\"\n"));
  EXPECT_THAT(part.findings, IsEmpty());
  EXPECT_THAT(us(part.missing), Contains(HasSubstr("gas_static")));
}

TEST(Readings, ThatNothingIsWrongIsSaidPlainly) {
  JobOf const job{house};
  auto const part = review_readings(job.job(), readings(job, "[readings]\nsupply = \"161 degF\"\ncold_pressure = \"15 psi\"\n"));
  EXPECT_THAT(part.findings, IsEmpty());
  EXPECT_THAT(us(part.sentences.at(0)), HasSubstr("These 2 readings show no fault"));
}

}  // namespace
}  // namespace steadyfire
