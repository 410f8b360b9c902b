// Gas pipe by the tables of the code, and the same values once more through the review, as a user meets them.

#include <gtest/gtest.h>

#include "models/gas/gas_flow.hpp"
#include "models/gas/gas_sizes.hpp"
#include "tests/reference/reviewed_job.hpp"

namespace steadyfire {
namespace {

using namespace unit;
double in_cfh(double si) { return si / cfh.scale; }
double in_inches(double si) { return si / inch_water.scale; }
double capacity_cfh(char const* size, double drop, double length) {
  return in_cfh(
      gas_capacity(find_gas_pipe_size(size)->bore, inch_water.to_si(drop), foot.to_si(length), FuelGas::natural_gas()));
}

struct TableRow { char const* size; double drop; double cfh[10]; };
// Natural gas 0.60, schedule 40 steel, 10 to 100 ft: IFGC tables 402.4(1) and (2), from memory.
TableRow const tables[]{
    {"1/2 in steel 40", 0.5, {172, 118, 95, 81, 72, 65, 60, 56, 52, 50}},
    {"3/4 in steel 40", 0.5, {360, 247, 199, 170, 151, 137, 126, 117, 110, 104}},
    {"1 in steel 40", 0.5, {678, 466, 374, 320, 284, 257, 237, 220, 207, 195}},
    {"1-1/4 in steel 40", 0.5, {1390, 957, 768, 657, 583, 528, 486, 452, 424, 400}},
    {"1/2 in steel 40", 0.3, {131, 90, 72, 62, 55, 50, 46, 42, 40, 38}},
    {"3/4 in steel 40", 0.3, {273, 188, 151, 129, 114, 104, 95, 89, 83, 79}},
    {"1 in steel 40", 0.3, {514, 353, 284, 243, 215, 195, 179, 167, 157, 148}},
    {"1-1/4 in steel 40", 0.3, {1060, 726, 583, 499, 442, 400, 368, 343, 322, 304}}};

TEST(GasPipe, AgreesWithTheTablesOfTheCode) {
  for (auto const& row : tables)
    for (int i = 0; i < 10; ++i)
      EXPECT_NEAR(capacity_cfh(row.size, row.drop, 10.0 * (i + 1)), row.cfh[i], std::max(1.0, 0.005 * row.cfh[i]))
          << row.size << " at " << row.drop << " in and " << 10 * (i + 1) << " ft";
}

// 2018 IFGC tables 402.4(3) and (4), looked up: 3.0 in at 10 and 60 ft, 6.0 in at 10 ft; they are rounded to three figures.
TEST(GasPipe, AgreesWithTheTablesOfHigherDrops) {
  struct { char const* size; double at_3_10, at_3_60, at_6_10; } const rows[]{{"1/2 in steel 40", 454, 172, 660},
                                                                              {"3/4 in steel 40", 949, 360, 1380},
                                                                              {"1 in steel 40", 1790, 678, 2600},
                                                                              {"1-1/4 in steel 40", 3670, 1390, 5340}};
  for (auto const& [size, at_3_10, at_3_60, at_6_10] : rows) {
    EXPECT_NEAR(capacity_cfh(size, 3, 10), at_3_10, 0.005 * at_3_10) << size;
    EXPECT_NEAR(capacity_cfh(size, 3, 60), at_3_60, 0.005 * at_3_60) << size;
    EXPECT_NEAR(capacity_cfh(size, 6, 10), at_6_10, 0.005 * at_6_10) << size;
  }
}

// The code's two values, from memory.
TEST(GasPipe, FactorsFollowFromGravityAndViscosity) {
  EXPECT_NEAR(FuelGas::natural_gas().factor(), 0.6094, 5e-5);
  EXPECT_NEAR(FuelGas::propane().factor(), 1.2462, 5e-5);
}

TEST(GasPipe, DropIsTheInverseOfCapacity) {
  auto const gas = FuelGas::propane();
  for (double drop : {10.0, 120.0, 900.0}) EXPECT_NEAR(gas_drop(gas_capacity(0.02, drop, 17, gas), 0.02, 17, gas), drop, 1e-9 * drop);
}

// --- through the review ---------------------------------------------------------

std::string line(std::string const& size, double length, std::string const& gas) {
  return fmt::format(R"(
[gas]
{}
[[gas_pipe]]
name = "run"
from = "meter"
to = "wall"
length = "{} ft"
size = "{}"
[[gas_appliance]]
name = "boiler"
at = "wall"
least_pressure = "3.5 inH2O"
)", gas, length, size);
}

ReviewPart gas_of(std::string const& side, double input_kBtu = 199) { return reviewed_part("gas", side, input_kBtu); }

// Every entry of the tables, as the "capacity" that a user reads beside the pipe.
TEST(GasReview, TellsTheTablesOfTheCode) {
  for (auto const& row : tables)
    for (int i = 0; i < 10; ++i) {
      auto const part = gas_of(line(row.size, 10.0 * (i + 1), fmt::format("allowed_drop = \"{} inH2O\"", row.drop)), 50);
      EXPECT_NEAR(in_cfh(cell(part, "gas_pipes", 0, "capacity")), row.cfh[i], std::max(1.0, 0.005 * row.cfh[i]))
          << row.size << " at " << row.drop << " in and " << 10 * (i + 1) << " ft";
    }
}

// The longest-length method takes the row of that length or the next longer: 56 ft of 1/2 in by the row of 60 ft, 65 cfh; 110 ft by that
// of 125 ft, 172·(10/125)^0.541 cfh by the row of 10 ft and the code's exponent.
TEST(GasReview, TakesTheNextLongerRow) {
  auto const at = [](double length) {
    return gas_of(line("1/2 in steel 40", length, "allowed_drop = \"0.5 inH2O\""), 70);
  };
  EXPECT_NEAR(in_cfh(cell(at(56), "gas_pipes", 0, "capacity")), 65, 1);
  EXPECT_NEAR(in_cfh(cell(at(110), "gas_pipes", 0, "capacity")), 172 * std::pow(10 / 125., 0.541), 1);
  EXPECT_THAT(us(finding(at(56), "gas.over_capacity").whose), testing::HasSubstr("60.0 ft row of the table, next longer than 56.0 ft"));
  auto const odd = gas_of(line("1/2 in steel 40", 56, "allowed_drop = \"0.4 inH2O\""), 80);
  EXPECT_THAT(us(finding(odd, "gas.over_capacity").whose), testing::HasSubstr("equation"));
}

// By the table 10 ft of 1/2 in carry 172 cfh at 0.5 in, 40 ft of 1-1/4 in 657: 191.9 cfh lose 0.61 and 0.05 in.
TEST(GasReview, SaysWhatTakesThePressure) {
  auto const part = gas_of(R"(
[gas]
supply_pressure = "7 inH2O"
[[gas_pipe]]
name = "main"
from = "meter"
to = "cellar"
length = "40 ft"
size = "1-1/4 in steel 40"
[[gas_pipe]]
name = "last"
from = "cellar"
to = "wall"
length = "10 ft"
size = "1/2 in steel 40"
[[gas_appliance]]
name = "boiler"
at = "wall"
)");
  EXPECT_THAT(us(part.sentences), testing::Contains(testing::HasSubstr("'last' takes 0.61 in. w.c., 'main' 0.05 in. w.c.")));
}

// 100 000 Btu/h at 1037 Btu/ft³ are 96.4 cfh.
TEST(GasReview, CountsGasByItsHeatingValue) {
  auto const part = gas_of(line("1 in steel 40", 10, "heating_value = \"1037 Btu/ft3\""), 100);
  EXPECT_NEAR(in_cfh(cell(part, "gas_appliances", 0, "gas")), 96.4, 0.05);
}

// Trade fact; common practice, no source, and the table's 72 cfh.
TEST(GasReview, RefusesFiftyFeetOfHalfInchToABurnerOf199) {
  auto const part = gas_of(line("1/2 in steel 40", 50, "supply_pressure = \"7 inH2O\""));
  EXPECT_THAT(serious(part), testing::IsSupersetOf({"gas.over_capacity run", "gas.over_allowance boiler"}));
  auto const& f = finding(part, "gas.over_capacity");
  EXPECT_NEAR(in_cfh(f.figures[0].value), 191.9, 0.1);
  EXPECT_NEAR(in_cfh(f.limit->value), 72, 1);
  EXPECT_THAT(f.fix.in(UnitSystem::us),
              testing::HasSubstr("1 in steel 40"));  // of the table: 151 cfh of 3/4 in are too little, 284 of 1 in do
}

// Trade fact: the piece alone takes more than the 0.5 in w.c. that the whole line may lose.
TEST(GasReview, RefusesAHalfInchPieceAtTheEndOfALargerLine) {
  auto const part = gas_of(R"(
[gas]
supply_pressure = "7 inH2O"
[[gas_pipe]]
name = "main"
from = "meter"
to = "cellar"
length = "40 ft"
size = "1-1/4 in steel 40"
[[gas_pipe]]
name = "last"
from = "cellar"
to = "wall"
length = "10 ft"
size = "1/2 in steel 40"
[[gas_appliance]]
name = "boiler"
at = "wall"
least_pressure = "3.5 inH2O"
)");
  auto const& f = finding(part, "gas.piece_over_allowance");
  EXPECT_EQ(f.place, "last");
  EXPECT_EQ(f.severity, Severity::serious);
  EXPECT_GT(f.figures[0].value, f.limit->value);
  // 10 ft carry 172 cfh at 0.5 in (table); 191.9 cfh lose 0.5·(191.9/172)^(1/0.541) = 0.612 in.
  EXPECT_NEAR(in_inches(f.figures[0].value), 0.612, 0.005);
  EXPECT_THAT(f.fix.in(UnitSystem::us), testing::HasSubstr("A larger drop needs the appliance manual and the local code to allow it."));
  // There is pressure to spare all the same: the manual's least is met.
  EXPECT_THAT(held(part), testing::Contains("gas.low_pressure boiler"));
}

// Two burners on one main. By hand with the table: 40 ft of 3/4 in carry 170 cfh at 0.5 in.
TEST(GasReview, AddsDropsAlongBranchesWithAllFiringAndWithEachAlone) {
  std::string const side = R"(
[gas]
supply_pressure = "7 inH2O"
heating_value = "1000 Btu/ft3"
[[gas_pipe]]
name = "main"
from = "meter"
to = "tee"
length = "40 ft"
size = "3/4 in steel 40"
[[gas_pipe]]
name = "to boiler"
from = "tee"
to = "wall"
length = "10 ft"
size = "3/4 in steel 40"
[[gas_pipe]]
name = "to range"
from = "tee"
to = "kitchen"
length = "20 ft"
size = "1/2 in steel 40"
[[gas_appliance]]
name = "boiler"
at = "wall"
least_pressure = "3.5 inH2O"
[[gas_appliance]]
name = "range"
at = "kitchen"
input = "65 kBtu/h"
least_pressure = "5 inH2O"
most_pressure = "14 inH2O"
)";
  auto const part = gas_of(side, 100);
  auto const lost = [](double flow, double carried, double at) { return at * std::pow(flow / carried, 1 / 0.541); };
  double const main_all = lost(165, 170, 0.5), main_boiler = lost(100, 170, 0.5), boiler = lost(100, 360, 0.5), range = lost(65, 118, 0.5);
  auto const left = [&](int row, char const* column) { return in_inches(cell(part, "gas_appliances", row, column)); };
  EXPECT_NEAR(left(0, "inlet, all firing"), 7 - main_all - boiler, 0.01);
  EXPECT_NEAR(left(0, "inlet, it alone"), 7 - main_boiler - boiler, 0.01);
  EXPECT_NEAR(left(1, "inlet, all firing"), 7 - main_all - range, 0.01);
  EXPECT_THAT(held(part), testing::IsSupersetOf({"gas.low_pressure range", "gas.high_pressure range"}));
  EXPECT_THAT(us(part.missing), testing::Contains(testing::HasSubstr("meter_capacity")));
}

// What it offers instead passes when it is laid.
TEST(GasReview, OffersTheSmallestSizesThatPass) {
  auto const side = [](char const* main, char const* branch) {
    return fmt::format(R"(
[gas]
supply_pressure = "7 inH2O"
heating_value = "1037 Btu/ft3"
specific_gravity = 0.6
allowed_drop = "0.5 inH2O"
meter_capacity = "250 cfh"
regulator_capacity = "300 cfh"
[[gas_pipe]]
name = "main"
from = "meter"
to = "tee"
length = "45 ft"
elbows = 5
size = "{}"
[[gas_pipe]]
name = "branch"
from = "tee"
to = "wall"
length = "20 ft"
elbows = 3
tees_turned = 1
valves = 1
size = "{}"
[[gas_appliance]]
name = "boiler"
at = "wall"
least_pressure = "3.5 inH2O"
[[gas_appliance]]
name = "dryer"
at = "tee"
input = "22 kBtu/h"
)", main, branch);
  };
  auto const narrow = gas_of(side("3/4 in steel 40", "1/2 in steel 40"));
  EXPECT_FALSE(serious(narrow).empty());
  std::string const main = words(narrow, "gas_pipes", 0, "size needed");
  std::string const branch = words(narrow, "gas_pipes", 1, "size needed");
  auto const wide = gas_of(side(main.c_str(), branch.c_str()));
  EXPECT_TRUE(wide.findings.empty()) << us(wide.findings[0].words);
  EXPECT_EQ(words(wide, "gas_pipes", 0, "size needed"), "as it is");
  for (auto const& [m, b] : {std::pair{"1 in steel 40", branch.c_str()}, {main.c_str(), "3/4 in steel 40"}})  // one size down
    EXPECT_FALSE(gas_of(side(m, b)).findings.empty()) << m << " and " << b;
}

// 199 000 Btu/h of propane at 2500 Btu/ft³ are 79.6 cfh: 30 ft of 1/2 in carry as much of the heavier gas as
// 95·(0.6094/1.2462)^0.541 = 64.5 cfh of the table's natural gas.
TEST(GasReview, KnowsPropane) {
  auto const part = reviewed_part("gas", line("1/2 in steel 40", 30, "supply_pressure = \"11 inH2O\""), 199, "fuel = \"propane\"");
  EXPECT_NEAR(in_cfh(cell(part, "gas_pipes", 0, "flow")), 79.6, 0.05);
  EXPECT_NEAR(in_cfh(cell(part, "gas_pipes", 0, "capacity")), 64.5, 0.5);
}

// The rows of the table are the maker's own: at 0.5 in and 20 ft it carries what row 20 ft says.
TEST(GasReview, TakesCorrugatedTubeByTheMakersTable) {
  auto const part = gas_of(R"(
[[gas_pipe]]
name = "tube"
from = "meter"
to = "wall"
length = "20 ft"
capacity = { length = "ft", flow = "cfh", points = [[10, 300], [20, 210], [40, 145]] }
capacity_drop = "0.5 inH2O"
[[gas_appliance]]
name = "boiler"
at = "wall"
)", 150);
  EXPECT_NEAR(in_cfh(cell(part, "gas_pipes", 0, "capacity")), 210, 1e-6);
  double const flow = 150e3 / 1037, exponent = std::log(2) / std::log(210 / 145.);
  EXPECT_NEAR(in_inches(cell(part, "gas_pipes", 0, "drop")), 0.5 * 20 / (20 * std::pow(210 / flow, exponent)), 1e-3);
}

// Between two rows of the maker's table the longer one holds.
TEST(GasReview, TakesCorrugatedTubeByTheNextLongerRow) {
  auto const part = gas_of(R"(
[gas]
allowed_drop = "0.5 inH2O"
[[gas_pipe]]
name = "tube"
from = "meter"
to = "wall"
length = "25 ft"
capacity = { length = "ft", flow = "cfh", points = [[10, 300], [20, 210], [40, 145]] }
capacity_drop = "0.5 inH2O"
[[gas_appliance]]
name = "boiler"
at = "wall"
)", 100);
  EXPECT_NEAR(in_cfh(cell(part, "gas_pipes", 0, "capacity")), 145, 1e-6);
}

TEST(GasReview, SaysThatNothingIsStated) {
  auto const part = gas_of("", 100);
  EXPECT_TRUE(part.findings.empty());
  EXPECT_THAT(us(part.missing), testing::ElementsAre(testing::HasSubstr("no [[gas_pipe]]")));
  EXPECT_FALSE(part.cautions.empty());
}

}  // namespace
}  // namespace steadyfire
