// Flue gas against stoichiometry done elsewhere, official emission factors and heating values.

#include <gtest/gtest.h>

#include <cmath>

#include "models/combustion.hpp"

namespace steadyfire {
namespace {

constexpr GasComposition methane{1, 0, 0, 0, 0};
constexpr double million_Btu = 1055.056e6;
void expect_share(double found, double expected, double share) { EXPECT_NEAR(found, expected, share * std::abs(expected)); }

// Stoichiometry with 0.21 oxygen in dry air; dew points by python3-iapws.
TEST(FlueGas, HasThePublishedMakeUpAndDewPoint) {
  struct { GasComposition gas; double excess, CO2, O2, vapour, dew; } const rows[]{
      {methane, 0, 11.73, 0, .1900, 59.24},           {methane, .20, 9.59, 3.84, .1609, 55.71},
      {natural_gas(), 0, 11.89, 0, .1877, 58.98},     {natural_gas(), .20, 9.73, 3.82, .1590, 55.45},
      {natural_gas(), .30, 8.92, 5.26, .1477, 53.92}, {natural_gas(), .50, 7.64, 7.51, .1293, 51.19},
      {propane(), 0, 13.76, 0, .1550, 54.92},         {propane(), .30, 10.36, 5.18, .1214, 49.92}};
  for (auto const& row : rows) {
    Combustion const c(row.gas, row.excess);
    EXPECT_NEAR(100 * c.dry_carbon_dioxide, row.CO2, 0.05);
    EXPECT_NEAR(100 * c.dry_oxygen, row.O2, 0.05);
    EXPECT_NEAR(c.vapour_fraction, row.vapour, 0.0005);
    EXPECT_NEAR(c.dew_point - 273.15, row.dew, 0.15);
  }
  EXPECT_NEAR(Combustion(methane, 0.20, 84e3).dew_point - 273.15, 51.83, 0.15);  // at 1500 m
}

// ISO 6976 values at 25 °C, from memory; MJ/m³ at 15 °C and specific gravity from them.
TEST(FuelGas, HasThePublishedHeatingValues) {
  Combustion const gas(natural_gas(), 0.2);
  expect_share(Combustion(methane, 0).higher_heating_value / Combustion(methane, 0).lower_heating_value, 1.1097, 0.001);
  expect_share(gas.higher_heating_value / gas.lower_heating_value, 1.1083, 0.001);
  expect_share(Combustion(propane(), 0).higher_heating_value / Combustion(propane(), 0).lower_heating_value, 1.0862, 0.001);
  double const molar_volume = 8.314463 * 288.15 / 101325;
  expect_share(gas.higher_heating_value / molar_volume, 38.28e6, 0.002);
  expect_share(gas.molar_mass / 28.965e-3, 0.588, 0.002);
}

// 40 CFR 98 table C-1 and NN-1 (public text): 53.06 and 62.87 kg CO2 per million Btu of HHV. The gases differ a little.
TEST(FlueGas, CarriesTheOfficialCarbonDioxide) {
  expect_share(Combustion(natural_gas(), 0.2).carbon_dioxide_per_joule * million_Btu, 53.06, 0.005);
  expect_share(Combustion(propane(), 0.2).carbon_dioxide_per_joule * million_Btu, 62.87, 0.005);
}

// Flue loss with constant molar heat capacities, computed elsewhere; 0.003.
TEST(FlueGas, EfficiencyFollowsTheFlueTemperature) {
  struct { double t, at_20, at_30; } const rows[]{{30, .9749, .9727}, {35, .9647, .9616}, {40, .9522, .9481},
                                                  {45, .9366, .9311}, {50, .9170, .9098}, {55, .8919, .8886},
                                                  {60, .8874, .8863}, {70, .8831, .8817}, {80, .8788, .8771}};
  Combustion const at_20(natural_gas(), 0.20), at_30(natural_gas(), 0.30);
  for (auto const& row : rows) {
    EXPECT_NEAR(at_20.efficiency(row.t + 273.15), row.at_20, 0.003);
    EXPECT_NEAR(at_30.efficiency(row.t + 273.15), row.at_30, 0.003);
  }
}

// Full condensation of methane's water is 0.1456 kg/kWh of HHV; at 40 °C with 20 % excess air natural gas gives 0.0841:
// computed elsewhere.
TEST(FlueGas, CondensateIsThePublishedAmount) {
  Combustion const burnt(methane, 0.20);
  expect_share(burnt.water_amount * Combustion::water_molar_mass / burnt.higher_heating_value * 3.6e6, 0.1456, 0.005);
  expect_share(Combustion(natural_gas(), 0.20).condensate(313.15) * 3.6e6, 0.0841, 0.005);
}

}  // namespace
}  // namespace steadyfire
