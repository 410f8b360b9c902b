#include "tools/review/wiring_review.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "job_of.hpp"
#include "tools/review/assumed_ends.hpp"

namespace steadyfire {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

std::string const house = R"(
format = 1
title = "Two zones, one by a valve and one by its own circulator"
[site]
outdoor_design = "5 degF"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "10 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
circulator = { duty = "small", power_curve = { flow = "gpm", power = "W", points = [[0, 80], [30, 80]] } }
system_circulator = { duty = "small", power_curve = { flow = "gpm", power = "W", points = [[0, 60], [30, 60]] } }
[[zone]]
name = "rooms"
design_load = "20 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "50 ft" }
zone_valve = {}
[[zone]]
name = "bath"
design_load = "5 kBtu/h"
emitter = { kind = "panel radiator", output = "6 kBtu/h" }
zone_valve = {}
)";

std::string output(char const* name, int number, char const* role, char const* serves, std::string more = "") {
  return fmt::format("[[output]]\nname = \"{}\"\nnumber = {}\nrole = \"{}\"\nserves = \"{}\"\n{}\n", name, number, role, serves, more);
}
std::string const all_six = output("a", 1, "thermostat", "rooms") + output("b", 2, "thermostat", "bath") +
                            output("c", 3, "valve", "rooms") + output("d", 4, "valve", "bath") +
                            output("e", 5, "circulator", "boiler/circulator") + output("f", 6, "circulator", "system/circulator");
std::string const board = R"(
[board]
outputs = 6
thermostats = [1, 2]
valves = [3, 4]
circulators = [5, 6]
greatest_amperes = 1
fuse_amperes = 2
transformer = "20 VA"
thermostat_draw = "2 W"
valve_draw = "7 W"
mixing_draw = "5 W"
)";

ReviewPart review(std::string const& more) { return review_wiring(JobOf{house + more}.job()); }

TEST(Wiring, ProposesAnOutputForEachThingThatIsWired) {
  auto const part = review("");
  auto const& rows = part.tables.at(0).rows;
  ASSERT_EQ(rows.size(), 6u);
  EXPECT_EQ(us(rows[0][1].words), "thermostat");
  EXPECT_EQ(us(rows[0][2].words), "rooms/thermostat");
  EXPECT_NEAR(row_with(part.tables[0], 2, "boiler/circulator")[4].value, 80, 1e-9);
  EXPECT_THAT(part.findings, IsEmpty());
  EXPECT_THAT(us(part.missing), Contains(HasSubstr("[board]")));
}

TEST(Wiring, ListsSensorsAndEndSwitches) {
  auto const part =
      review("[controls]\nreset = { cold_supply = \"150 degF\", mild_outdoors = \"65 degF\", mild_supply = \"90 degF\" }\n");
  auto const& signals = part.tables.at(1);
  EXPECT_EQ(signals.id, "wiring_signals");
  EXPECT_EQ(us(row_with(signals, 0, "outdoor sensor")[1].words), "outdoor reset");
  EXPECT_EQ(us(row_with(signals, 1, "bath/valve")[0].words), "end switch");
  EXPECT_EQ(us(row_with(signals, 1, "rooms/valve")[0].words), "end switch");
}

// Two zone valves of 7 VA and two thermostats of 2 VA, common practice: 18 of 25 VA in the middle; valves of 12 VA make it 28.
TEST(Wiring, PassesNo24VLoadOnAGuess) {
  JobOf const job{house + "[board]\noutputs = 6\ntransformer = \"25 VA\"\n" + all_six};
  auto const part = at_both_ends(review_wiring, job.job(), assumed_in_table(job.job(), "board"));
  ASSERT_THAT(ids_of(part), ElementsAre("assumed.decides"));
  EXPECT_THAT(us(part.findings.at(0).words), HasSubstr("ok only if valve_draw in [board] is 10.5 W or less"));
}

TEST(Wiring, ProposesOutputsThatOfferTheRole) {
  auto const part = review("[board]\noutputs = 6\nthermostats = [5, 6]\ncirculators = [1, 3]\n");
  EXPECT_THAT(part.findings, IsEmpty());
  auto const& table = part.tables.at(0);
  EXPECT_EQ(us(row_with(table, 2, "rooms/thermostat")[0].words), "5");
  EXPECT_EQ(us(row_with(table, 2, "bath/thermostat")[0].words), "6");
  EXPECT_EQ(us(row_with(table, 2, "boiler/circulator")[0].words), "1");
  EXPECT_EQ(us(row_with(table, 2, "system/circulator")[0].words), "3");
  EXPECT_EQ(us(row_with(table, 2, "rooms/valve")[0].words), "2");
  EXPECT_EQ(us(row_with(table, 2, "bath/valve")[0].words), "4");
}

TEST(Wiring, TellsWhatDoesNotFitOnTheBoard) {
  auto const part = review("[board]\noutputs = 6\ncirculators = [1]\n");
  ASSERT_THAT(ids_of(part), ElementsAre("wiring.too_few_outputs"));
  EXPECT_THAT(us(part.findings[0].words), HasSubstr("1 of 6"));
  EXPECT_THAT(us(part.findings[0].words), HasSubstr("circulator"));
}

TEST(Wiring, AListWithoutConflictsIsInOrder) {
  auto const part = review(board + all_six);
  EXPECT_THAT(part.findings, IsEmpty()) << us(part.findings.at(0).words);
  // 1 A at 120 V each; 2 A of fuse for 80 + 60 W; 2·2 + 2·7 = 18 VA of 20
  ASSERT_EQ(part.in_order.size(), 4u);
  EXPECT_NEAR(part.in_order[2].actual.value, 140, 1e-9);
  EXPECT_NEAR(part.in_order[2].limit.value, 240, 1e-9);
  EXPECT_NEAR(part.in_order[3].actual.value, 18, 1e-9);
}

TEST(Wiring, NamesEveryConflict) {
  auto const part = review(board + output("a", 1, "thermostat", "rooms") + output("b", 1, "thermostat", "bath") +
                           output("c", 3, "valve", "roms") + output("d", 4, "valve", "bath") + output("d2", 9, "valve", "bath") +
                           output("e", 2, "circulator", "boiler/circulator") + output("g", 5, "circulator", "bath"));
  EXPECT_THAT(ids_of(part), UnorderedElementsAre("wiring.output_twice", "wiring.unknown_piece", "wiring.no_such_output",
                                                 "wiring.role_not_offered", "wiring.wrong_role", "wiring.over_transformer",
                                                 "wiring.fed_twice", "wiring.not_wired", "wiring.not_wired"));
  for (auto const& f : part.findings) {
    EXPECT_EQ(f.severity, Severity::serious);
    EXPECT_FALSE(f.fix.empty());
    if (f.id == "wiring.unknown_piece") EXPECT_EQ(f.fix.in(UnitSystem::us), "Did you mean 'rooms'?");
    if (f.id == "wiring.wrong_role") EXPECT_EQ(f.fix.in(UnitSystem::us), "Use a role that is there: thermostat or valve.");
  }
}

TEST(Wiring, HoldsLoadsAgainstTheirLimits) {
  auto const part = review(R"(
[board]
outputs = 8
greatest_power = "70 W"
total_power = "130 W"
transformer = "15 VA"
thermostat_draw = "2 W"
valve_draw = "7 W"
)" + all_six);
  EXPECT_THAT(ids_of(part), ElementsAre("wiring.over_power", "wiring.over_total", "wiring.over_transformer"));
  EXPECT_THAT(us(part.findings.at(0).words), HasSubstr("load 80 W, limit 70 W"));
}

TEST(Wiring, AnOutputOfItsOwnRelayLoadsNoBoard) {
  auto const part =
      review(R"(
[board]
outputs = 8
greatest_power = "70 W"
)" + output("a", 1, "thermostat", "rooms") +
             output("b", 2, "thermostat", "bath") + output("c", 3, "valve", "rooms") + output("d", 4, "valve", "bath") +
             output("f", 6, "circulator", "system/circulator") + "[[output]]\nname = \"boiler/circulator\"\nrole = \"circulator\"\n");
  EXPECT_THAT(part.findings, IsEmpty());
  EXPECT_EQ(us(row_with(part.tables.at(0), 2, "boiler/circulator")[0].words), "own relay");
}

TEST(Wiring, AStatedDrawGoesBeforeTheSolvedOne) {
  auto const part =
      review(board + output("a", 1, "thermostat", "rooms") + output("b", 2, "thermostat", "bath") +
             output("c", 3, "valve", "rooms", "draw = \"12 VA\"") + output("d", 4, "valve", "bath") +
             output("e", 5, "circulator", "boiler/circulator", "draw = \"125 W\"") + output("f", 6, "circulator", "system/circulator"));
  EXPECT_THAT(ids_of(part), ElementsAre("wiring.over_power", "wiring.over_transformer"));
  EXPECT_NEAR(part.findings.at(1).figures.at(0).value, 2 + 2 + 12 + 7, 1e-9);
}

}  // namespace
}  // namespace steadyfire
