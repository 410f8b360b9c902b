// Friction in pipes against the Colebrook equation solved elsewhere, worked examples of textbooks, and trade tables.

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "models/fittings.hpp"
#include "models/fluid/glycol.hpp"
#include "models/fluid/water.hpp"
#include "models/friction.hpp"
#include "models/pipe_sizes.hpp"
#include "sim/core/gravity.hpp"

namespace steadyfire {
namespace {

constexpr double gpm = 3.785411784e-3 / 60, hundred_feet = 30.48;
void expect_share(double found, double expected, double share) { EXPECT_NEAR(found, expected, share * std::abs(expected)); }

// Colebrook solved by the public library python3-fluids 1.0; five digits are printed.
TEST(PipeFriction, AgreesWithColebrook) {
  struct { double reynolds, roughness, f; } const rows[]{
      {4e3, 0, .039907},    {1e4, 0, .030883},    {1e4, 1e-3, .032382}, {5e4, 1e-4, .021248}, {1e5, 0, .017990},
      {1e5, 1e-4, .018514}, {1e5, 1e-3, .022175}, {1e6, 1e-4, .013441}, {1e7, 1e-3, .019667}, {1e8, 5e-2, .071551}};
  for (auto const [reynolds, roughness, f] : rows) expect_share(friction_factor(reynolds, roughness), f, 2e-4);
}

// Hagen–Poiseuille.
TEST(PipeFriction, IsLaminarBelow2300) {
  for (double reynolds : {1.0, 1000.0, 2000.0, 2300.0}) EXPECT_DOUBLE_EQ(friction_factor(reynolds, 1e-3), 64 / reynolds);
}

// Pressure loss per 100 ft, computed with python3-fluids (Colebrook) and python3-iapws.
TEST(StraightRun, LossesAgreeWithColebrook) {
  struct { char const* size; double flow, t, loss; } const rows[]{
      {"3/4 in copper M", 4, 60, 9672}, {"1 in copper M", 8, 60, 9423},      {"1/2 in PEX min wall", 1, 40, 10711},
      {"1/2 in PEX", 1, 40, 11824},     {"1-1/4 in steel 40", 12, 80, 6173}, {"1/2 in PEX min wall", 0.1, 40, 222.1}};
  for (auto const& row : rows) {
    SCOPED_TRACE(row.size);
    auto const size = find_pipe_size(row.size).value();
    auto const fluid = Water{}.at(row.t + 273.15);
    expect_share(pipe_loss(row.flow * gpm * fluid.density, hundred_feet, size.inside_diameter, size.roughness, 0, fluid), row.loss, 0.01);
  }
}

// The same with 40 % propylene glycol by mass.
TEST(StraightRun, GlycolLossesAgreeWithColebrook) {
  auto const size = find_pipe_size("1 in copper M").value();
  for (auto const& [t, loss] : {std::pair{60, 12098}, {20, 17012}}) {
    auto const fluid = PropyleneGlycol(0.4).at(t + 273.15);
    expect_share(pipe_loss(8 * gpm * fluid.density, hundred_feet, size.inside_diameter, size.roughness, 0, fluid), loss, 0.01);
  }
}

// Where half-inch PEX and three-quarter copper turn turbulent, water at 40 °C; computed with python3-iapws.
TEST(StraightRun, ManyLoopsRunLaminar) {
  auto const reynolds = [](double flow, double diameter, Fluid const& f) {
    return 4 * flow * gpm * f.density / (std::numbers::pi * diameter * f.viscosity);
  };
  auto const bore = [](char const* name) { return find_pipe_size(name)->inside_diameter; };
  expect_share(reynolds(0.675, bore("3/4 in copper M"), Water{}.at(313.15)), 4000, 0.01);
  expect_share(reynolds(0.404, bore("1/2 in PEX min wall"), Water{}.at(313.15)), 4000, 0.01);
  expect_share(reynolds(2.15, bore("3/4 in copper M"), PropyleneGlycol(0.4).at(313.15)), 4000, 0.01);
}

// Cengel and Cimbala, Fluid Mechanics, example 8-7: two pipes side by side; answers as printed (three digits: loss 1.5 %).
TEST(Textbook, ParallelPipesOfCengelExample8_7) {
  Fluid const water{998, 1.002e-3, 4182, 0.6};
  for (auto const& [flow, diameter] : {std::pair{0.00415, 0.04}, {0.0259, 0.08}})
    expect_share(pipe_loss(flow * 998, 36, diameter, 4.5e-5, 0, water) / (998 * 9.81), 11.1, 0.015);
}

// Cengel and Cimbala, example 8-9: a shower and a toilet, 200 kPa at the inlet; printed flows, 1 % (loss 2 %).
TEST(Textbook, ShowerAndToiletOfCengelExample8_9) {
  double const rho = 998, d = 0.015, rough = 1.5e-6;
  Fluid const water{rho, 1.004e-6 * rho, 4182, 0.6};
  auto const loss = [&](double litres, double length, double k) {
    return pipe_loss(litres * 1e-3 * rho, length, d, rough, k, water) / (rho * 9.81);
  };
  double const inlet = 200e3 / (rho * 9.81);
  expect_share(loss(0.53, 5 + 6, 24.7) + 2, inlet, 0.02);
  expect_share(loss(0.90, 5, 0) + loss(0.42, 6, 24.7) + 2, inlet, 0.02);
  expect_share(loss(0.90, 5, 0) + loss(0.48, 1, 26.9) + 1, inlet, 0.02);
}

// White, Fluid Mechanics, three pipes in series and in parallel, loss 20.3 m; printed flows from memory, 0.5 % (loss 1 %).
TEST(Textbook, ThreePipesOfWhite) {
  double const rho = 1000;
  Fluid const water{rho, 1.02e-6 * rho, 4182, 0.6};
  struct { double length, diameter, roughness, parallel; } const pipes[]{
      {100, .08, .003, 62.5}, {150, .06, .002, 25.9}, {80, .04, .005, 11.4}};
  double series = 0;
  for (auto const& p : pipes) {
    auto const loss = [&](double m3_per_hour) {
      return pipe_loss(m3_per_hour / 3600 * rho, p.length, p.diameter, p.roughness * p.diameter, 0, water) / (rho * 9.81);
    };
    expect_share(loss(p.parallel), 20.3, 0.01);
    series += loss(10.2);
  }
  expect_share(series, 20.3, 0.01);
}

// A circulator H = 5.0 − 0.6·Q² on one main and three branches, solved with python3-fluids and scipy.
TEST(Network, BranchesOfOneMainShareOneHead) {
  auto const water = Water{}.at(333.15);
  auto const head = [&](double m3_per_hour, char const* size, double length, double k) {
    double const flow = m3_per_hour / 3600 * water.density, bore = find_pipe_size(size)->inside_diameter;
    return pipe_loss(flow, length, bore, 1.5e-6, k, water) / (water.density * gravity);
  };
  auto const branches_open = [&](double total, double supplied, std::initializer_list<std::array<double, 3>> branches) {
    expect_share(5.0 - 0.6 * total * total, supplied, 0.005);
    double const left = supplied - head(total, "1 in copper M", 20, 6);
    for (auto const& [flow, length, k] : branches) expect_share(head(flow, "3/4 in copper M", length, k), left, 0.01);
  };
  branches_open(2.1161, 2.3134, {{.8321, 30, 12}, {.6877, 45, 14}, {.5962, 60, 16}});
  branches_open(1.9324, 2.7595, {{1.0570, 30, 12}, {.8754, 45, 14}});
}

// Published bores: ASTM B88 and ASME B36.10M from public charts (0.5 %), PEX as printed by public tables (2 %); content
// in US gallons per 100 ft computed from them.
TEST(PipeSize, BoresAndContentsAreThePublishedOnes) {
  struct { char const* name; double inches, share; } const bores[]{
      {"1/2 in copper L", .545, .005}, {"3/4 in copper L", .785, .005},
      {"1 in copper M", 1.055, .005},   {"2 in copper M", 2.009, .005},      {"1/2 in PEX", .475, .02}, {"1/2 in PEX min wall", .485, .02},
      {"1 in steel 40", 1.049, .005},   {"1-1/4 in steel 40", 1.380, .005},  {"2 in steel 40", 2.067, .005}};
  for (auto const& b : bores) expect_share(find_pipe_size(b.name).value().inside_diameter, b.inches * 0.0254, b.share);
  struct { char const* name; double gallons, share; } const contents[]{{"1/2 in copper M", 1.321, .01}, {"3/4 in copper M", 2.683, .01},
      {"1 in copper M", 4.541, .01}, {"1/2 in PEX", .92, .03}, {"3/4 in PEX", 1.83, .03}, {"1-1/4 in steel 40", 7.770, .01}};
  for (auto const& c : contents) {
    double const bore = find_pipe_size(c.name)->inside_diameter;
    expect_share(std::numbers::pi / 4 * bore * bore * hundred_feet / 3.785411784e-3, c.gallons, c.share);
  }
}

// Water and wall of 3/4 in copper L hold 1550 J/(m·K); closed form, water at 55 °C.
TEST(PipeSize, WallStoresItsShareOfTheHeat) {
  auto const size = find_pipe_size("3/4 in copper L").value();
  auto const water = Water{}.at(328.15);
  double const content = std::numbers::pi / 4 * size.inside_diameter * size.inside_diameter * water.density * water.heat_capacity;
  expect_share(content + size.wall_heat_capacity_per_length, 1550, 0.005);
}

// Pump handbook, tables 3.7 to 3.11 (public copy); 77 Ill. Adm. Code 890 appendix A table Q (public text).
TEST(Fittings, AreThoseOfTheirSources) {
  auto const screwed = [](char const* fitting, char const* size) {
    return fitting_k(FittingSource::screwed, fitting, size, 0.03, 0.02).value();
  };
  EXPECT_DOUBLE_EQ(screwed("elbow", "1/2"), 2.1);
  EXPECT_DOUBLE_EQ(screwed("elbow", "2"), 1.0);
  EXPECT_DOUBLE_EQ(screwed("elbow 45", "1"), 0.33);
  EXPECT_DOUBLE_EQ(screwed("tee branch", "1-1/4"), 1.7);
  EXPECT_DOUBLE_EQ(screwed("tee through", "3/4"), 0.90);
  EXPECT_DOUBLE_EQ(screwed("globe valve", "1/2"), 14);
  EXPECT_DOUBLE_EQ(screwed("gate valve", "1-1/2"), 0.20);
  EXPECT_DOUBLE_EQ(screwed("inlet square", "1"), 0.5);
  auto const feet = [](char const* fitting, char const* size) {  // from K = f·L/D
    return fitting_k(FittingSource::equivalent_length, fitting, size, 0.025, 0.0254).value() * 0.0254 / 0.025 / 0.3048;
  };
  EXPECT_NEAR(feet("elbow", "3/4"), 1, 1e-12);
  EXPECT_NEAR(feet("elbow", "2"), 2, 1e-12);
  EXPECT_NEAR(feet("tee branch", "1"), 3, 1e-12);
  EXPECT_NEAR(feet("tee through", "1/2"), 0.5, 1e-12);
  EXPECT_NEAR(feet("cast elbow", "1-1/2"), 8, 1e-12);
  EXPECT_NEAR(feet("globe valve", "2"), 90, 1e-12);
}

// Technical Paper 410, K = 30·fT and 60·fT, from memory: sources differ by a factor of 2 to 3.
TEST(Fittings, LieWithinAFactorOfThreeOfTechnicalPaper410) {
  struct { char const* size; double fully_rough; } const rows[]{{"3/4", .025}, {"1", .023}, {"1-1/4", .022}, {"1-1/2", .021}, {"2", .019}};
  for (auto const& row : rows)
    for (auto const& [fitting, n] : {std::pair{"elbow", 30}, {"tee branch", 60}}) {
      double const k = fitting_k(FittingSource::screwed, fitting, row.size, 0, 1).value() / (n * row.fully_rough);
      EXPECT_GT(k, 1 / 3.);
      EXPECT_LT(k, 3);
    }
}

// K = 891·d⁴/Cv² (d in inches) gives 3.852 for Cv 10 in 3/4 in copper M, and 6 gpm through Cv 4.6 takes 1.701 psi: closed forms,
// water of 60 °F.
TEST(Valve, CvFollowsItsDefinition) {
  Fluid const water{999, 1.1e-3, 4186, 0.59};
  expect_share(cv_to_loss(6 * gpm * 999, 4.6, water) / 6894.757, 1.701, 0.0005);
  expect_share(kv_loss(999 / 3600., 1.0, water), 1e5, 1e-9);  // 1 m³/h through Kv 1
  double const bore = 0.811 * 0.0254, speed = 6 * gpm / (std::numbers::pi / 4 * bore * bore);
  expect_share(cv_to_loss(6 * gpm * 999, 10, water) / (999 * speed * speed / 2), 3.852, 0.002);
}

}  // namespace
}  // namespace steadyfire
