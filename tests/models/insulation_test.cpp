#include "models/insulation.hpp"

#include <gtest/gtest.h>

namespace steadyfire {
namespace {

TEST(Insulation, ThickerLosesLess) {
  double last = insulated_loss_per_metre(28e-3, 5e-3, 0.036);
  for (double thickness = 10e-3; thickness < 0.1; thickness += 5e-3) {
    double const loss = insulated_loss_per_metre(28e-3, thickness, 0.036);
    EXPECT_LT(loss, last);
    last = loss;
  }
}

TEST(Insulation, OfNoThicknessIsTheSurfaceCoefficient) {
  EXPECT_NEAR(insulated_loss_per_metre(28e-3, 0, 0.036, 9), 9 * std::numbers::pi * 28e-3, 1e-12);
}

TEST(BarePipe, LosesTheSameTowardsEitherSide) {
  EXPECT_NEAR(bare_loss_per_metre(28e-3, 0.5, 330, 290), bare_loss_per_metre(28e-3, 0.5, 290, 330), 1e-12);
}

TEST(BarePipe, StillConductsWithoutAnyDifference) { EXPECT_GT(bare_loss_per_metre(28e-3, 0.0, 293, 293), 0); }

}  // namespace
}  // namespace steadyfire
