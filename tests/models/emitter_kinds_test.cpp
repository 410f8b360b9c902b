/// Panels, radiators, fan coils and snow-melt slabs: each against its own closed forms and its own rules.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "tools/job/catalog.hpp"
#include "models/emitters/fan_coil.hpp"
#include "models/emitters/indirect_tank.hpp"
#include "models/emitters/snow_melt_slab.hpp"
#include "sim/control/transitions.hpp"
#include "sim/heat/steady.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

double constexpr plenty = 500;  // [kg/s] so much water that it does not cool

/// An emitter between the joints "in" and "out"; where it heats a room, the air of "room" is held.
Stand stand(std::string_view kind, std::vector<Setting> settings, double water, double air, double kg_per_s,
            std::vector<double> by_hour = {}) {
  StandBuilder builder{catalog()};
  bool const has_room = !find_kind(catalog(), kind)->calls_itself;
  if (has_room) settings.push_back({"room", "room"});
  builder.add("room", "room", {}, {{"heat_loss", 0.}}).add("room", "other", {}, {{"heat_loss", 0.}});
  builder.add("thermostat", "thermostat", {}, {{"room", "room"}}).add(kind, "emitter", {"in", "out"}, settings);
  auto s = builder.list("snowfall", by_hour).list("draws", by_hour).build();
  for (auto const* room : {"room", "other"})
    for (int own : {0, 1, 2, 3}) s.hold(s.own(room, own), air);
  s.hold(s.joint("in"), water), s.hold(s.joint("out"), water);
  s.flow("emitter", kg_per_s);
  return s;
}
/// What arrives in the room, which has no loss of its own, in its air and on its surfaces [W].
double into(Stand& s, std::string const& room) {
  double sum = 0;
  for (int own : {1, 2, 3}) sum += s.rates()[s.own(room, own)] * s.plan.capacity[s.own(room, own)];
  return sum;
}

// --- radiators ----------------------------------------------------------------------

TEST(ColumnRadiator, CoolsByItsPowerLawInTheTimeOfItsWaterAndIron) {
  // Closed form of C·θ' = −K·θ^n:  θ^(1−n) = θ_0^(1−n) + (n − 1)·K·t/C.  K: one cell, whose rated heat is at the mean of 55 and
  // 45 K less what one cell's mean is above: φ = 1/N − 1/(e^N − 1), N = 10/50
  double const rated = 1000, n = 1.3, seconds = 3600, N = 0.2, share = 1 / N - 1 / std::expm1(N);
  double const K = rated / std::pow(share * 55 + (1 - share) * 45, n);
  auto s = stand("column radiator", {{"output", rated}, {"cells", 1.}}, celsius(70), celsius(20), 0);
  s[s.cell("emitter", 0)] = celsius(70);
  double const C = s.plan.capacity[s.cell("emitter", 0)];
  EXPECT_NEAR(C / (0.010 * 992.2 * 4178 + 28e3), 1, 0.01);  // 10 L and 28 kJ/K a kW
  s.advance(seconds, 200);
  double const theta = std::pow(std::pow(50, 1 - n) + (n - 1) * K * seconds / C, 1 / (1 - n));
  EXPECT_NEAR(s[s.cell("emitter", 0)] - celsius(20), theta, 0.01);
}

TEST(TowelWarmer, TowelsTakeTheirShareOfTheOutput) {
  auto const given = [](double covered) {
    auto s = stand("towel warmer", {{"output", 500.}, {"covered", covered}}, celsius(70), celsius(20), plenty);
    return s.steady(), into(s, "room");
  };
  EXPECT_NEAR(given(0.3), 0.7 * given(0), 1e-5 * given(0));  // a hair less cooled
  EXPECT_NEAR(given(0), 500, 0.006 * 500);  // rated while its water cools, from 75 to 65 °C
}

// --- light panels --------------------------------------------------------------------

TEST(RadiantPanel, CeilingAndWallGiveTheirConstantCoefficientToTheRoom) {
  for (auto const& [kind, coefficient] : {std::pair{"radiant ceiling", 6.}, {"radiant wall", 8.}}) {
    auto s = stand(kind, {{"area", 10.}}, celsius(45), celsius(20), plenty);
    s.steady();
    EXPECT_NEAR(into(s, "room"), coefficient * 10 * (s[s.own("emitter", 1)] - celsius(20)), 0.02) << kind;
  }
}

TEST(RadiantPanel, WhatIsLostBehindGoesToTheHeatedRoomThere) {
  std::vector<Setting> settings{{"floor_area", 10.}, {"back_resistance", 2.}, {"back_room", "other"}, {"segments", 1.}};
  auto s = stand("plates under floor", settings, celsius(45), celsius(20), plenty);
  s.steady();
  EXPECT_NEAR(into(s, "other"), 10 / (2 + 0.17) * (s[s.own("emitter", 0)] - celsius(20)), 1e-6);
  EXPECT_NEAR(s.into(account::floor_down), 0, 1e-9);
}

TEST(RadiantPanel, WiderAndThickerPlatesGiveMore) {
  auto const heat = [](double width, double thickness) {
    auto s = stand("plates under floor", {{"floor_area", 10.}, {"plate_width", width}, {"plate_thickness", thickness}}, celsius(50),
                   celsius(20), plenty);
    s.steady();
    return into(s, "room");
  };
  EXPECT_GT(heat(0.15, 5e-4), 1.2 * heat(0.08, 5e-4));
  EXPECT_GT(heat(0.15, 1e-3), 1.01 * heat(0.15, 3e-4));
}

TEST(RadiantPanel, AnswersFasterThanASlab) {
  auto const share_after = [](std::string_view kind, int surface, double minutes) {
    auto s = stand(kind, {{"floor_area", 20.}, {"start", celsius(20)}}, celsius(45), celsius(20), plenty);
    s.advance(60 * minutes, 100);
    double const then = s[s.own("emitter", surface)] - celsius(20);
    s.steady();
    return then / (s[s.own("emitter", surface)] - celsius(20));
  };
  EXPECT_GT(share_after("panel over subfloor", 1, 60), 0.8);
  EXPECT_LT(share_after("radiant slab", 5, 60), 0.6);
}

TEST(RadiantPanel, AHotCeilingIsAFinding) {
  for (double const water : {70., 40.}) {
    auto s = stand("radiant ceiling", {{"area", 20.}}, celsius(water), celsius(20), plenty);
    s.steady();
    EXPECT_EQ(s.findings().size(), water > 60 ? 1u : 0u);
  }
}

// --- slabs on grade and suspended -------------------------------------------------------

TEST(RadiantSlab, TheEdgeLosesByItsLengthToOutdoors) {
  for (double const length : {0., 25.}) {
    auto s = stand("radiant slab", {{"floor_area", 40.}, {"exposed_edge", length}, {"edge_loss", 0.9}, {"down_resistance", 1e9}},
                   celsius(35), celsius(20), plenty);
    s.hold(given::outdoors, celsius(-15)), s.steady();
    double edge = 0;  // four segments of seven points, the tube plane third from below
    for (int n = 0; n < 4; ++n) edge += 0.9 * length / 4 * (s[s.own("emitter", 7 * n + 2)] - celsius(-15));
    EXPECT_NEAR(s.into(account::floor_down), edge, 1e-3 + 1e-6 * edge);
  }
}

TEST(RadiantSlab, ASuspendedSlabLosesToWhatLiesUnderIt) {
  double const area = 40, R = 2;
  for (auto const& [under, place, film] :
       {std::tuple{0., given::ground, 0.}, {1., given::unheated, .17}, {2., given::outdoors, .04}}) {
    auto s = stand("radiant slab", {{"floor_area", area}, {"under", under}, {"down_resistance", R}, {"segments", 1.}}, celsius(35),
                   celsius(20), plenty);
    s.hold(given::ground, celsius(10)), s.hold(given::unheated, celsius(8)), s.hold(given::outdoors, celsius(-15));
    s.steady();
    EXPECT_NEAR(s.into(account::floor_down), area / (R + film) * (s[s.own("emitter", 0)] - s[place]), 1e-6) << under;
  }
  auto s = stand("radiant slab", {{"floor_area", area}, {"below", "other"}, {"down_resistance", R}, {"segments", 1.}}, celsius(35),
                 celsius(20), plenty);
  s.steady();
  EXPECT_NEAR(into(s, "other"), area / (R + .17) * (s[s.own("emitter", 0)] - celsius(20)), 1e-6);
}

// --- fan coils ------------------------------------------------------------------------

Stand coil(std::string_view kind, std::vector<Setting> settings, double water) {
  settings.insert(settings.end(), {{"conductance", 150.}, {"rated_flow", 1.5e-4}, {"air_flow", 0.1}});
  auto s = stand(kind, settings, water, celsius(20), 0);
  s[s.cell("emitter", 0)] = water;
  s.settle();
  return s;
}
int mode_after_changes(Stand& s) {
  std::vector<Trip> trips;
  change_modes(s.plan, s.state, nullptr, trips);
  s.settle();
  return s.mode("emitter");
}

TEST(KickSpaceConvector, ItsFanWaitsForWarmWaterAndStopsBelowTheDifferential) {
  auto s = coil("kick-space convector", {{"fan_on_water", celsius(50)}, {"limit_differential", 6.}}, celsius(49));
  auto const after = [&](double water) { return s[s.cell("emitter", 0)] = celsius(water), mode_after_changes(s); };
  EXPECT_EQ(after(49), KickSpaceConvector::fan_waiting);
  EXPECT_EQ(after(51), KickSpaceConvector::fan_on);
  EXPECT_EQ(after(44.5), KickSpaceConvector::fan_on);
  EXPECT_EQ(after(43.5), KickSpaceConvector::fan_waiting);
}

TEST(KickSpaceConvector, StillWaterGivesWhatOneTemperatureCan) {
  // Closed form: C_air·(1 − e^(−UA/C_air)) with the film of a twentieth of the flow, UA = UA_r/(0.8 + 0.2·20^0.8)
  auto s = coil("kick-space convector", {{"fan_on_water", celsius(40)}, {"water_side_share", .2}, {"fan_power", 0.}}, celsius(60));
  ASSERT_EQ(mode_after_changes(s), KickSpaceConvector::fan_on);
  double const C_air = 1.2041 * 1006 * .1, UA = 150 / (.8 + .2 * std::pow(20, .8));
  EXPECT_NEAR(into(s, "room"), C_air * -std::expm1(-UA / C_air) * 40, 1e-6);
}

TEST(AirHandler, FanWaitsForItsDelayThenForWarmAir) {
  auto s = coil("air handler", {{"calls", "thermostat"}, {"fan_delay", 60.}, {"low_limit", celsius(28)}, {"limit_differential", 5.}},
                celsius(60));
  s.mode("thermostat", 1), s.hold(s.own("room", 0), celsius(15)), s.hold(s.own("room", 1), celsius(15));
  EXPECT_EQ(mode_after_changes(s), AirHandler::fan_waiting);
  s.state.time += 59;
  EXPECT_EQ(mode_after_changes(s), AirHandler::fan_waiting);
  s.state.time += 1;
  EXPECT_EQ(mode_after_changes(s), AirHandler::fan_on);
  s[s.cell("emitter", 0)] = celsius(30);  // the air would leave colder than that
  EXPECT_EQ(mode_after_changes(s), AirHandler::fan_waiting);
}

TEST(UnitHeater, HeatFollowsTheDifferenceOfEnteringTemperatures) {
  // The trade's factor for 180 °F water and 60 °F air of a heater rated at 200 and 60 °F: 120/140, same flows.
  double const flow = unit::gpm.to_si(4);
  auto const heat = [&](double water) {
    auto s = stand("unit heater", {{"output", 10e3}, {"rated_flow", flow}, {"air_flow", unit::cfm.to_si(600)}, {"fan_power", 0.}},
                   fahrenheit(water), fahrenheit(60), 1);
    double const kg = flow * s.plan.fluid.density;
    s.flow("emitter", kg), s.mode("emitter", UnitHeater::fan_on), s.steady();
    return into(s, "room");
  };
  EXPECT_NEAR(heat(200), 10e3, 1);
  EXPECT_NEAR(heat(180), 10e3 * 120 / 140, 1);
}

TEST(FanCoil, AFanThatWaitsWhileWaterFlowsIsAFinding) {
  for (double const water : {40., 60.}) {
    auto s = coil("kick-space convector", {{"fan_on_water", celsius(50)}}, celsius(water));
    s.flow("emitter", 0.1), s.settle(), mode_after_changes(s);
    s.state.time += 2000;
    auto const found = s.findings();
    EXPECT_EQ(!found.empty() && found[0].id == "fan_coil.fan_waits", water < 50) << water;
  }
}

// --- snow-melt slab ---------------------------------------------------------------------

std::vector<Setting> const drive{{"area", 20.}, {"segments", 1.}, {"wind", 0.}, {"cloud", 1.}, {"humidity", 1.}};
int constexpr surface = 5, snow = 6;  // of one segment: six points, then the snow

TEST(SnowMeltSlab, SnowHeapsUpOnAColdSlab) {  // closed form: s = 150·(1 − e^(−fall·t/150)), 2.54 mm an hour
  auto s = stand("snow-melt slab", drive, celsius(-5), celsius(20), 0, {0.00254 / 3600});
  s.hold(given::outdoors, celsius(-5)), s.hold(given::ground, celsius(-5));
  for (int i = 0; i < 6; ++i) s[s.own("emitter", i)] = celsius(-5);
  s.hold(s.own("emitter", surface), celsius(-5));
  s.release(s.own("emitter", snow));
  s.advance(5 * 3600, 100);
  EXPECT_NEAR(s[s.own("emitter", snow)], 150 * -std::expm1(-2.54 * 5 / 150), 1e-4);
}

TEST(SnowMeltSlab, MeltingTakesTheHeatOfFusion) {
  auto s = stand("snow-melt slab", drive, celsius(0), celsius(20), 0, {0.});
  s.hold(given::outdoors, celsius(0)), s.hold(s.own("emitter", surface), celsius(2));
  s[s.own("emitter", snow)] = 3;
  s.settle();
  double const covered = 3 / 3.5, melting = -s.rates()[s.own("emitter", snow)];  // [kg/(m²·s)]
  EXPECT_NEAR(melting, covered * 500 * 2 / 333.6e3, 1e-9);
  double const bare = s.into(account::process) / 20 - melting * 333.6e3;
  EXPECT_GT(bare, 0);
  EXPECT_LT(bare, (1 - covered) * 2 * (4 + 5 + 12));  // wind, sky and evaporation, W/(m²·K) each at the most
}

TEST(SnowMeltSlab, CallsAsSnowLiesHoldsAndStopsWhenItIsGone) {
  auto s = stand("snow-melt slab", {{"area", 20.}, {"idle", celsius(-1)}, {"surface", celsius(3)}}, celsius(0), celsius(20), 0, {0.});
  s.hold(given::outdoors, celsius(-5));
  auto const after = [&](double temperature, double lying) {
    for (int i = 0; i < 24; ++i) s[s.own("emitter", i)] = celsius(temperature);
    s[s.own("emitter", 24)] = lying;
    return mode_after_changes(s);
  };
  EXPECT_EQ(after(1, 0), SnowMeltSlab::off);
  EXPECT_EQ(after(-3, 0), SnowMeltSlab::idling);
  EXPECT_EQ(after(1, 0), SnowMeltSlab::off);
  EXPECT_EQ(after(1, 0.5), SnowMeltSlab::melting_snow);
  EXPECT_EQ(after(5, 0.5), SnowMeltSlab::holding);
  EXPECT_EQ(after(1, 0.5), SnowMeltSlab::melting_snow);
  EXPECT_EQ(after(5, 0), SnowMeltSlab::off);
}

/// Held against closed forms of its steady state: as much snow melts as falls, less the share by which it lies; and the water
/// gives what melting, sky and ground take. Kinks at no snow and at freezing lie between these weathers.
TEST(SnowMeltSlab, ComesToRestInEverySnowfallAndWeather) {
  double constexpr area = 20, fusion = 333.6e3, ice_heat = 2.1e3;
  for (double outdoors : {-25., -10., -3., -0.1, 0.5, 3.})
    for (double water : {-2., 1., 4., 10., 25., 50.})
      for (double fall : {0., 1e-7, 1e-5, 3e-4, 1e-3, 1e-2})  // [kg/(m²·s)] of water
        for (bool starts_cold : {true, false}) {
          SCOPED_TRACE(fmt::format("{} °C outdoors, {} °C water, {} kg/(m²·s), {}", outdoors, water, fall, starts_cold ? "cold" : "warm"));
          auto s = stand("snow-melt slab", drive, celsius(water), celsius(20), 0.3, {fall / 1000});
          s[given::outdoors] = celsius(outdoors), s[given::ground] = celsius(8);
          for (int i = 0; i < 6; ++i) s[s.own("emitter", i)] = starts_cold ? 250 : 330;
          s[s.own("emitter", snow)] = starts_cold ? 1 : 0;
          s.settle();
          std::vector<Place> held{s.joint("in"), s.joint("out")};
          for (auto const* room : {"room", "other"})
            for (Place own : s.plan.own_states(s.number(room))) held.push_back(own);
          ASSERT_TRUE(RestSolver(s.plan, s.balance).solve(s.state, held));
          double const top = s[s.own("emitter", surface)], lies = s[s.own("emitter", snow)];
          EXPECT_GE(lies, -1e-9);
          EXPECT_LE(lies, 150);
          double const melts = fall * (1 - lies / 150), per_kilogram = fusion + ice_heat * std::max(0., -outdoors);
          double const taken = lies / (lies + 0.5) * 500 * std::max(0., top - 273.15);  // [W/m²]
          EXPECT_NEAR(taken, melts * per_kilogram, 0.01);                               // snow still gathers a thousand years on
          double const given = 0.3 * s.plan.fluid.heat_capacity * (celsius(water) - s[s.cell("emitter", 0)]);
          EXPECT_NEAR(given, s.into(account::process) + s.into(account::floor_down), 0.05) << area;
          if (top < 273.15) EXPECT_NEAR(melts, 0, 1e-8);
        }
}

TEST(SnowMeltSlab, SnowThatStaysIsAFinding) {
  auto s = stand("snow-melt slab", drive, celsius(0), celsius(20), 0, {0.});
  EXPECT_TRUE(s.findings().empty());
  s[s.own("emitter", snow)] = 12;
  ASSERT_EQ(s.findings().size(), 1u);
  EXPECT_EQ(s.findings()[0].id, "snow_melt.snow_lies");
}

// --- indirect tank -----------------------------------------------------------------------

std::vector<Setting> const stirred{{"volume", 0.15}, {"layers", 2.}, {"coil_part", 1.}, {"standby_loss", 0.}};

TEST(IndirectTank, DrawnWaterLeavesAsVesselsInARow) {  // closed form: two stirred vessels, θ_top = (1 + t/τ)·e^(−t/τ), τ of one
  double const draw = 1e-4, tau = 0.15 / 2 / draw;
  std::vector<Setting> still = stirred;
  still.push_back({"conductance", 1e-9}), still.push_back({"cold_water", celsius(10)});
  auto s = stand("indirect tank", still, celsius(50), celsius(20), 0, {draw});
  for (int i : {0, 1}) s[s.own("emitter", i)] = celsius(50);
  s.advance(tau, 400);
  EXPECT_NEAR(s[s.own("emitter", 0)] - celsius(10), 40 * 2 * std::exp(-1), 0.01);
  EXPECT_NEAR(s[s.own("emitter", 1)] - celsius(10), 40 * std::exp(-1), 0.01);
}

TEST(IndirectTank, AtRestTheCoilGivesWhatIsDrawnAndLost) {
  double const draw = 5e-5;
  auto s =
      stand("indirect tank", {{"volume", 0.15}, {"standby_loss", 3.}, {"cold_water", celsius(10)}}, celsius(70), celsius(20), 0.4, {draw});
  s.hold(given::unheated, celsius(15)), s.steady();
  double mean = 0;
  for (int i = 0; i < 8; ++i) mean += (s[s.own("emitter", i)] - celsius(15)) / 8;
  double const taken = draw * 1000 * 4180 * (s[s.own("emitter", 0)] - celsius(10)), lost = 3 * mean;
  EXPECT_NEAR(s.into(account::process), taken, 1e-6);
  EXPECT_NEAR(s.into(account::piping), lost, 1e-6);
  EXPECT_NEAR(0.4 * s.plan.fluid.heat_capacity * (celsius(70) - s[s.cell("emitter", 4)]), taken + lost, 1e-3);
}

TEST(IndirectTank, CoilInAnEvenTankIsAnExchangerWithOneSideAtRest) {  // Incropera and DeWitt, C = 0: ε = 1 − e^(−UA/W)
  double const flow = 5e-4, UA = 600;
  auto s = stand("indirect tank", {{"volume", 0.15}, {"conductance", UA}, {"rated_flow", flow}}, celsius(80), celsius(20), 0);
  double const kg = flow * s.plan.fluid.density, W = kg * s.plan.fluid.heat_capacity;
  s.flow("emitter", kg);
  for (int i = 0; i < 8; ++i) s.hold(s.own("emitter", i), celsius(50));
  s.steady();
  EXPECT_NEAR((celsius(80) - s[s.cell("emitter", 4)]) / 30, -std::expm1(-UA / W), 1e-9);
}

TEST(IndirectTank, WarmWaterBelowRisesUntilTheTankIsEven) {
  std::vector<Setting> still = stirred;
  still.push_back({"conductance", 1e-9});
  auto s = stand("indirect tank", still, celsius(50), celsius(20), 0);
  s[s.own("emitter", 0)] = celsius(30), s[s.own("emitter", 1)] = celsius(50);
  s.advance(600, 200);
  for (int i : {0, 1}) EXPECT_NEAR(s[s.own("emitter", i)], celsius(40), 0.01);
}

TEST(IndirectTank, ItsAquastatCallsWithADifferential) {
  auto s = stand("indirect tank", {{"volume", 0.15}, {"setting", celsius(55)}, {"differential", 5.}}, celsius(70), celsius(20), 0);
  auto const after = [&](double temperature) {
    for (int i = 0; i < 8; ++i) s[s.own("emitter", i)] = celsius(temperature);
    return mode_after_changes(s);
  };
  EXPECT_EQ(after(51), IndirectTank::satisfied);
  EXPECT_EQ(after(49), IndirectTank::heating);
  EXPECT_EQ(after(54), IndirectTank::heating);
  EXPECT_EQ(after(56), IndirectTank::satisfied);
}

}  // namespace
}  // namespace steadyfire
