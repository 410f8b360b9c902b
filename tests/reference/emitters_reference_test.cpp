/// Emitters and transients against values from outside: standards, textbooks, closed forms.

#include <gtest/gtest.h>

#include "models/emitters/fan_coil.hpp"
#include "models/emitters/fin_tube_baseboard.hpp"
#include "models/emitters/radiant_panel.hpp"
#include "models/emitters/radiant_slab.hpp"
#include "models/emitters/radiator.hpp"
#include "models/emitters/snow_melt_slab.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

/// The air that emitters heat, of a temperature that the test holds.
struct Air {
  static constexpr std::string_view kind = "air", family = "room", summary = "Air of a held temperature";
  static std::vector<Field> schema() { return {}; }
  std::vector<OwnState> states() const { return {{"air", 1e6, 293.15}}; }
};

std::vector<Kind> const& kinds() {
  static std::vector<Kind> const all = [] {
    std::vector<Kind> k;
    k.push_back(kind<RadiantSlab>()), k.push_back(kind<PanelRadiator>()), k.push_back(kind<FinTubeBaseboard>()),
        k.push_back(kind<AirHandler>()), k.push_back(kind<Air>());
    return k;
  }();
  return all;
}
Stand stand(std::string_view kind, std::vector<Setting> settings, double water, double air, double kg_per_s) {
  settings.push_back({"room", "air"});
  auto s = StandBuilder{kinds()}.add("air", "air", {}, {}).add(kind, "emitter", {"in", "out"}, settings).build();
  s.hold(s.own("air"), air), s.hold(s.joint("in"), water), s.hold(s.joint("out"), water), s.hold(given::ground, air);
  s.flow("emitter", kg_per_s);
  return s;
}
double into_room(Stand const& s) { return s.rates()[s.own("air")] * 1e6; }
double constexpr plenty = 500;  // [kg/s] so much water that it does not cool

// --- EN 442 ------------------------------------------------------------------

TEST(PanelRadiatorReference, FactorsOfEn442) {
  // The rated output is that of 75 to 65 °C in a room of 20 °C: 1e-4.
  auto rated = stand("panel radiator", {{"output", 1000.}}, celsius(75), celsius(20), 0);
  rated.flow("emitter", 100 / rated.plan.fluid.heat_capacity), rated.steady();
  EXPECT_NEAR(into_room(rated), 1000, 0.1);
  EXPECT_NEAR(rated[rated.cell("emitter", 2)], celsius(65), 1e-3);
  // Closed form (ΔT/50)^1.3; 1.267 at 60 K also in public EN 442 notes. 0.1 %, of the output without any drop, which is
  // 10·0.3/(45^−0.3 − 55^−0.3)/50^1.3 = 0.99548 of the rated one's.
  double const at_50 = [] {
    auto s = stand("panel radiator", {{"output", 1000.}}, celsius(70), celsius(20), plenty);
    return s.steady(), into_room(s);
  }();
  EXPECT_NEAR(1000 / at_50, 0.99548, 2e-3);
  for (auto const& [excess, factor] : {std::pair{60., 1.2675}, {50., 1.0}, {40., .7482}, {30., .5148}, {25., .4061}, {20., .3039}}) {
    auto s = stand("panel radiator", {{"output", 1000.}}, celsius(20 + excess), celsius(20), plenty);
    s.steady();
    EXPECT_NEAR(into_room(s) / at_50, factor, 1e-3 * factor) << excess;
  }
}

TEST(PanelRadiatorReference, CellsGiveTheIntegralAlongTheRadiatorWhichTheLogMeanStandsFor) {
  // 60/40/20 °C, n = 1.3: .5148 by the arithmetic mean, .4915 by the log mean (EN 442), and by the integral, closed form,
  // (θ_in − θ_out)(n − 1)/(θ_out^(1−n) − θ_in^(1−n))/50^n = .4855.
  // The rating is such an integral too, from 55 to 45 K.
  auto const by_integral = [](double in, double out) { return (in - out) * .3 / (std::pow(out, -.3) - std::pow(in, -.3)); };
  double const integral = by_integral(40, 20) / by_integral(55, 45);
  for (int cells : {1, 3}) {
    auto s = stand("panel radiator", {{"output", 1000.}, {"cells", double(cells)}}, celsius(60), celsius(20), 0.006);
    double low = 1e-4, high = 1;  // the flow that cools the water to 40 °C
    for (int i = 0; i < 60; ++i) {
      double const middle = std::sqrt(low * high);
      s.flow("emitter", middle), s.steady();
      (s[s.cell("emitter", cells - 1)] < celsius(40) ? low : high) = middle;
    }
    double const factor = into_room(s) / 1000;
    EXPECT_NEAR(factor / integral, 1, cells == 1 ? 0.003 : 0.002) << cells << " cells";
    EXPECT_NEAR(factor / .4915, 1, 0.015) << cells << " cells, log mean";
    EXPECT_LT(factor, 0.95 * .5148) << cells << " cells, arithmetic mean";
  }
}

// --- fin-tube baseboard ---------------------------------------------------------

TEST(BaseboardReference, OutputFollowsTheTradesTables) {
  // Relative to 180 °F mean water and 65 °F air, by exponent 1.31 (ASHRAE) and 1.4172 (an older trade curve); 0.1 %.
  struct Row { double water, ashrae, older; };
  for (auto const& row : {Row{110, .2925, .2646},
                          {120, .3805, .3516},
                          {140, .5712, .5457},
                          {160, .7786, .7628},
                          {180, 1, 1},
                          {200, 1.2337, 1.2551},
                          {215, 1.4163, 1.4573}})
    for (auto const& [exponent, factor] : {std::pair{1.31, row.ashrae}, {1.4172, row.older}}) {
      auto s = stand("fin-tube baseboard",
                     {{"length", 3.048}, {"output", 580 * unit::Btu_per_hour_foot.scale}, {"exponent", exponent}, {"flow_exponent", 0.}},
                     fahrenheit(row.water), fahrenheit(65), plenty);
      s.steady();
      EXPECT_NEAR(into_room(s) / unit::Btu_per_hour.to_si(5800), factor, 1e-3 * factor) << row.water << " F, " << exponent;
    }
}

// --- air coils --------------------------------------------------------------------

TEST(CrossflowReference, UnmixedIsTheExactSeries) {
  // Kays and London, exact, five digits.
  struct Row { double N, C, exact; };
  for (auto const& r : {Row{1, .5, .54749}, {1, 1, .47622}, {2, .5, .73241}, {2, 1, .61425}, {3, .75, .74941}})
    EXPECT_NEAR(crossflow_effectiveness(r.N, r.C), r.exact, 1e-5);
}

/// Both streams followed over a grid of the exchanger, by the midpoint of each cell.
double crossflow_by_grid(double N, double C, int n) {
  std::vector<double> cold(n, 0.0);  // entering each column
  double leaving = 0;
  for (int row = 0; row < n; ++row) {
    double hot = 1;  // the lesser stream enters each row
    for (int column = 0; column < n; ++column) {
      double const a = N / n, b = C * N / n, q = (hot - cold[column]) / (1 + a / 2 + b / 2);
      hot -= a * q, cold[column] += b * q;
    }
    leaving += hot / n;
  }
  return 1 - leaving;
}
TEST(CrossflowReference, UnmixedAgreesWithBothStreamsFollowedOverAGrid) {
  for (double const N : {0.1, 0.7, 2.5, 6., 15.})
    for (double const C : {0.1, 0.4, 0.8, 1.})
      EXPECT_NEAR(crossflow_effectiveness(N, C), crossflow_by_grid(N, C, 1000), 1e-4) << N << ' ' << C;
}

TEST(ExchangerReference, EachPatternFollowsItsPublishedFormula) {
  // Kays and London, tables of effectiveness, from memory: N 2, C 0.5, four digits.
  EXPECT_NEAR(effectiveness(FlowPattern::counterflow, 2, 0.5), 0.7746, 1e-4);
  EXPECT_NEAR(effectiveness(FlowPattern::parallel, 2, 0.5), 0.6335, 1e-4);
  EXPECT_NEAR(effectiveness(FlowPattern::shell_and_tube, 2, 0.5), 0.693, 1e-3);
  // All are 1 − e^(−N) where one side does not change, and order as they waste ever more of the difference.
  for (auto const p : {FlowPattern::counterflow, FlowPattern::parallel, FlowPattern::crossflow, FlowPattern::shell_and_tube})
    EXPECT_NEAR(effectiveness(p, 1.5, 0), -std::expm1(-1.5), 1e-12);
  for (double const C : {0.3, 0.7, 1.}) {
    EXPECT_GT(effectiveness(FlowPattern::counterflow, 3, C), effectiveness(FlowPattern::crossflow, 3, C));
    EXPECT_GT(effectiveness(FlowPattern::crossflow, 3, C), effectiveness(FlowPattern::shell_and_tube, 3, C));
    EXPECT_GT(effectiveness(FlowPattern::shell_and_tube, 3, C), effectiveness(FlowPattern::parallel, 3, C));
  }
}

TEST(AirHandlerReference, AirCarriesWhatTheTradesConstantSays) {
  // 1.08·cfm·ΔT: 1200 cfm by 50 °F is 64 800 Btu/h = 18.99 kW, 1 %; a vast coil brings the air to water temperature.
  auto s = stand("air handler", {{"conductance", 1e6}, {"rated_flow", 1.0}, {"air_flow", unit::cfm.to_si(1200)}, {"fan_power", 0.}},
                 fahrenheit(120), fahrenheit(70), plenty);
  s.mode("emitter", AirHandler::fan_on), s.steady();
  EXPECT_NEAR(into_room(s), 18.99e3, 190);
}

TEST(AirHandlerReference, HeatIsEffectivenessTimesLeastCapacityRate) {
  // NTU 2, C 0.5, air the smaller: ε .73241 exact crossflow.
  double const air = 0.5, C_air = 1.2041 * 1006 * air;
  auto s =
      stand("air handler", {{"conductance", 2 * C_air}, {"rated_flow", 2 * C_air / (992.2 * 4178.3)}, {"air_flow", air}, {"fan_power", 0.}},
            celsius(60), celsius(20), 2 * C_air / 4178.3);
  s.mode("emitter", AirHandler::fan_on), s.steady();
  EXPECT_NEAR(into_room(s), .73241 * C_air * 40, 1e-3 * .73241 * C_air * 40);
}

// --- radiant floor: EN 1264 ---------------------------------------------------------

TEST(RadiantSlabReference, FloorGivesTheHeatOfTheStandardsCurve) {
  // EN 1264-2: q = 8.92·ΔT^1.1, 0.1 %; also 28.695 °C over 20 °C: 96.280 W/m².
  for (auto const& [excess, q] : {std::pair{1., 8.920}, {5., 52.388}, {7., 75.853}, {8.695, 96.280}, {9., 100.007}, {15., 175.414}}) {
    auto s = stand("radiant slab", {{"floor_area", 40.}, {"covering", 0.}}, celsius(20), celsius(20), 0);
    for (int n = 0; n < 4; ++n) s[s.own("emitter", n * 6 + 5)] = celsius(20 + excess);
    s.settle();
    EXPECT_NEAR(into_room(s) / 40, q, 1e-3 * q) << excess;
    for (int n = 0; n < 4; ++n) s[s.own("emitter", n * 6 + 5)] = celsius(20 - excess);
    EXPECT_NEAR(into_room(s) / 40, -q, 1e-3 * q) << "mirrored";
  }
}

/// Steady heat to the room over the excess of the water, with the 1/2 in PEX of 15.9 mm.
double heat_per_excess(double spacing, double over, double under, double conductivity, double covering, std::string tube, double excess) {
  auto s = stand("radiant slab",
                 {{"floor_area", 1.},
                  {"loops", 1.},
                  {"tube", tube},
                  {"spacing", spacing},
                  {"tube_depth", over + find_pipe_size(tube)->outside_diameter / 2},
                  {"thickness", over + find_pipe_size(tube)->outside_diameter / 2 + under},
                  {"conductivity", conductivity},
                  {"covering", covering},
                  {"down_resistance", 1e4},
                  {"layers", 20.},
                  {"segments", 1.}},
                 celsius(20 + excess), celsius(20), 0.05);
  s[s.joint("in")] = celsius(20 + excess);
  s.steady();
  double const cooled = s[s.joint("in")] - s[s.cell("emitter", 0)];
  return into_room(s) / (excess - cooled / 2);
}

/// EN 1264-2 type A, K_H = 6.7·a_B·a_T^m_T·a_U^m_U·a_D^m_D, its tabulated factors given.
double standard_output(double spacing, double over, double diameter, double a_B, double a_T, double a_U, double a_D) {
  return 6.7 * a_B * std::pow(a_T, 1 - spacing / 0.075) * std::pow(a_U, 100 * (0.045 - over)) * std::pow(a_D, 250 * (diameter - 0.020));
}
struct Floor { double spacing, conductivity, covering, a_B, a_T, a_U, a_D; std::string tube; };
std::vector<Floor> const& floors() {
  // a_T, a_U, a_D: several independent public transcriptions of EN 1264-2 agree.
  static std::vector<Floor> const all{{.15, 1.2, 0, 1.058, 1.23, 1.057, 1.040, "1/2 in PEX"},
                                      {.15, 1.2, .10, .598, 1.156, 1.035, 1.029, "1/2 in PEX"},
                                      {.20, 1.2, 0, 1.058, 1.23, 1.051, 1.046, "1/2 in PEX"},
                                      {.30, 1.0, .05, .734, 1.188, 1.031, 1.049, "1/2 in PEX"},
                                      {.15, 1.0, 0, 1.000, 1.23, 1.057, 1.040, "3/4 in PEX"}};
  return all;
}

TEST(RadiantSlabReference, TheStandardsFormulaIsReadRightly) {  // K_H of type A, computed apart; 0.3 %
  EXPECT_NEAR(standard_output(.15, .045, .016, 1.058, 1.23, 1.057, 1.040), 5.5396, 0.003 * 5.54);
  EXPECT_NEAR(standard_output(.20, .045, .016, 1.058, 1.23, 1.051, 1.046), 4.7978, 0.003 * 4.80);
  EXPECT_NEAR(standard_output(.30, .045, .020, .734, 1.188, 1.031, 1.049), 2.9309, 0.003 * 2.93);
}

TEST(RadiantSlabReference, HeatIsWithinEightPercentOfEn1264WithSlabBelowTheTube) {
  // Type A. The plate of the standard is not described by it in full (what lies below the tube), and its
  // tube is 2 mm of λ 0.35: 8 % covers both, with 22 mm of slab below the tube's wall, at about 100 W/m². The
  // plate itself is right to 1 % (two-dimensional differences, below).
  for (auto const& f : floors()) {
    double const outside = find_pipe_size(f.tube)->outside_diameter;
    double const standard = standard_output(f.spacing, .045, outside, f.a_B, f.a_T, f.a_U, f.a_D);
    double const ours = heat_per_excess(f.spacing, .045, .022 + outside / 2, f.conductivity, f.covering, f.tube, 100 / standard);
    EXPECT_NEAR(ours / standard, 1, 0.08) << f.spacing << " m, covering " << f.covering << ": " << ours << " W/(m²·K) of " << standard;
  }
}

TEST(RadiantSlabReference, ATubeOnTheInsulationGivesUpToTenPercentLessThanEn1264) {
  // Two dimensions confirm less: 5 to 7 % less than the standard for bare floors (tube_plate.py); the line source adds 3 %.
  for (auto const& f : floors()) {
    double const outside = find_pipe_size(f.tube)->outside_diameter;
    double const standard = standard_output(f.spacing, .045, outside, f.a_B, f.a_T, f.a_U, f.a_D);
    double const ours = heat_per_excess(f.spacing, .045, outside / 2, f.conductivity, f.covering, f.tube, 100 / standard);
    EXPECT_NEAR(ours / standard, 1, 0.10) << f.spacing << " m, covering " << f.covering;
  }
}

TEST(RadiantSlabReference, TubeInAPlateAgreesWithTwoDimensionalDifferences) {
  // tests/reference/tube_plate.py: resistance from tube wall to room, two grids agree to 1e-4.
  struct Row { double spacing, above, below, diameter, conductivity, U, resistance, tolerance; };
  for (auto const& r : {Row{.15, .053, .030, .016, 1.2, 10.8, .1596, .006},
                        {.15, .053, .030, .016, 1.2, 5.192, .2597, .006},
                        {.20, .053, .030, .016, 1.2, 10.8, .1778, .006},
                        {.30, .055, .030, .020, 1.0, 7.013, .2910, .006},
                        {.15, .055, .030, .020, 1.0, 10.8, .1692, .01}, {.15, .053, .008, .016, 1.2, 10.8, .1687, .035},
                        {.30, .055, .010, .020, 1.0, 7.013, .3205, .035}}) {
    double const ours = 1 / r.U + r.above / r.conductivity +
                        r.spacing * tube_plane_resistance(r.spacing, r.diameter, r.conductivity, r.above, r.U, r.below, 0);
    EXPECT_NEAR(ours / r.resistance, 1, r.tolerance) << r.spacing << " m, " << r.below << " m below";
  }
}

TEST(RadiantSlabReference, FarFromBothFacesTheTubePlaneIsThatOfIso11855) {  // R = T·ln(T/(π·d))/(2π·λ), from memory
  double const T = .15, d = .016, k = 1.2;
  EXPECT_NEAR(T * tube_plane_resistance(T, d, k, .5, 10.8, .5, 2), T * std::log(T / (std::numbers::pi * d)) / (2 * std::numbers::pi * k),
              1e-7);
}

TEST(RadiantSlabReference, HeatLostDownwardIsThatOfTheStandard) {
  // EN 1264-2: q_u = (R_o·q + t_i − t_u)/R_u; q 50, R_o .23009, R_u 1.02, 20/10 °C: 21.083 W/m², 0.02.
  double up[2], down[2];
  for (int i : {0, 1}) {
    auto s = stand("radiant slab",
                   {{"floor_area", 10.},
                    {"loops", 1.},
                    {"conductivity", 1.2},
                    {"tube_depth", .045},
                    {"thickness", .075},
                    {"covering", .1},
                    {"surface_coefficient", 10.8},
                    {"down_resistance", 1.02 - .03 / 1.2}},
                   celsius(30 + 10 * i), celsius(20), 0.1);
    s.hold(given::ground, celsius(10));
    s.steady();
    up[i] = into_room(s) / 10, down[i] = s.into(account::floor_down) / 10;
  }
  EXPECT_NEAR(down[0] + (50 - up[0]) / (up[1] - up[0]) * (down[1] - down[0]), 21.083, 0.02);
}

// --- transients of a plane wall -------------------------------------------------------

/// A slab without water: bottom insulated, top to air by a constant coefficient.
Stand wall(double L, double k, double heat_per_volume, double h, double layers, double start, double air) {
  return stand("radiant slab",
               {{"floor_area", 1.},
                {"thickness", L},
                {"conductivity", k},
                {"heat_per_volume", heat_per_volume},
                {"surface_coefficient", h},
                {"covering", 0.},
                {"down_resistance", 1e12},
                {"loops", 1.},
                {"tube_length", 1e-9},
                {"segments", 1.},
                {"layers", layers},
                {"start", start}},
               start, air, 0);
}

TEST(SlabTransientReference, DefaultLayersFollowHeislersSeriesWithinOnePercentOfTheStep) {
  // θ of insulated face, convective face and heat given, by the series; 1 % of the step with five layers, 0.1 % with twenty.
  struct Row { double Bi, Fo, insulated, convective, given; };
  double const L = 0.1, k = 1.4, C = 2.1e6, step = 20;
  for (auto const& r : {Row{.1, 1, .92239, .87813, .09241},
                        {.5, .5, .86411, .68688, .19567},
                        {.5, 2, .45578, .36193, .57595},
                        {1, .2, .95064, .64339, .14840},
                        {1, 1, .53386, .34818, .52960},
                        {2, .5, .65962, .31313, .46038},
                        {10, .2, .82925, .12248, .41674}})
    for (auto const& [layers, tolerance] : {std::pair{5, .01}, {20, .001}}) {
      auto s = wall(L, k, C, r.Bi * k / L, layers, celsius(40), celsius(20));
      s.advance(r.Fo * L * L * C / k, 400);
      auto const theta = [&](int point) { return (s[s.own("emitter", point)] - celsius(20)) / step; };
      EXPECT_NEAR(theta(0), r.insulated, tolerance) << r.Bi << ' ' << r.Fo << ' ' << layers;
      EXPECT_NEAR(theta(layers), r.convective, tolerance) << r.Bi << ' ' << r.Fo << ' ' << layers;
      double mean = 0;
      for (int i = 0; i <= layers; ++i) mean += theta(i) * s.plan.capacity[s.own("emitter", i)] / (C * L);
      EXPECT_NEAR(1 - mean, r.given, tolerance) << r.Bi << ' ' << r.Fo << ' ' << layers;
    }
}

TEST(SlabTransientReference, ConcreteWarmsAsTheSeriesSays) {
  // Concrete 100 mm, h 8, k 1.4, ρ 2300, c 880, 18 °C into 30 °C: exact series; 0.12 K is 1 % of the step.
  for (auto const& [time, insulated, surface] : {std::tuple{1800., 18.105, 20.308}, {7200., 19.804, 22.134}, {21600., 23.660, 25.114}}) {
    auto s = wall(0.1, 1.4, 2300 * 880, 8, 5, celsius(18), celsius(30));
    s.advance(time, 400);
    EXPECT_NEAR(s[s.own("emitter", 0)] - 273.15, insulated, 0.12) << time;
    EXPECT_NEAR(s[s.own("emitter", 5)] - 273.15, surface, 0.12) << time;
  }
}

TEST(SlabTransientReference, ConstantFluxRaisesBothFacesAsInCarslawAndJaeger) {
  // Sec. 3.8; rise·k/(q·L); a weak film to very hot air makes the flux constant to 0.002 %. 0.015 with five layers, 0.002 with twenty.
  for (auto const& [Fo, heated, back] :
       {std::tuple{.05, .25231, .00027}, {.2, .50517, .06146}, {.5, .83188, .33479}, {1., 1.33332, .83334}})
    for (auto const& [layers, tolerance] : {std::pair{5, .015}, {20, .002}}) {
      double const L = 0.1, k = 1.4, C = 2.1e6, q = 100, hot = 1e6;
      auto s = wall(L, k, C, q / hot, layers, celsius(20), celsius(20) + hot);
      s.advance(Fo * L * L * C / k, 400);
      EXPECT_NEAR((s[s.own("emitter", layers)] - celsius(20)) * k / (q * L), heated, tolerance) << Fo << ' ' << layers;
      EXPECT_NEAR((s[s.own("emitter", 0)] - celsius(20)) * k / (q * L), back, tolerance) << Fo << ' ' << layers;
    }
}

// --- film in the tube -----------------------------------------------------------------

TEST(TubeFilmReference, LaminarAndTurbulentNusseltNumbers) {
  // 4.36: constant flux, developed laminar flow. Gnielinski by itself, computed apart in Python: 79.49 at Re 1e4, Pr 7, and
  // 404.7 at Re 1e5, Pr 3. Dittus–Boelter, another correlation of the same data, agrees within 25 %.
  EXPECT_DOUBLE_EQ(tube_nusselt(1000, 7), 4.36);
  EXPECT_NEAR(tube_nusselt(1e4, 7), 79.49, 0.01);
  EXPECT_NEAR(tube_nusselt(1e5, 3), 404.7, 0.1);
  for (auto const& [Re, Pr] : {std::pair{1e4, 7.}, {1e5, 3.}})
    EXPECT_NEAR(tube_nusselt(Re, Pr) / (0.023 * std::pow(Re, 0.8) * std::pow(Pr, 0.4)), 1, 0.25);
  EXPECT_NEAR(tube_nusselt(2301, 7), 4.36, 0.1);
}

}  // namespace
}  // namespace steadyfire
