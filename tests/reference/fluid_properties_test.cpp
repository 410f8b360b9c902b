// Liquids against tables. Tolerances are those a right implementation of any good correlation meets.

#include <gtest/gtest.h>

#include <cmath>

#include "models/fluid/glycol.hpp"
#include "models/fluid/saturation.hpp"
#include "models/fluid/water.hpp"

namespace steadyfire {
namespace {

double celsius(double t) { return t + 273.15; }
void expect_share(double found, double expected, double share) { EXPECT_NEAR(found, expected, share * std::abs(expected)); }

// IAPWS-IF97 (ρ, cp, psat), R12-08 (μ), R15-11 (k) at 200 kPa, computed with the public library python3-iapws 1.5.
struct WaterRow { double t, density, mPas, heat_capacity, conductivity, saturation_kPa; };
constexpr WaterRow water_rows[]{
    {5, 1000.02, 1.5180, 4204.5, 0.5679, 0.873},   {10, 999.75, 1.3058, 4195.1, 0.5788, 1.228},
    {20, 998.25, 1.0016, 4184.5, 0.5981, 2.339},   {30, 995.70, 0.7972, 4179.8, 0.6144, 4.247},
    {40, 992.27, 0.6527, 4178.3, 0.6285, 7.384},   {50, 988.09, 0.5465, 4179.3, 0.6407, 12.351},
    {60, 983.25, 0.4661, 4182.5, 0.6511, 19.946},  {70, 977.82, 0.4036, 4187.9, 0.6598, 31.201},
    {80, 971.85, 0.3541, 4195.3, 0.6671, 47.415},  {90, 965.36, 0.3142, 4204.8, 0.6729, 70.182},
    {95, 961.94, 0.2971, 4210.3, 0.6752, 84.609}};

TEST(WaterProperties, AgreeWithIapws) {
  Water const water;
  for (auto const& row : water_rows) {
    SCOPED_TRACE(row.t);
    auto const f = water.at(celsius(row.t));
    expect_share(f.density, row.density, 0.0005);
    expect_share(f.viscosity, row.mPas * 1e-3, 0.01);
    expect_share(f.heat_capacity, row.heat_capacity, 0.002);
    expect_share(f.conductivity, row.conductivity, 0.007);
    expect_share(water.vapour_pressure(celsius(row.t)), row.saturation_kPa * 1e3, 0.003);
  }
}

// IAPWS R7-97(2012), verification tables 35 and 36, from memory and reproduced with python3-iapws.
TEST(Saturation, ReproducesTheVerificationTables) {
  expect_share(saturation_pressure(300.0), 0.353658941e4, 1e-8);
  expect_share(saturation_pressure(500.0), 0.263889776e7, 1e-8);
  expect_share(saturation_temperature(0.1e6), 372.755919, 1e-8);
  expect_share(saturation_temperature(1e6), 453.035632, 1e-8);
}

// 60·ρ·cp in the units of the trade, where "500" is said; computed with python3-iapws.
TEST(WaterProperties, TradeFactor500FallsWithTemperature) {
  struct { double degF, factor; } const rows[]{{60, 500.4},  {90, 497.3},  {100, 496.3}, {120, 494.1},
                                               {140, 491.8}, {160, 489.5}, {180, 487.1}};
  for (auto const [degF, factor] : rows) {
    auto const f = Water{}.at((degF + 459.67) / 1.8);
    double const gallon = 3.785411784e-3, Btu = 1055.056;
    expect_share(60 * gallon * f.density * f.heat_capacity / (1.8 * Btu), factor, 0.001);
  }
}

// Melinder (IIR 2010), computed elsewhere from the same published coefficients.
TEST(GlycolProperties, ReproduceMelinder) {
  struct { double x, t, density, heat_capacity, conductivity, mPas; } const rows[]{
      {.20, 20, 1014.8, 3977, .4922, 2.030}, {.20, 60, 995.6, 4061, .5310, .778},  {.30, 5, 1029.9, 3816, .4324, 5.569},
      {.30, 40, 1013.4, 3910, .4606, 1.573}, {.30, 60, 1001.2, 3962, .4766, .995}, {.40, 20, 1032.3, 3707, .4003, 4.384},
      {.40, 60, 1006.3, 3834, .4265, 1.283}, {.50, 40, 1025.4, 3607, .3695, 2.914}, {.50, 80, 994.9, 3760, .3910, 1.088}};
  for (auto const& row : rows) {
    SCOPED_TRACE(row.x);
    auto const f = PropyleneGlycol(row.x).at(celsius(row.t));
    expect_share(f.density, row.density, 0.001);
    expect_share(f.heat_capacity, row.heat_capacity, 0.001);
    expect_share(f.conductivity, row.conductivity, 0.001);
    expect_share(f.viscosity, row.mPas * 1e-3, 0.001);
  }
  struct { double x, t; } const freezing[]{{.20, -7.2}, {.30, -12.8}, {.40, -20.6}, {.50, -32.2}};
  for (auto const [x, t] : freezing) EXPECT_NEAR(PropyleneGlycol(x).freezing_point(), celsius(t), 0.06);  // rounding of the table
}

// ASHRAE Fundamentals, inhibited propylene glycol by volume, looked up in a public library's data folder: independent of Melinder.
TEST(GlycolProperties, AgreeWithAshrae) {
  struct { double volume, t, density, heat_capacity, conductivity, mPas; } const rows[]{
      {.30, 40, 1018.42, 3903, .462, 1.63}, {.40, 60, 1012.3, 3834, .425, 1.30},
      {.50, 20, 1042.87, 3532, .362, 6.65}, {.20, 80, 986.44, 4104, .540, .56}};
  for (auto const& row : rows) {
    SCOPED_TRACE(row.volume);
    auto const f = PropyleneGlycol(glycol_mass_fraction(row.volume)).at(celsius(row.t));
    expect_share(f.density, row.density, 0.01);
    expect_share(f.heat_capacity, row.heat_capacity, 0.015);
    expect_share(f.conductivity, row.conductivity, 0.03);
    expect_share(f.viscosity, row.mPas * 1e-3, 0.06);
  }
  struct { double volume, t; } const freezing[]{{.204, -7.6}, {.304, -13.4}, {.396, -21.1}, {.499, -33.5}};
  for (auto const [volume, t] : freezing)  // inhibitors lower it; 1.5 K spans both sources
    EXPECT_NEAR(PropyleneGlycol(glycol_mass_fraction(volume)).freezing_point(), celsius(t), 1.5);
}

// A conversion table in a public thermodynamic library.
TEST(GlycolProperties, VolumeFractionsConvertToMassFractions) {
  EXPECT_NEAR(glycol_mass_fraction(0.294), 0.30, 0.002);
  EXPECT_NEAR(glycol_mass_fraction(0.396), 0.40, 0.002);
  EXPECT_NEAR(glycol_mass_fraction(0.499), 0.50, 0.002);
}

// Btu/h per gpm·°F at 60 °C, and expansion from 15.6 to 82.2 °C in per cent: from Melinder and python3-iapws, computed elsewhere.
TEST(GlycolProperties, CarryLessHeatAndExpandMore) {
  auto const factor = [](Fluid const& f) { return 60 * 3.785411784e-3 * f.density * f.heat_capacity / (1.8 * 1055.056); };
  expect_share(factor(PropyleneGlycol(0.3).at(celsius(60))), 474.4, 0.002);
  expect_share(factor(PropyleneGlycol(0.4).at(celsius(60))), 461.4, 0.002);
  expect_share(factor(PropyleneGlycol(0.5).at(celsius(60))), 445.1, 0.002);
  auto const expansion = [](FluidLaw const& law) { return 100 * (law.at(celsius(15.6)).density / law.at(celsius(82.2)).density - 1); };
  expect_share(expansion(Water{}), 2.948, 0.05);
  expect_share(expansion(PropyleneGlycol(0.3)), 4.03, 0.05);
  expect_share(expansion(PropyleneGlycol(0.4)), 4.52, 0.05);
}

}  // namespace
}  // namespace steadyfire
