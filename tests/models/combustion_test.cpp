#include "models/combustion.hpp"

#include <gtest/gtest.h>

#include "sim/core/dual.hpp"

namespace steadyfire {
namespace {

Combustion const gas(natural_gas(), 0.2);

TEST(Combustion, EfficiencySlopeMatchesDifference) {
  for (double T = 285; T < 420; T += 5) {
    double const difference = (gas.efficiency(T + 0.01) - gas.efficiency(T - 0.01)) / 0.02;
    EXPECT_NEAR(gas.efficiency(Dual<1>::input(T, 0)).slope[0], difference, 1e-6 * std::abs(difference)) << T;
  }
}

TEST(Combustion, EfficiencyRunsThroughTheDewPoint) {
  EXPECT_NEAR(gas.efficiency(gas.dew_point - 1e-6), gas.efficiency(gas.dew_point + 1e-6), 1e-7);
  EXPECT_NEAR(gas.condensate(gas.dew_point - 1e-6), 0, 1e-14);
  EXPECT_EQ(gas.condensate(gas.dew_point + 1), 0);
}

TEST(Combustion, EfficiencyFallsWithFlueTemperatureAndExcessAir) {
  Combustion const lean(natural_gas(), 0.5);
  for (double T = 303; T < 400; T += 1) {
    EXPECT_LT(gas.efficiency(T + 1), gas.efficiency(T));
    EXPECT_LT(lean.efficiency(T), gas.efficiency(T));
  }
}

TEST(Combustion, AtReferenceOnlyTheVapourIsLost) {
  double const condensed = gas.condensate(298.15) * gas.higher_heating_value / Combustion::water_molar_mass;
  EXPECT_NEAR(1 - gas.efficiency(298.15), (gas.water_amount - condensed) * Combustion::vaporisation_heat / gas.higher_heating_value, 1e-12);
}

TEST(Combustion, ThinAirCondensesLater) { EXPECT_LT(Combustion(natural_gas(), 0.2, 84e3).dew_point, gas.dew_point); }

}  // namespace
}  // namespace steadyfire
