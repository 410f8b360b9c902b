/// The size of a boiler against short cycling's closed form (physics of a mixed store, textbook).

#include <gtest/gtest.h>

#include "tools/review/size_review.hpp"

using namespace steadyfire;

namespace {

// 20 L of water at 60 °C hold 82 250 J/K (IAPWS-IF97); 5 K, 5.0 kW of fire on a load of 1.5 kW: 117.50 s on.
TEST(BoilerSize, BurnOfAMixedStore) { EXPECT_NEAR(burn_length(5000, 1500, 82250, 5), 117.50, 0.01); }

TEST(BoilerSize, FireThatTheLoadTakesBurnsOn) { EXPECT_TRUE(std::isinf(burn_length(1500, 1500, 82250, 5))); }

// The trade's buffer formula V = t·(Q_min − Q_load)/(500·ΔT): 10 min, 20 000 − 5 000 Btu/h, 20 °F want 15.0 gal, which hold
// 15.0·500/60 = 125 Btu/°F by the trade's constant; with that much the longest fire for 10 min is those 20 000 Btu/h.
TEST(BoilerSize, HighestMinimumFireIsTheBufferFormulaTurnedRound) {
  double const Btu_h = 0.29307107, per_degF = 1899.1005;  // [W], [J/K] of a Btu/°F
  EXPECT_NEAR(highest_minimum_fire(5000 * Btu_h, 125 * per_degF, 20 / 1.8, 600) / Btu_h, 20000, 20000 * 1e-4);
}

}  // namespace
