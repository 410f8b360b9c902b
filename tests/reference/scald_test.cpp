/// Scald times against the printed table.

#include "models/hot_water/scald.hpp"

#include <gtest/gtest.h>

using namespace steadyfire;

/// Moritz and Henriques 1947, second degree, as in two public tables (they differ by a factor of 2).
TEST(Scald, TimesAreThePrintedOnes) {
  EXPECT_DOUBLE_EQ(time_to_scald(273.15 + 49), 480);
  EXPECT_NEAR(time_to_scald(273.15 + 51), 120, 1e-9);
  EXPECT_NEAR(time_to_scald(273.15 + 55), 17, 1e-9);
  EXPECT_NEAR(time_to_scald(273.15 + 60), 3, 1e-9);
  EXPECT_EQ(time_to_scald(273.15 + 70), 3) << "no table reaches further";
  EXPECT_TRUE(std::isinf(time_to_scald(273.15 + 45)));
  EXPECT_LT(time_to_scald(273.15 + 53), time_to_scald(273.15 + 52));
}
