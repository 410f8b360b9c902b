// What rises, stands, burns and runs off, against closed forms and published values: as a user's file asks for them.

#include "models/fluid/water.hpp"
#include "models/piping/buffer_size.hpp"
#include "models/piping/condensate.hpp"
#include "models/piping/standing_pipe.hpp"
#include "models/piping/thermosiphon.hpp"
#include "models/pressure/fill.hpp"
#include "tests/reference/water_job.hpp"

#include <fmt/format.h>

#include <cmath>

namespace steadyfire {
namespace {

using namespace water_job;
double constexpr gallon = 3.785411784e-3, therm = 1e5 * 1055.05585262, kWh = 3.6e6;
void expect_share(double found, double expected, double share) { EXPECT_NEAR(found, expected, share * std::abs(expected)); }

std::string const tees = "arrangement = \"closely spaced tees\"\n";
std::string upstairs(std::string const& height, std::string const& water, std::string const& drop, std::string const& circulator) {
  return "height = \"" + height + "\"\nsupply_temperature = \"" + water + "\"\ndesign_drop = \"" + drop + "\"\ncirculator = " + circulator +
         "\n";
}

// (ρ_cool − ρ_warm)·g·h with densities of IAPWS-IF97 (python3-iapws); 0.5 %. A flow check takes some 0.5 psi: common practice, no source.
TEST(GhostFlow, IsDrivenByTheWeightOfTheColumns) {
  Water const water;
  struct {
    double hot, cool, height, pressure;
  } const rows[]{{70, 50, 3, 302.1}, {80, 60, 2.5, 279.7}, {60, 20, 3, 441.2}, {82.222, 21.111, 3.048, 824}};
  for (auto const& r : rows)
    expect_share(thermosiphon(water.at(r.cool + 273.15).density, water.at(r.hot + 273.15).density, r.height), r.pressure, 0.005);

  struct {
    char const *hot, *height, *drop, *room, *column;
    double pressure;
  } const jobs[]{{"70 degC", "3 m", "20 K", "20 degC", "push while it cools", 302.1},
                 {"80 degC", "2.5 m", "20 K", "20 degC", "push while it cools", 279.7},
                 {"60 degC", "3 m", "40 K", "20 degC", "push while it cools", 441.2},
                 {"60 degC", "3 m", "10 K", "20 degC", "push against cold water", 441.2},
                 {"180 degF", "10 ft", "20 K", "70 degF", "push against cold water", 824}};
  for (auto const& j : jobs) {
    auto text = house("", upstairs(j.height, j.hot, j.drop, "{ check_valve = false }"));
    text.insert(text.find("outdoor_design"), std::string("indoor_design = \"") + j.room + "\"\n");
    auto const part = part_of("piping", text);
    expect_share(cell(part, "ghost_flow", 0, j.column), j.pressure, 0.005);
    EXPECT_TRUE(finds(part, "zone.no_check"));
  }
}

TEST(GhostFlow, IsHeldByACheckThatOpensAtMore) {
  for (auto const* with : {"{ check_valve = true, check_opening_head = \"0.7 ft\" }", "{ check_valve = false }\nflow_check = {}"}) {
    auto const part = part_of("piping", house("", upstairs("10 ft", "180 degF", "20 degF", with)));
    EXPECT_FALSE(finds(part, "zone.no_check")) << with;
    EXPECT_NEAR(held(part, "zone.check_opens").actual.value, 824, 6) << with;
  }
  auto const weak = part_of("piping", house("", upstairs("10 ft", "180 degF", "20 degF", "{ check_opening_head = \"0.2 ft\" }")));
  EXPECT_EQ(finding(weak, "zone.check_opens").severity, Severity::minor);
  EXPECT_NEAR(finding(weak, "zone.check_opens").limit->value, 0.2 * 0.3048 * 998 * 9.80665, 2);
  auto const valve = part_of("piping", house("", "height = \"10 ft\"\nzone_valve = {}\n"));
  EXPECT_FALSE(finds(valve, "zone.no_check"));
}

// A neighbour without a check: what the flows study finds through it at rest is weighed here.
TEST(GhostFlow, PushedByANeighbourWeighs) {
  auto const part = part_of("piping", house(R"([[zone]]
name = "other"
design_load = "10 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "40 ft" }
)",
                                            "circulator = { check_valve = false }\n", tees));
  auto const& f = finding(part, "zone.no_check");
  EXPECT_EQ(f.place, "house");
  EXPECT_EQ(f.severity, Severity::serious);
  EXPECT_GT(f.figures[1].value, 3e-6);
}

// 150 kPa absolute, water of 80 °C: 10.764 m by IAPWS-IF97 (python3-iapws).
TEST(SuctionHead, IsWhatStaysAboveBoiling) {
  Water const water;
  EXPECT_NEAR(suction_head(150e3, water.vapour_pressure(353.15), water.at(353.15).density), 10.764, 0.01);
  auto const part = part_of("piping", house(R"([[expansion_tank]]
name = "tank"
joint = "boiler return"
fill_pressure = "48.675 kPa"
hottest_water = "80 degC"
[safety]
needed_suction_head = "11 m"
)",
                                            "", tees));
  std::size_t const row = row_of(part, "suctions", "boiler/circulator");
  EXPECT_NEAR(cell(part, "suctions", row, "suction head above boiling"), 10.764, 0.02);
  EXPECT_NEAR(cell(part, "suctions", row, "change"), 0, 1);  // [Pa] the tank holds the pressure there
  EXPECT_EQ(finding(part, "circulator.low_suction").severity, Severity::serious);
}

// Where the tank joins behind the circulator, all its head is taken off its suction: hydrostatics of a circuit with one held point.
TEST(Circulator, PumpsAwayFromTheTankOrTowardsIt) {
  auto const with_tank_at = [](char const* joint) {
    return part_of("piping", house(std::string("[[expansion_tank]]\nname = \"tank\"\njoint = \"") + joint + "\"\n", "", tees));
  };
  auto const away = with_tank_at("boiler return"), towards = with_tank_at("boiler inlet");
  EXPECT_LT(held(away, "circulator.pumps_towards_tank").actual.value, 1);
  auto const& f = finding(towards, "circulator.pumps_towards_tank");
  EXPECT_EQ(f.place, "boiler/circulator");
  EXPECT_NEAR(f.figures[0].value, 2 * f.limit->value, 0.01 * f.figures[0].value);  // the limit is half its head
}

// V = t·(P − L)/(500·ΔT): 10 min, 20 000 less 5 000 Btu/h, 20 degF: 15.0 gal as printed in the trade, whose 500 is 1.7 % above ρ·cp
// at 140 degF. SI: 6 less 1.5 kW, 10 K at 60 °C: 65.65 L, closed form.
TEST(Buffer, HoldsWhatTheLoadLeavesOfTheLeastFire) {
  Water const water;
  double const heat = water.at(333.15).density * water.at(333.15).heat_capacity;
  EXPECT_NEAR(buffer_size(600, 6000, 1500, heat, 10), 65.65e-3, 0.05e-3);
  EXPECT_EQ(buffer_size(600, 1500, 1500, heat, 10), 0);
  auto const us = part_of("piping", house("[buffer]\nleast_output = \"20 kBtu/h\"\nload = \"5 kBtu/h\"\nswing = \"20 degF\"\n"));
  expect_share(cell(us, "buffer", 0, "water needed"), 15.0 * gallon, 0.02);
  auto const si = part_of(
      "piping", house("[buffer]\nleast_output = \"6 kW\"\nload = \"1.5 kW\"\nswing = \"10 K\"\n[size]\nwanted_burn = \"10 min\"\n"));
  expect_share(cell(si, "buffer", 0, "water needed"), 65.65e-3, 0.002);
}
TEST(Buffer, IsToldAsSmallWhereItIs) {
  auto const job = [](char const* volume) {
    return part_of("piping", house("[buffer]\nleast_output = \"20 kBtu/h\"\nload = \"5 kBtu/h\"\nswing = \"20 degF\"\n", "",
                                   std::string("arrangement = \"buffer tank\"\ntank_volume = \"") + volume + "\"\n"));
  };
  EXPECT_EQ(finding(job("5 gal"), "buffer.small").severity, Severity::minor);
  EXPECT_FALSE(finds(job("20 gal"), "buffer.small"));
}

// Of methane wholly condensed 0.1456 kg/kWh, 1.128 gal a therm; of natural gas with 20 % excess air at 40 °C 0.0841 kg/kWh: stoichiometry
// and IAPWS saturation, worked elsewhere. The gas here has 3.5 % ethane, so 1 % less water.
TEST(Condensate, ComesByTheTemperatureOfTheFlueGas) {
  auto text = house("");
  text.insert(text.find("minimum_input"), "excess_air = \"20 %\"\n");
  auto const part = part_of("piping", text);
  expect_share(cell(part, "condensate", 0, "water from the fuel") * therm / 1000 / gallon, 1.128, 0.015);
  expect_share(cell(part, "condensate", 2, "water from the fuel") * kWh, 0.0841, 0.01);
}
// The loss by the flue tells the vapour that left, of one burn or of any mixture of burns.
TEST(Condensate, FollowsFromTheHeatLostByTheFlue) {
  Combustion const c{natural_gas(), 0.2};
  for (double const celsius : {30.0, 40.0, 52.0, 70.0}) {
    double const flue = celsius + 273.15;
    EXPECT_NEAR(condensate_by_loss(c, 1 - c.efficiency(flue), flue - Combustion::reference) * kWh, c.condensate(flue) * kWh, 1e-6)
        << celsius;
  }
  double const loss = 1 - (c.efficiency(308.15) + c.efficiency(338.15)) / 2, mean = 323.15 - Combustion::reference;
  EXPECT_NEAR(condensate_by_loss(c, loss, mean) * kWh, c.condensate(308.15) / 2 * kWh, 0.001);  // half burned dry; see Errors
}

// 3/4 in copper L under 12.7 mm of k 0.036: C 1550 J/(m·K), τ 6374 s; 55 °C in air of 20 °C is 46.389 °C after 30 min. Closed form.
TEST(StandingWater, CoolsByTheClosedForm) {
  StandingPipe const pipe{1550, 0.24319};
  EXPECT_NEAR(pipe.time_constant(), 6374, 1);
  EXPECT_NEAR(pipe.temperature(55, 20, 1800), 46.389, 0.01);
  EXPECT_NEAR(pipe.time_to(0, 20, -10), 6374 * std::log(3.0), 2);
  EXPECT_EQ(pipe.time_to(0, 20, 5), std::numeric_limits<double>::infinity());
  auto const part = part_of("frost", house(R"toml([[cold_run]]
name = "crawl space"
size = "3/4 in copper L"
insulation = "12.7 mm"
insulation_conductivity = "0.036 W/(m.K)"
air = "20 degC"
water = "55 degC"
rest = "30 min"
[[cold_run]]
name = "attic"
pipe = "house/supply"
air = "-10 degC"
water = "20 degC"
rest = "2 h"
)toml",
                                           "size = \"3/4 in copper L\"\n"));
  EXPECT_NEAR(cell(part, "cold_runs", 0, "water then") - 273.15, 46.389, 0.05);
  expect_share(cell(part, "cold_runs", 0, "time constant"), 6374, 0.01);
  expect_share(cell(part, "cold_runs", 1, "first ice after"), 6374 * std::log(3.0), 0.02);
  EXPECT_EQ(finding(part, "pipe.freezes").place, "attic");
  EXPECT_EQ(finding(part, "pipe.freezes").severity, Severity::serious);
}

std::string const glycol = R"toml(arrangement = "plate exchanger"
exchanger = { rated_conductance = "6 kBtu/(h.degF)", rated_flow = "6 gpm", rated_head_loss = "6 ft" }
zone_glycol_temperature = "140 degF"
)toml";

// Btu/h by gpm and °F at 60 °C: water 491.8; glycol of 30 % by mass 474.4, 40 % 461.4, 50 % 445.1: IAPWS-IF97 and Melinder's polynomials,
// worked elsewhere; 1.5 %. First ice at −12.8, −20.6 and −32.2 °C.
TEST(Glycol, CarriesLessHeatAndFreezesLater) {
  struct {
    char const* share;
    double factor, ice;
  } const rows[]{{"0.3", 474.4, -12.8}, {"0.4", 461.4, -20.6}, {"0.5", 445.1, -32.2}};
  double const unit = 1055.05585262 / 3600 / (gallon / 60) * 1.8;
  for (auto const& r : rows) {
    auto const part = part_of("frost", house("", "", glycol + "zone_glycol = " + r.share + "\n"));
    std::size_t const zones = row_of(part, "glycol", "the zones' circuit");
    expect_share(cell(part, "glycol", zones, "heat carried") / unit, r.factor, 0.002);
    expect_share(cell(part, "glycol", zones, "of water") / unit, 491.8, 0.002);
    EXPECT_NEAR(cell(part, "glycol", zones, "first ice") - 273.15, r.ice, 0.1);
    double const flow = cell(part, "glycol_zones", 0, "flow"), of_water = cell(part, "glycol_zones", 0, "flow with water");
    EXPECT_LT(flow, of_water);
    EXPECT_GT(flow, 0.8 * of_water);  // thicker, so slower
  }
}
TEST(Glycol, IsHeldAgainstTheColdestItMeets) {
  auto const job = [](char const* share) {
    return part_of("frost", house("[[cold_run]]\nname = \"shed\"\npipe = \"house/supply\"\nair = \"0 degF\"\nrest = \"1 h\"\n", "",
                                  glycol + "zone_glycol = " + share + "\n"));
  };
  EXPECT_EQ(finding(job("0.3"), "glycol.weak").severity, Severity::serious);  // first ice at 9 degF
  EXPECT_NEAR(finding(job("0.3"), "glycol.weak").limit->value, (-5 + 459.67) / 1.8, 0.01);
  EXPECT_FALSE(finds(job("0.4"), "glycol.weak"));  // −5.1 degF
}

// Trade table of propylene glycol by volume, from memory: 30 % freezes at 9 degF and keeps pipe from bursting to -20 degF. Outdoors 5 degF,
// 5 degF of margin: slush where nothing has to flow, and a failure where snow melts or a pipe runs in the cold.
TEST(Glycol, ProtectsFromBurstingWhereItIsSlush) {
  auto const with = [](double share, std::string const& side) {
    return part_of("frost", house(fmt::format("[fluid]\nkind = \"propylene glycol\"\nmass_fraction = {}\n", share) + side));
  };
  EXPECT_EQ(finding(with(0.305, ""), "glycol.weak").severity, Severity::minor);
  EXPECT_EQ(finding(with(0.15, ""), "glycol.weak").severity, Severity::serious);
  EXPECT_FALSE(finds(with(0.45, ""), "glycol.weak"));
  auto const cold = "[[cold_run]]\nname = \"shed\"\npipe = \"house/supply\"\nair = \"5 degF\"\nrest = \"1 h\"\n";
  EXPECT_EQ(finding(with(0.305, cold), "glycol.weak").severity, Severity::serious);
}
// Plumbing codes want two walls between drinking water and a treated fluid.
TEST(Glycol, IsPartedFromDrinkingWaterByTwoWalls) {
  auto const with = [](char const* fluid, char const* safety) {
    auto text = house(std::string(fluid) + safety + "[hot_water]\n", "circulator = {}\n", tees);
    return part_of("frost", text);
  };
  auto const glycol = "[fluid]\nkind = \"propylene glycol\"\nmass_fraction = 0.45\n";
  EXPECT_EQ(finding(with(glycol, ""), "glycol.potable").severity, Severity::minor);
  EXPECT_EQ(finding(with(glycol, "[safety]\ndouble_wall = \"no\"\n"), "glycol.potable").severity, Severity::serious);
  EXPECT_FALSE(finds(with(glycol, "[safety]\ndouble_wall = \"yes\"\n"), "glycol.potable"));
  EXPECT_FALSE(finds(with("", ""), "glycol.potable"));
}

TEST(Boiler, NeedsItsFlowAndBearsNoMore) {
  auto const job = [](char const* keys, std::string const& near) {
    auto text = house("", "", near);
    text.insert(text.find("minimum_input"), keys);
    return part_of("piping", text);
  };
  auto const bad = job("least_flow = \"20 gpm\"\nmost_flow = \"3 gpm\"\n", tees);  // one job, both limits wrong on purpose
  EXPECT_EQ(finding(bad, "boiler.low_flow").severity, Severity::serious);
  EXPECT_EQ(finding(bad, "boiler.high_flow").severity, Severity::minor);
  auto const good = job("least_flow = \"1 gpm\"\nmost_flow = \"30 gpm\"\n", tees);
  EXPECT_FALSE(finds(good, "boiler.low_flow"));
  EXPECT_FALSE(finds(good, "boiler.high_flow"));
  EXPECT_TRUE(finds(job("rise_limit = \"5 degF\"\n", tees), "boiler.high_rise"));
}

// Four pipe diameters between, eight before, four behind, of 1.055 in: common practice, no source.
TEST(ClosedTees, LieWithinFourDiameters) {
  auto const bad =
      part_of("piping", house("", "", tees + "gap_length = \"4.3 in\"\nstraight_before = \"8.3 in\"\nstraight_after = \"4.1 in\"\n"));
  for (auto const* id : {"tees.far_apart", "tees.short_before", "tees.short_after"}) EXPECT_TRUE(finds(bad, id)) << id;
  EXPECT_NEAR(finding(bad, "tees.far_apart").limit->value, 4 * 1.055 * 0.0254, 1e-4);
  auto const good =
      part_of("piping", house("", "", tees + "gap_length = \"4.2 in\"\nstraight_before = \"8.5 in\"\nstraight_after = \"4.3 in\"\n"));
  for (auto const* id : {"tees.far_apart", "tees.short_before", "tees.short_after"}) EXPECT_FALSE(finds(good, id)) << id;
  EXPECT_TRUE(says(part_of("piping", house("", "", tees)).missing, "gap_length"));  // what nobody states is not judged
}

TEST(AirSeparator, BelongsInTheHotSupplyBeforeTheCirculators) {
  EXPECT_TRUE(finds(part_of("piping", house("", "", tees)), "air.no_separator"));
  auto const good = part_of("piping", house("", "", tees + "air_separator = {}\n"));
  for (auto const* id : {"air.no_separator", "air.cool_place", "air.high_pressure"}) EXPECT_FALSE(finds(good, id)) << id;
  // straight through, the boiler's circulator in the return: what follows the separator is pushed, not drawn
  auto const pushed = part_of("piping", house("", "zone_valve = {}\n", "arrangement = \"direct\"\nair_separator = {}\n"));
  EXPECT_TRUE(finds(pushed, "air.high_pressure"));
  EXPECT_FALSE(finds(pushed, "air.cool_place"));
}

// Behind a combi's diverting valve the separator still stands in the hottest water of heating.
TEST(AirSeparator, IsFoundAlongAllWaysOfADivertingValve) {
  auto const part = part_of("piping", house("[hot_water]\n", "circulator = {}\n", tees + "air_separator = {}\n"));
  for (auto const* id : {"air.no_separator", "air.cool_place", "air.high_pressure"}) EXPECT_FALSE(finds(part, id)) << id;
  EXPECT_TRUE(says(part.sentences, "leaves ahead of boiler/air separator"));
}

TEST(Valves, AreToldWhereTheyAreMissing) {
  auto const part = part_of("piping", house("[safety]\nneutraliser = \"no\"\ndrain_air_gap = \"yes\"\nboiler_purge = \"no\"\n",
                                            "purge_valve = \"no\"\nisolation_valves = \"yes\"\n"));
  for (auto const* id : {"drain.no_neutraliser", "zone.no_purge", "boiler.no_purge", "boiler.no_strainer"})
    EXPECT_TRUE(finds(part, id)) << id;
  for (auto const* id : {"drain.no_air_gap", "zone.no_isolation"}) EXPECT_FALSE(finds(part, id)) << id;
  EXPECT_TRUE(says(part.missing, "boiler_isolation"));
  EXPECT_FALSE(says(part.missing, "purge_valve"));
}

}  // namespace
}  // namespace steadyfire
