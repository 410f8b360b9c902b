// What cycling and oversizing cost, by purge, drying and draft, against sums worked by hand and a published study.

#include <gtest/gtest.h>

#include "models/boiler.hpp"
#include "models/building/proportioning_thermostat.hpp"
#include "models/building/room.hpp"
#include "models/house/boiler_of.hpp"
#include "models/house/hot_water_rules.hpp"
#include "tests/models/stand.hpp"
#include "tests/project_of.hpp"

namespace steadyfire {
namespace {

Stand boiler_at_rest(int mode, std::vector<Setting> more) {
  std::vector<Setting> settings{{"heating_input", 30e3}, {"minimum_input", 8e3}, {"cells", 4.}, {"jacket_loss", 0.}};
  settings.insert(settings.end(), more.begin(), more.end());
  auto s = StandBuilder{catalog()}.add("boiler", "boiler", {"in", "out"}, settings).build();
  s.hold(given::outdoors, celsius(0));
  for (int i = 0; i < 4; ++i) s[s.cell("boiler", i)] = celsius(60);
  s.flow("boiler", 0), s.mode("boiler", mode), s.settle();
  return s;
}
Place held(Stand const& s) { return s.own("boiler", 2); }

// Methane wants 9.52 times its volume of air; with 25 % more 11.9 mol of 29.1 J/(mol·K) for 890.63 kJ: 3.89e-4 W/K a watt of input.
// Half of that at 30 kW, from 60 °C into air of 0 °C: 350 W. Pipeline gas has a little more carbon: 2 %.
TEST(Purge, CarriesTheHeatOfItsAir) {
  auto s = boiler_at_rest(Boiler::postpurging, {{"excess_air", 0.25}, {"purge_flow", 0.5}, {"condensate_held", 0.}});
  EXPECT_NEAR(s.into(account::flue), 0.5 * 30e3 * 3.89e-4 * 60, 0.02 * 350);
  auto resting = boiler_at_rest(Boiler::ready, {{"excess_air", 0.25}, {"off_draft", 0.01}, {"condensate_held", 0.}});
  EXPECT_NEAR(resting.into(account::flue), 0.01 * 30e3 * 3.89e-4 * 60, 0.02 * 7);
}

// Saturated at 60 °C a kilogram of dry air holds 0.1528 kg of water (ASHRAE Handbook Fundamentals, moist air, from memory).
TEST(Purge, DriesAWetExchanger) {
  auto s = boiler_at_rest(Boiler::postpurging, {{"excess_air", 0.25}, {"purge_flow", 0.5}, {"condensate_held", 1e-4}});
  double const dry = s.into(account::flue), kg_of_air = 0.5 * 30e3 * 3.89e-4 / 1005;
  s[held(s)] = 0.1;  // all that it holds
  EXPECT_NEAR(s.into(account::flue) - dry, kg_of_air * (0.1528 - 0.004) * 2.43e6, 0.03 * kg_of_air * 0.1488 * 2.43e6);
  EXPECT_NEAR(s.rates()[held(s)], -kg_of_air * 0.1488, 0.03 * kg_of_air * 0.1488);
}

// At 84 kPa the dew point lies 4 K lower (physics of saturation: 57.5 and 53.5 °C at the same share of water).
TEST(Altitude, LowersTheDewPointAndTheInput) {
  Combustion const sea(natural_gas(), 0.25), high(natural_gas(), 0.25, 84e3);
  EXPECT_NEAR(sea.dew_point - high.dew_point, 4, 0.3);
  auto s = StandBuilder{catalog()}
               .add("boiler", "boiler", {"in", "out"}, {{"heating_input", 30e3}, {"minimum_input", 8e3}, {"derate", 0.12}})
               .build();
  Piece boiler = s.plan.pieces[0];
  EXPECT_DOUBLE_EQ(take_derate(boiler), 0.88);
  EXPECT_NEAR(boiler_of(boiler).full, 0.88 * 30e3, 1e-6);
  EXPECT_NEAR(boiler_of(boiler).least * boiler_of(boiler).full, 0.88 * 8e3, 1e-6);
}

// The same flame is as gentle in the same exchanger, whatever the boiler's minimum.
TEST(Approach, FollowsTheGasFlowNotTheShareOfTheTurndown) {
  auto const approach = [](double minimum) {
    std::vector<Setting> const settings{{"heating_input", 40e3}, {"minimum_input", minimum}};
    auto s = StandBuilder{catalog()}.add("boiler", "boiler", {"in", "out"}, settings).build();
    Boiler b = fill<Boiler>(s.plan.pieces[0].values);
    return b.prepare(), b.approach(0.25);
  };
  EXPECT_NEAR(approach(10e3), approach(4e3), 1e-9);
}

TEST(Partition, PassesHeatByAreaAndResistance) {
  auto s = StandBuilder{catalog()}
               .add("room", "a", {}, {{"heat_loss", 0.}})
               .add("room", "b", {}, {{"heat_loss", 0.}})
               .add("partition", "wall", {}, {{"one", "a"}, {"other", "b"}, {"area", 12.}, {"r_value", 0.5}})
               .build();
  for (int i : {1, 2, 3}) s[s.own("a", i)] = celsius(22), s[s.own("b", i)] = celsius(18);
  s.settle();
  Place const surfaces = s.own("b", 2);
  EXPECT_NEAR(s.rates()[surfaces] * s.plan.capacity[surfaces], 12 / 0.5 * 4, 1e-6);
}

struct Day { double starts, efficiency; };
/// A house of a heat loss of `load` on a day at half its load, with a boiler of 28 kW that turns down to 7 kW.
Day sized(double load_kW) {
  std::string const text = R"(format = 1
title = "sized"
[site]
outdoor_design = "-2 degC"
indoor_design = "20 degC"
weather = { kind = "daily wave", mean = "7 degC", swing = "3 K" }
[boiler]
heating_input = "28 kW"
minimum_input = "7 kW"
[near_boiler]
arrangement = "direct"
[[zone]]
name = "house"
design_load = ")" + std::to_string(load_kW) + R"( kW"
floor_area = ")" + std::to_string(load_kW * 15) + R"( m2"
emitter = { kind = "panel radiator", output = ")" + std::to_string(1.3 * load_kW) + R"( kW" }
circulator = { duty = "small" }
supply_temperature = "70 degC"
thermostat = { kind = "differential thermostat", differential = "1 K", setting = "68 degF" }
)";
  auto const r = run_for(project_of(text), 3 * 86400).record;
  return {double(r.burner.starts) / 3, r.energy.efficiency()};
}

// G. Bennett and C. Elwell, Effect of boiler oversizing on efficiency: a dynamic simulation study, Building Services Engineering
// Research and Technology 41, 2020 (abstract): a ratio of plant to load of 8.5 gives more than 50 cycles a day, and oversizing
// above 3 costs 6 to 9 %. Their house and its thermostat are told only in part; held are the direction and the order of size.
// Here a ratio of 1.5, 3 and 8.5 gives 6, 18 and 30 cycles a day at 92.1, 89.8 and 86.8 %.
TEST(Oversizing, CyclesMoreAndIsLessEfficientAsAPublishedStudyFinds) {
  auto const fits = sized(28 / 1.5), three = sized(28 / 3.0), most = sized(28 / 8.5);
  RecordProperty("starts", std::to_string(fits.starts) + " " + std::to_string(three.starts) + " " + std::to_string(most.starts));
  RecordProperty("efficiency",
                 std::to_string(fits.efficiency) + " " + std::to_string(three.efficiency) + " " + std::to_string(most.efficiency));
  EXPECT_LT(2 * fits.starts, three.starts);
  EXPECT_LT(1.3 * three.starts, most.starts);
  EXPECT_GT(fits.efficiency, three.efficiency);
  EXPECT_GT(three.efficiency, most.efficiency);
  EXPECT_NEAR(fits.efficiency - most.efficiency, 0.06, 0.05);
}

}  // namespace
}  // namespace steadyfire
