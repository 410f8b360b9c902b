/// Light panels, fan coils and snow melting against values from outside.

#include <gtest/gtest.h>

#include "tools/job/catalog.hpp"
#include "models/emitters/radiant_panel.hpp"
#include "models/emitters/snow_melt_slab.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

double constexpr Btu_per_hour_square_foot = 1055.05585262 / 3600 / 0.09290304;  // [W/m²]

// --- plates ---------------------------------------------------------------------------

TEST(PlatesReference, PlatesAndGapsAreWithinThreePercentOfTwoDimensionalDifferences) {
  // tests/reference/plate_fins.py: heat up and down of a plate held at one temperature at the tube; two grids agree to 3e-3.
  struct Row { double spacing, width, thickness, layer, conductivity, top, back, up, down; };
  for (auto const& r : {Row{0.2032, 0.127, 0.001, 0.03, 0.12, 10.8, 0.28, 2.2121, 0.2122},
                        {0.2032, 0.127, 0.0005, 0.03, 0.12, 10.8, 0.28, 2.1498, 0.2062},
                        {0.2032, 0.0762, 0.001, 0.03, 0.12, 10.8, 0.28, 1.5561, 0.1493},
                        {0.2032, 0.1778, 0.0005, 0.013, 0.12, 10.8, 0.35, 4.1124, 0.2892},
                        {0.2032, 0.1524, 0.0005, 0.0127, 0.16, 6.0, 0.15, 3.2424, 0.1197},
                        {0.2032, 0.1524, 0.0005, 0.0127, 0.16, 8.0, 0.36, 3.7647, 0.2770},
                        {0.3048, 0.127, 0.001, 0.03, 0.12, 10.8, 0.28, 1.4953, 0.1434},
                        {0.3048, 0.0762, 0.0005, 0.04, 0.14, 10.8, 0.28, 1.0091, 0.1069},
                        {0.1524, 0.127, 0.0005, 0.01, 0.14, 10.8, 0.35, 5.1639, 0.2964}}) {
    double const ours = plates_conductance(r.spacing, r.width, r.thickness, 210, r.layer, r.conductivity, r.top, r.back);
    EXPECT_NEAR(ours / (r.up + r.down), 1, 0.03) << r.width << " of " << r.spacing << " m";
    double const over = 1 / (1 / r.top + r.layer / r.conductivity);  // shared as the plane's conductances are
    EXPECT_NEAR(ours * over / (over + r.back) / r.up, 1, 0.03) << r.width << " of " << r.spacing << " m";
  }
}

TEST(PlatesReference, PlatesThatMeetAreAFin) {  // closed form tanh(mL)/(mL) of Incropera and DeWitt, straight fin, insulated tip
  double const T = 0.2, t = 5e-4, U = 1 / (1 / 10.8 + 0.02 / 0.14) + 0.3, mL = T / 2 * std::sqrt(U / (210 * t));
  EXPECT_NEAR(plates_conductance(T, T, t, 210, 0.02, 0.14, 10.8, 0.3), U * std::tanh(mL) / mL, 1e-9);
}

TEST(PlatesReference, FloorOfPlatesGivesWhatTheTradeExpects) {
  // 15 to 30 Btu/(h·ft²) from mean water of 130 to 140 °F under wood: common practice, no source.
  for (double const water : {130., 140.}) {
    auto s = StandBuilder{catalog()}
                 .add("room", "room", {}, {{"heat_loss", 100.}})
                 .add("plates under floor", "emitter", {"in", "out"}, {{"floor_area", 30.}, {"room", "room"}})
                 .build();
    for (int i : {0, 1, 2, 3}) s.hold(s.own("room", i), fahrenheit(70));
    s.hold(s.joint("in"), fahrenheit(water)), s.hold(s.joint("out"), fahrenheit(water)), s.flow("emitter", 50), s.steady();
    double up = 0;
    for (int n = 0; n < 4; ++n) up += 8.92 * 30 / 4 * std::pow(s[s.own("emitter", 2 * n + 1)] - fahrenheit(70), 1.1);
    EXPECT_GT(up / 30, 15 * Btu_per_hour_square_foot);
    EXPECT_LT(up / 30, 30 * Btu_per_hour_square_foot);
  }
}

// --- snow melting -----------------------------------------------------------------------

SnowMeltSlab pavement(double wind_mph, double humidity) {
  SnowMeltSlab slab{};
  std::vector<Value> values;
  for (auto const& f : SnowMeltSlab::schema()) {
    values.emplace_back();
    if (!std::isnan(f.standard)) values.back().numbers = {f.unit.to_si(f.standard)};
    if (f.key == "area") values.back().numbers = {10};
    if (f.key == "wind") values.back().numbers = {wind_mph * 0.44704};
    if (f.key == "humidity") values.back().numbers = {humidity};
  }
  slab = fill<SnowMeltSlab>(values);
  slab.prepare();
  return slab;
}

TEST(SnowMeltReference, BareSurfaceLosesWhatTheAshraeExampleSays) {
  // ASHRAE Handbook HVAC Applications, snow melting, the worked hour of a snowfall, from memory: air 17 °F, wind 19.6 mph over
  // 20 ft, surface 33 °F under a closed sky: h 4.44 Btu/(h·ft²·°F), convection and radiation together 82.2 Btu/(h·ft²). 5 %, as
  // its air is taken at 25 °F and ours at 32 °F.
  auto const slab = pavement(19.6, 0.85);
  EXPECT_NEAR(slab.by_wind / 5.678263, 4.44, 0.05 * 4.44);
  EXPECT_NEAR(slab.dry_loss(fahrenheit(33), fahrenheit(17)) / Btu_per_hour_square_foot, 82.2, 0.05 * 82.2);
}

TEST(SnowMeltReference, SnowTakesWhatTheAshraeExampleSays) {
  // The same hour: 0.10 in/h of water; warming the snow and its water 4.3, melting 74.5 Btu/(h·ft²). Ours lets the water run off at
  // 32 °F: 0.5 Btu/(h·ft²) less, and melts at a rate that follows. 1 % of the sum.
  double const fall = 0.1 * 0.0254 / 3600 * 1000, per_kilogram = SnowMeltSlab::fusion + SnowMeltSlab::ice_heat * (273.15 - fahrenheit(17));
  EXPECT_NEAR(fall * per_kilogram / Btu_per_hour_square_foot, 4.3 + 74.5, 0.01 * 78.8);
}

TEST(SnowMeltReference, HumidityOfSaturatedAir) {
  // ASHRAE Fundamentals, moist air at 1 atm, from memory: 3.79 g/kg at 0 °C, 7.66 at 10 °C, 14.8 at 20 °C. 1 %.
  for (auto const& [t, W] : {std::pair{0., 3.79e-3}, {10., 7.66e-3}, {20., 14.8e-3}})
    EXPECT_NEAR(saturated_humidity(celsius(t)) / W, 1, 0.01) << t;
}

TEST(SnowMeltReference, EvaporationFollowsTheLewisRelation) {
  // Closed form: h/(cp·Le^⅔)·ΔW·h_fg with Le = 0.85 for water vapor in air (Incropera, from memory): Le^⅔ = 0.897; 1 %.
  auto const slab = pavement(10, 0.5);
  double const dW = saturated_humidity(celsius(1)) - 0.5 * saturated_humidity(celsius(-5));
  EXPECT_NEAR(slab.wet_loss(celsius(1), celsius(-5)) / (slab.by_wind / (1006 * std::pow(0.85, 2 / 3.)) * dW * 2.5e6), 1, 0.01);
  EXPECT_EQ(slab.wet_loss(celsius(-30), celsius(10)), 0);
}

TEST(SnowMeltReference, ClearSkyIsColderBySwinbank) {  // 0.0552·273.15^1.5 = 249.2 K, closed form
  auto slab = pavement(0, 0.8);
  slab.clouded = 0;
  EXPECT_NEAR(slab.dry_loss(273.15, 273.15), 0.9 * 5.670374e-8 * (std::pow(273.15, 4) - std::pow(249.2, 4)), 0.3);
}

}  // namespace
}  // namespace steadyfire
