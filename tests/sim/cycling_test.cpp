// The arithmetic of short cycling, against numbers made by hand.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "sim/record/cycle_arithmetic.hpp"

namespace steadyfire {
namespace {

using testing::HasSubstr, testing::Not;

// 20 L of water at 60 °C (82 250 J/K), 5 K, 5 kW at the lowest, 1.5 kW taken:
// 82 250·5/3500 = 117.5 s, 82 250·5/1500 = 274.17 s, 3600/391.67 = 9.1915 an hour.
TEST(Cycling, OfTwentyLitresByHand) {
  auto const c = cycle_of(5000, 1500, 82'250, 5);
  EXPECT_TRUE(c.stops());
  EXPECT_NEAR(c.surplus, 3500, 1e-9);
  EXPECT_NEAR(c.burn, 117.5, 0.01);
  EXPECT_NEAR(c.rest, 274.17, 0.01);
  EXPECT_NEAR(c.starts_per_hour, 9.1915, 1e-4);
}

// Starts are most where half of the output is taken: P/(4·C·Δ) = 5000/(4·82 250·5) 1/s = 10.94 an hour.
TEST(Cycling, IsWorstAtHalfTheOutput) {
  double const worst = cycle_of(5000, 2500, 82'250, 5).starts_per_hour;
  EXPECT_NEAR(worst, 10.94, 0.005);
  for (double taken = 250; taken < 5000; taken += 250) EXPECT_LE(cycle_of(5000, taken, 82'250, 5).starts_per_hour, worst + 1e-9) << taken;
}

TEST(Cycling, NeverStopsWhereAllIsTaken) {
  for (double const taken : {5000., 6000.}) {
    auto const c = cycle_of(5000, taken, 82'250, 5);
    EXPECT_FALSE(c.stops()) << taken;
    EXPECT_TRUE(std::isinf(c.burn)) << taken;
    EXPECT_EQ(c.starts_per_hour, 0) << taken;
  }
}

// The trade's V = t·(Q_min − Q)/(500·ΔT): 10 min, 20 000 − 5 000 Btu/h, 20 °F ask for 15.0 gal of 8.33 Btu/°F each, 125 Btu/°F.
TEST(Cycling, AsksForTheBufferOfTheTrade) {
  double constexpr Btu = 1055.05585262, per_hour = Btu / 3600, degF = 5 / 9.;
  auto const r = remedies_of(20'000 * per_hour, 5'000 * per_hour, 0, 20 * degF, 600);
  EXPECT_NEAR(r.more_capacity / (Btu / degF), 125, 0.05);
  EXPECT_NEAR(r.more_capacity / (Btu / degF) / (500 / 60.), 15.0, 0.01);
}

// Each remedy put back into the calculation makes the burn that was wanted.
TEST(Cycling, RemediesKeepTheirWord) {
  double const P = 5000, Q = 1500, C = 82'250, D = 5, wanted = 600;
  auto const r = remedies_of(P, Q, C, D, wanted);
  EXPECT_NEAR(cycle_of(r.least_output, Q, C, D).burn, wanted, 1e-6);
  EXPECT_NEAR(cycle_of(P, Q, C + r.more_capacity, D).burn, wanted, 1e-6);
  EXPECT_NEAR(cycle_of(P, Q, C, r.differential).burn, wanted, 1e-6);
  EXPECT_NEAR(cycle_of(P, r.taken, C, D).burn, wanted, 1e-6);
}

// With 5 min of minimum off the zone draws 1.5 kW for 300 s, which 3.5 kW put back in 128.57 s: 3600/428.57 = 8.4 an hour.
TEST(Cycling, RestsAsLongAsItHasTo) {
  auto const c = cycle_of(5000, 1500, 82'250, 5, 300);
  EXPECT_EQ(c.rest, 300);
  EXPECT_NEAR(c.burn, 128.57, 0.01);
  EXPECT_NEAR(c.starts_per_hour, 8.4, 1e-9);
  EXPECT_NEAR(cycle_of(5000, 1500, 82'250, 5, 180).rest, 274.17, 0.01);
}

ReasonFigures too_big() {
  ReasonFigures f;
  f.output_least = 5000, f.output_most = 20'000, f.design_load = 10'000;
  f.smallest_zone = "bath", f.smallest_design_load = 2000, f.smallest_load = 1500;
  f.water = 0.02, f.heat_capacity = 82'250, f.differential = 5, f.flow = 5e-4, f.capacity_rate = 2060;  // 2.4 K a pass
  f.starts = 101, f.burns = 100, f.ends = {{BurnEnd::stop_point, "bath", 100}}, f.starts_per_hour_worst = 9, f.burn_median = 120,
  f.duration = 86'400;
  return f;
}
std::string told(std::vector<WhyStep> const& steps) {
  std::string text;
  for (auto const& s : steps) text += s.title + "\n" + s.words + "\n" + s.sum + "\n";
  return text;
}

TEST(Cycling, TellsItsSumsWithTheirNumbers) {
  auto const text = told(why_it_cycles(too_big(), UnitSystem::si));
  EXPECT_THAT(text, HasSubstr("5.00 kW − 1.50 kW = 3.50 kW"));
  EXPECT_THAT(text, HasSubstr("= 2.0 min"));  // the burn, 117.5 s
  EXPECT_THAT(text, HasSubstr("= 4.6 min"));  // the rest, 274.2 s
  EXPECT_THAT(text, HasSubstr("The calculation agrees."));
  EXPECT_THAT(text, HasSubstr("Fix with water"));
}

// 60 min ÷ (2.0 min + 4.6 min) = 9.1, and 3.50 kW · 10 min ÷ 5 K − 82.3 kJ/K = 337.7 kJ/K: from the printed numbers, by hand.
TEST(Cycling, SumsHoldAsPrinted) {
  auto f = too_big();
  f.output_least = 5003, f.smallest_load = 1504, f.input_least = 5560;
  auto const text = told(why_it_cycles(f, UnitSystem::si));
  EXPECT_THAT(text, HasSubstr("60 min ÷ (2.0 min + 4.6 min) = 9.1 starts"));
  EXPECT_THAT(text, HasSubstr("5.56 kW × 89.9% = 5.00 kW"));
  EXPECT_THAT(text, HasSubstr("= 337.7 kJ/°C"));
  f.minimum_off = 300;
  EXPECT_THAT(told(why_it_cycles(f, UnitSystem::si)), HasSubstr("= 4.6 min, so 5.0 min"));
}

TEST(Cycling, SaysWhenItIsNotTheWaterThatEndsBurns) {
  auto f = too_big();
  f.ends = {{BurnEnd::thermostat, "bath", 90}, {BurnEnd::stop_point, "bath", 10}};
  auto const text = told(why_it_cycles(f, UnitSystem::si));
  EXPECT_THAT(text, HasSubstr("the calls end"));
  EXPECT_THAT(text, Not(HasSubstr("agrees")));
}

TEST(Cycling, SaysWhenItDoesNotCycle) {
  auto f = too_big();
  f.burn_median = 900, f.starts_per_hour_worst = 3;
  auto const calm = told(why_it_cycles(f, UnitSystem::si));
  EXPECT_THAT(calm, HasSubstr("It does not short-cycle"));
  EXPECT_THAT(calm, Not(HasSubstr("Fix ")));
  f = too_big();
  f.smallest_load = 6000;
  auto const text = told(why_it_cycles(f, UnitSystem::si));
  EXPECT_THAT(text, HasSubstr("No surplus at minimum fire"));
  EXPECT_THAT(text, Not(HasSubstr("Fix ")));
  f.starts = 0;
  EXPECT_THAT(told(why_it_cycles(f, UnitSystem::si)), HasSubstr("No starts"));
}

}  // namespace
}  // namespace steadyfire
