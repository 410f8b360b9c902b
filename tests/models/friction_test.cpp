#include "models/friction.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "models/fittings.hpp"
#include "models/fluid/water.hpp"
#include "models/pipe_sizes.hpp"

namespace steadyfire {
namespace {

using Slope = Dual<1>;
constexpr double length = 20, bore = 20.6e-3, roughness = 1.5e-6;
Fluid const warm = Water{}.at(333.15);

double loss(double flow, double k = 0) { return pipe_loss(flow, length, bore, roughness, k, warm); }
double loss_slope(double flow, double k = 0) { return pipe_loss(Slope::input(flow, 0), length, bore, roughness, k, warm).slope[0]; }

template <class Law>
void expect_slope(double slope, Law law, double at, double step, double share) {
  double const difference = (law(at + step) - law(at - step)) / (2 * step);
  EXPECT_NEAR(slope, difference, share * std::abs(difference));
}

TEST(Friction, SlopeMatchesDifference) {
  for (double re : {500., 2000., 2500., 3000., 3900., 4100., 1e4, 1e5, 1e6})
    for (double rough : {0., 1e-4, 1e-2}) {
      SCOPED_TRACE(re);
      auto const law = [&](double x) { return friction_factor(x, rough); };
      expect_slope(friction_factor(Slope::input(re, 0), rough).slope[0], law, re, 1e-4 * re, 1e-5);
    }
}

TEST(Friction, IsTheRootOfColebrook) {
  for (double re = 2300; re < 1e8; re *= 1.3)
    for (double rough : {0., 1e-5, 1e-4, 1e-3, 1e-2, 5e-2}) {
      double y = 8;
      for (int i = 0; i < 60; ++i) y = -2 * std::log10(rough / 3.7 + 2.51 / re * y);
      EXPECT_NEAR(colebrook(re, rough).value * y * y, 1, 1e-6) << re << ' ' << rough;
    }
}

TEST(Friction, ValueAndSlopeRunThroughTheTransition) {
  for (double edge : {laminar_until, turbulent_from}) {
    auto const at = [](double re) { return friction_factor(Slope::input(re, 0), 1e-4); };
    auto const before = at(edge * (1 - 1e-9)), after = at(edge * (1 + 1e-9));
    EXPECT_NEAR(before.value / after.value, 1, 1e-6);
    EXPECT_NEAR(before.slope[0] / after.slope[0], 1, 1e-5);
  }
}

TEST(PipeLoss, SlopeMatchesDifference) {
  for (double k : {0., 6.})
    for (double flow : {-0.3, -0.02, 0.001, 0.01, 0.02, 0.025, 0.05, 0.3, 1.5}) {
      SCOPED_TRACE(flow);
      expect_slope(loss_slope(flow, k), [&](double x) { return loss(x, k); }, flow, 1e-4 * std::abs(flow), 1e-5);
    }
}

TEST(PipeLoss, SlopeAtZeroFlowIsHagenPoiseuille) {
  EXPECT_EQ(loss(0.0, 6), 0);
  double const exact = 128 * warm.viscosity * length / (std::numbers::pi * warm.density * std::pow(bore, 4));
  EXPECT_NEAR(loss_slope(0.0, 6), exact, 1e-9 * exact);
}

TEST(PipeLoss, IsOddAndAlwaysRises) {
  double last = -HUGE_VAL;
  for (double flow = -1; flow <= 1; flow += 1e-3) {
    EXPECT_DOUBLE_EQ(loss(-flow, 6), -loss(flow, 6));
    EXPECT_GT(loss(flow, 6), last);
    EXPECT_GT(loss_slope(flow, 6), 0);
    last = loss(flow, 6);
  }
}

TEST(PipeLoss, FittingsAddTheirVelocityHeads) {
  double const flow = 0.2, speed = flow / (warm.density * std::numbers::pi / 4 * bore * bore);
  EXPECT_NEAR(loss(flow, 6) - loss(flow, 0), 6 * warm.density * speed * speed / 2, 1e-9 * loss(flow, 6));
}

TEST(PipeLoss, TakesAFixedFrictionFactor) {
  double const flow = -0.2, speed = flow / (warm.density * std::numbers::pi / 4 * bore * bore);
  double const expected = -(0.02 * length / bore + 3) * warm.density * speed * speed / 2;
  EXPECT_NEAR(pipe_loss(flow, length, bore, roughness, 3, warm, 0.02), expected, 1e-12 * std::abs(expected));
}

TEST(ValveLoss, IsOddAndItsSlopeMatchesDifference) {
  auto const law = [](double flow) { return cv_to_loss(flow, 4.6, warm); };
  EXPECT_EQ(law(-0.3), -law(0.3));
  EXPECT_EQ(cv_to_loss(Slope::input(0, 0), 4.6, warm).slope[0], 0);
  for (double flow : {-0.3, 0.1, 0.3}) expect_slope(cv_to_loss(Slope::input(flow, 0), 4.6, warm).slope[0], law, flow, 1e-4, 1e-6);
}

TEST(PipeSize, IsFoundByItsNameAlone) {
  EXPECT_TRUE(find_pipe_size("3/4 in Copper m"));
  EXPECT_FALSE(find_pipe_size("3/4 in copper"));
  EXPECT_FALSE(find_pipe_size(""));
  for (auto const& name : pipe_size_names()) {
    auto const size = find_pipe_size(name);
    ASSERT_TRUE(size) << name;
    EXPECT_EQ(size->name, name);
    EXPECT_LT(size->inside_diameter, size->outside_diameter);
  }
  EXPECT_EQ(pipe_size_names().size(), 5 * nominal_sizes.size());
}

TEST(PipeSize, MeanWallOfPexIsNarrowerThanItsThinnestWall) {
  for (auto nominal : nominal_sizes) {
    std::string const name = std::string{nominal} + " in PEX";
    EXPECT_LT(find_pipe_size(name)->inside_diameter, find_pipe_size(name + " min wall")->inside_diameter);
  }
}

TEST(Fitting, IsAbsentWhereItsSourceHasNone) {
  EXPECT_FALSE(fitting_k(FittingSource::equivalent_length, "globe valve", "1/2", 0.02, 0.014));
  EXPECT_FALSE(fitting_k(FittingSource::screwed, "cast elbow", "1/2", 0.02, 0.014));
  EXPECT_FALSE(fitting_k(FittingSource::screwed, "elbow", "5/8", 0.02, 0.014));
  EXPECT_FALSE(fitting_k(FittingSource::screwed, "elbo", "1/2", 0.02, 0.014));
}

TEST(Fitting, OfABoreIsThatOfTheNearestSize) {
  EXPECT_EQ(fitting_k(FittingSource::screwed, "elbow", 20e-3), fitting_k(FittingSource::screwed, "elbow", "3/4", 0, 1));
  double const bore_1 = find_pipe_size("1 in copper M")->inside_diameter, f = colebrook(3e4, 1.5e-6 / bore_1).value;
  auto const source = FittingSource::equivalent_length;
  EXPECT_EQ(fitting_k(source, "elbow", bore_1), fitting_k(source, "elbow", "1", f, bore_1));
}

TEST(Fitting, EveryNameHasAValueInTwoInches) {
  for (auto source : {FittingSource::screwed, FittingSource::equivalent_length})
    for (auto const& name : fitting_names(source)) EXPECT_TRUE(fitting_k(source, name, "2", 0.02, 0.05)) << name;
}

}  // namespace
}  // namespace steadyfire
