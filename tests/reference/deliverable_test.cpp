/// Hot water that a burner can make, against numbers from outside.

#include "models/hot_water/deliverable.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/fluid/water.hpp"
#include "sim/core/quantity.hpp"

using namespace steadyfire;

namespace {
double F(double degF) { return unit::degF.to_si(degF); }
double Btu_h(double kilo) { return unit::kBtu_per_hour.to_si(kilo); }
double gpm(double si) { return si / unit::gpm.scale; }
double L_min(double si) { return si * 6e4; }
PlateExchanger sized(double conductance, double flow) {
  PlateExchanger p{};
  p.rated_conductance = {conductance}, p.rated_flow = {flow};
  return p;
}
HotWaterMaker combi() { return {Btu_h(199 * 0.95), F(120)}; }
}  // namespace

/// The trade's rule by hand: 120 000 Btu/h/(500·70 °F) = 3.4286 gpm, 199 000/(500·77) = 5.1688 gpm. Real water, measured cold,
/// is within 0.2 % of it: (999.70 kg/m³)·(204.76 − 42.12 kJ/kg) from 50 to 120 °F gives 3.4285 gpm (steam tables, from memory).
TEST(Deliverable, RealWaterIsWithinAFifthOfAPercentOfTheTradesRule) {
  EXPECT_NEAR(gpm(flow_for(Btu_h(120), F(50), F(120))), 3.4285, 0.001);
  EXPECT_NEAR(gpm(flow_for(Btu_h(120), F(50), F(120))), 120000 / (500 * 70.), 3.4286 * 0.002);
  EXPECT_NEAR(gpm(flow_for(Btu_h(199), F(50), F(127))), 199000 / (500 * 77.), 5.1688 * 0.002);
}

/// 35 kW from 10 to 50 °C: 12.558 L/min measured cold, computed from water's properties (ours err by 0.07 % in cp at most);
/// 12.608 with a constant cp of 4182 J/(kg·K) and the density at 30 °C.
TEST(Deliverable, ThirtyFiveKilowattsAreTwelveAndAHalfLitresAMinute) {
  EXPECT_NEAR(L_min(flow_for(35e3, 283.15, 323.15)), 12.558, 12.558 * 7e-4);
  EXPECT_NEAR(35e3 / (4182 * 40 * Water{}.at(303.15).density) * 6e4, 12.608, 0.001);
}

/// (105 − 50)/(120 − 50) by hand.
TEST(Deliverable, MixingTo105From120And50TakesElevenFourteenthsOfHotWater) {
  EXPECT_NEAR(hot_share(F(50), F(120), F(105)), 0.7857, 5e-5);
}

/// Common practice, no source: a 199 000 Btu/h input is sold for about 5.1 gpm. At 95 % that is a rise of 74 °F; and 1 gpm less
/// leaves 74 °F·500 = 37 kBtu/h for heating.
TEST(Deliverable, FivePointOneGpmFrom199MeansSeventyFourDegrees) {
  auto const alone = deliverable(combi(), F(46), F(120));
  EXPECT_EQ(alone.bound, "burner");
  EXPECT_NEAR(gpm(alone.flow), 5.1, 0.05);
  auto beside = combi();
  beside.heat -= Btu_h(37);
  EXPECT_NEAR(gpm(alone.flow) - gpm(deliverable(beside, F(46), F(120)).flow), 1, 0.01);
}

TEST(Deliverable, WhatIsMixedTakesTheSameHeatAndWhatIsHotterThanTheSetPointIsNotMade) {
  auto const maker = combi();
  double const hot = deliverable(maker, F(40), F(120)).flow, mixed = deliverable(maker, F(40), F(105)).flow;
  EXPECT_NEAR(mixed / hot, 80. / 65, 0.002);
  auto const beyond = deliverable(maker, F(40), F(125));
  EXPECT_EQ(beyond.flow, 0);
  EXPECT_EQ(beyond.bound, "set point");
}

TEST(Deliverable, ALimiterHoldsTheHotWaterAndMixingGetsMoreOfIt) {
  auto maker = combi();
  maker.limit = unit::gpm.to_si(3);
  auto const hot = deliverable(maker, F(40), F(120)), mixed = deliverable(maker, F(40), F(105));
  EXPECT_EQ(hot.bound, "flow limiter");
  EXPECT_NEAR(gpm(hot.flow), 3, 1e-6);
  EXPECT_NEAR(gpm(mixed.flow) * hot_share(F(40), F(120), F(105)), 3, 0.02);
}

/// Counterflow with equal capacity rates: ε = N/(1 + N) (Incropera, table 11.4). With N = 3 and boiler water at 180 °F, water
/// of 50 °F leaves at 50 + 0.75·130 = 147.5 °F.
TEST(Deliverable, PlatesGiveWhatTheirEffectivenessSays) {
  Fluid const water = Water{}.at(303.15);
  double const flow = unit::gpm.to_si(4), W = flow * water.density * water.heat_capacity;
  PlatesAtHand const plates{sized(3 * W, flow), flow, F(180), water};
  EXPECT_NEAR(heat_of_plates(plates, flow, F(50)), 0.75 * W * (F(180) - F(50)), 1e-6 * W);
}

TEST(Deliverable, SmallPlatesBindAndScaleBindsThemMore) {
  Fluid const water = Water{}.at(303.15);
  PlatesAtHand plates{sized(1500, unit::gpm.to_si(5)), unit::gpm.to_si(5), F(160), water};
  auto maker = combi();
  maker.plates = &plates;
  auto const clean = deliverable(maker, F(45), F(120));
  EXPECT_EQ(clean.bound, "plates");
  // At that flow the plates give just the heat that it takes.
  EXPECT_NEAR(heat_of_plates(plates, clean.flow, F(45)), heat_for(clean.flow, F(45), F(120)), 20);
  plates.plates.scaling = {0.5};
  EXPECT_LT(deliverable(maker, F(45), F(120)).flow, clean.flow);
}

/// Two showers of 2.5 gpm at 105 °F from 40 °F take 5·500·65 = 162.5 kBtu/h of 189: they fit. A third would take 243.8, and gets
/// 40 + 189 050/(500·7.5) = 90.4 °F.
TEST(Deliverable, TwoShowersFitAThirdDoesNot) {
  TapWish const shower{unit::gpm.to_si(2.5), F(105)};
  auto const two = together(combi(), F(40), {shower, shower}), three = together(combi(), F(40), {shower, shower, shower});
  EXPECT_TRUE(two.fits);
  EXPECT_NEAR(two.temperature, F(105), 0.01);
  EXPECT_FALSE(three.fits);
  EXPECT_NEAR(three.temperature, F(90.4), 0.15);
  EXPECT_EQ(three.flow_share, 1);
  auto limited = combi();
  limited.limit = unit::gpm.to_si(3);
  auto const held = together(limited, F(40), {shower, shower});
  EXPECT_FALSE(held.fits);
  EXPECT_NEAR(held.flow_share, 3 * 80. / (5 * 65.), 0.002);
  EXPECT_NEAR(held.temperature, F(105), 0.01);
}
