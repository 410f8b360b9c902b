#include <gtest/gtest.h>

#include <memory>
#include <vector>

#include "models/fluid/custom.hpp"
#include "models/fluid/glycol.hpp"
#include "models/fluid/water.hpp"
#include "sim/core/dual.hpp"

namespace steadyfire {
namespace {

std::vector<std::unique_ptr<FluidLaw>> liquids() {
  std::vector<std::unique_ptr<FluidLaw>> all;
  all.push_back(std::make_unique<Water>());
  for (double x : {0.0, 0.2, 0.4, 0.6}) all.push_back(std::make_unique<PropyleneGlycol>(x));
  return all;
}

TEST(Liquid, StaysSaneFromFreezingTo130Celsius) {
  for (auto const& law : liquids()) {
    SCOPED_TRACE(law->describe());
    auto last = law->at(law->coldest() - 1);
    for (double T = law->coldest() - 1; T <= 403.15; T += 0.5) {
      auto const f = law->at(T);
      EXPECT_GT(f.density, 900);
      EXPECT_LT(f.density, 1100);
      EXPECT_GT(f.heat_capacity, 2900);
      EXPECT_LT(f.heat_capacity, 4350);
      EXPECT_GT(f.conductivity, 0.25);
      EXPECT_LT(f.conductivity, 0.70);
      EXPECT_LE(f.viscosity, last.viscosity);  // the warmer, the thinner
      last = f;
    }
  }
}

TEST(Liquid, IsHeldConstantOutsideItsData) {
  for (auto const& law : liquids()) {
    EXPECT_EQ(law->at(150).density, law->at(law->coldest()).density);
    EXPECT_EQ(law->at(600).viscosity, law->at(403.15).viscosity);
  }
}

TEST(Glycol, WithoutGlycolIsNearlyWater) {
  PropyleneGlycol const none(0);
  for (double T = 278.15; T < 370; T += 10) {
    auto const g = none.at(T), w = Water{}.at(T);
    EXPECT_NEAR(g.density, w.density, 1e-3 * w.density);
    EXPECT_NEAR(g.heat_capacity, w.heat_capacity, 0.005 * w.heat_capacity);
    EXPECT_NEAR(g.viscosity, w.viscosity, 0.03 * w.viscosity);
  }
  EXPECT_NEAR(none.freezing_point(), 273.15, 0.1);
  EXPECT_NEAR(none.vapour_pressure(353.15), Water{}.vapour_pressure(353.15), 1);
}

TEST(Glycol, LowersTheVapourPressure) {
  EXPECT_LT(PropyleneGlycol(0.5).vapour_pressure(353.15), Water{}.vapour_pressure(353.15));
}

TEST(Liquid, DescribesItself) {
  EXPECT_EQ(Water{}.describe(), "water");
  EXPECT_EQ(PropyleneGlycol(0.4).describe(), "propylene glycol, 40% by mass");
}

TEST(CustomFluid, IsConstantAsStated) {
  CustomFluid const brine("brine", {1050, 2e-3, 3600, 0.5}, 260, 380);
  EXPECT_EQ(brine.at(270).viscosity, 2e-3);
  EXPECT_EQ(brine.at(370).density, 1050);
  EXPECT_EQ(brine.coldest(), 260);
}

TEST(Saturation, TemperatureAndPressureAreInverse) {
  for (double T = 275; T < 450; T += 7) EXPECT_NEAR(saturation_temperature(saturation_pressure(T)), T, 1e-6);
}

TEST(Saturation, SlopeMatchesDifference) {
  for (double T : {280., 320., 400.}) {
    double const difference = (saturation_pressure(T + 0.01) - saturation_pressure(T - 0.01)) / 0.02;
    EXPECT_NEAR(saturation_pressure(Dual<1>::input(T, 0)).slope[0], difference, 1e-6 * difference);
  }
}

}  // namespace
}  // namespace steadyfire
