#include "tools/review/materials.hpp"

#include <gmock/gmock.h>

#include "job_of.hpp"
#include "sim/record/record_csv.hpp"

namespace steadyfire {
namespace {

using testing::HasSubstr;

std::string const house = R"(
format = 1
title = "Two zones over closely spaced tees"
[site]
outdoor_design = "5 degF"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "10 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
size = "1 in copper M"
supply_length = "6 ft"
return_length = "5 ft"
system_length = "8 ft"
gap_length = "0.5 ft"
elbows = 3
strainer = {}
[[zone]]
name = "rooms"
design_load = "20 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "50 ft" }
circulator = {}
size = "3/4 in copper M"
supply_length = "40 ft"
return_length = "30 ft"
elbows = 5
balancing_cv = 2
[[zone]]
name = "slab"
design_load = "5 kBtu/h"
floor_area = "300 ft2"
emitter = { kind = "radiant slab", spacing = "12 in" }
circulator = {}
size = "1/2 in PEX"
supply_length = "20 ft"
elbows = 2
)";

double quantity(ReviewTable const& table, std::string const& what) { return row_with(table, 1, what)[2].value; }

TEST(Materials, CountsWhatTheGraphHas) {
  auto const part = review_materials(JobOf{house}.job());
  auto const& table = part.tables.at(0);
  double constexpr ft = 0.3048;
  // counted by hand from the file above
  EXPECT_NEAR(quantity(table, "1 in copper M"), (6 + 5 + 8 + 8 + 0.5) * ft, 1e-9);
  EXPECT_NEAR(quantity(table, "3/4 in copper M"), 70 * ft, 1e-9);
  EXPECT_NEAR(quantity(table, "1/2 in PEX"), 40 * ft, 1e-9);
  EXPECT_NEAR(quantity(table, "1/2 in PEX, in radiant slab"), 300 * ft, 1e-6);
  EXPECT_NEAR(quantity(table, "elbow, 1 in copper M"), 4 * 3, 0);
  EXPECT_NEAR(quantity(table, "elbow, 3/4 in copper M"), 2 * 5, 0);
  EXPECT_NEAR(quantity(table, "elbow, 1/2 in PEX"), 2 * 2, 0);
  // the two tees, and at each header one: main and two zones meet there
  EXPECT_NEAR(quantity(table, "tee, 1 in copper M"), 2, 0);
  EXPECT_NEAR(quantity(table, "tee, 1 in copper M with branch 1/2 in PEX"), 2, 0);
  EXPECT_NEAR(quantity(table, "circulator, small duty, fixed speed"), 3, 0);
  EXPECT_NEAR(quantity(table, "valve, for 3/4 in copper M, Cv 2"), 1, 0);
  EXPECT_NEAR(quantity(table, "strainer, for 1 in copper M"), 1, 0);
  EXPECT_NEAR(quantity(table, "0.5 in around 3/4 in copper M"), 70 * ft, 1e-9);
  EXPECT_NEAR(quantity(table, "room thermostat"), 2, 0);
  EXPECT_EQ(us(row_with(table, 1, "1/2 in PEX")[3].words), "slab");
  EXPECT_THAT(us(part.missing), testing::Contains(HasSubstr("waste")));
}

// A valve is bought by the pipe that it stands in, not by the main that it is taken off.
TEST(Materials, AValveIsAsWideAsItsPipe) {
  std::string text = house;
  for (auto at = text.find("circulator = {}"); at != text.npos; at = text.find("circulator = {}")) text.replace(at, 15, "zone_valve = {}");
  auto const table = review_materials(JobOf{text}.job()).tables.at(0);
  EXPECT_NEAR(quantity(table, "zone valve, for 3/4 in copper M"), 1, 0);
  EXPECT_NEAR(quantity(table, "zone valve, for 1/2 in PEX"), 1, 0);
}

// Every closed circuit has an expansion tank, and outdoor reset its sensor, whether the file draws them or not.
TEST(Materials, ListsWhatTheGraphLeavesOut) {
  auto const rows = [](std::string const& more) {
    std::string all;
    auto const table = review_materials(JobOf{house + more}.job()).tables.at(0);
    for (auto const& row : table.rows) all += us(row[1].words) + "\n";
    return all;
  };
  EXPECT_THAT(rows(""), testing::ContainsRegex("expansion tank, at least [0-9.]+ gal .none in the file."));
  EXPECT_THAT(rows(""), testing::Not(HasSubstr("outdoor sensor")));
  auto const told = rows("[controls]\nreset = { cold_supply = \"150 degF\", mild_outdoors = \"65 degF\", mild_supply = \"90 degF\" }\n"
                         "[[expansion_tank]]\nname = \"tank\"\njoint = \"return tee\"\nvolume = \"4.5 gal\"\n");
  EXPECT_THAT(told, HasSubstr("expansion tank, 4.5 gal\n"));
  EXPECT_THAT(told, testing::Not(HasSubstr("none in the file")));
  EXPECT_THAT(told, HasSubstr("outdoor sensor"));
}

TEST(Materials, WasteIsAddedToLengthsAlone) {
  auto const table = review_materials(JobOf{house + "[materials]\nwaste = \"10 %\"\n"}.job()).tables.at(0);
  EXPECT_NEAR(quantity(table, "3/4 in copper M"), 77 * 0.3048, 1e-9);
  EXPECT_NEAR(quantity(table, "elbow, 3/4 in copper M"), 10, 0);
}

TEST(Materials, AManifoldStandsForTheTeesOfItsHeaders) {
  std::string text = house;
  text += "[headers]\narrangement = \"manifold\"\n";
  auto const table = review_materials(JobOf{text}.job()).tables.at(0);
  EXPECT_NEAR(quantity(table, "manifold, 2 outlets, 1 in copper M"), 2, 0);
  for (auto const& row : table.rows) EXPECT_THAT(us(row[1].words), testing::Not(HasSubstr("with branch")));
}

TEST(Materials, ATanksTappingsAreNoTees) {
  std::string text = house;
  text.replace(text.find("closely spaced tees\"\nsize"), 19, "buffer tank");
  text.erase(text.find("gap_length"), std::string("gap_length = \"0.5 ft\"\n").size());
  auto const table = review_materials(JobOf{text}.job()).tables.at(0);
  for (auto const& row : table.rows) EXPECT_NE(us(row[1].words), "tee, 1 in copper M");
  EXPECT_NEAR(quantity(table, "buffer tank, 40.0 gal"), 1, 0);
}

TEST(Materials, AsCsvNumbersAndUnitsHaveColumnsOfTheirOwn) {
  ReviewTable const table{"t", "T", {"what", "quantity"}, {{"a, \"b\"", {3.048, measure::length}}, {"c", {2, measure::count}}}};
  EXPECT_EQ(to_csv(table, UnitSystem::us), "what,quantity,quantity_unit\r\n\"a, \"\"b\"\"\",10,ft\r\nc,2,\r\n");
  EXPECT_EQ(to_csv(table, UnitSystem::si), "what,quantity,quantity_unit\r\n\"a, \"\"b\"\"\",3.048,m\r\nc,2,\r\n");
}

}  // namespace
}  // namespace steadyfire
