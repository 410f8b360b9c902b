// A vessel in layers against closed forms: stirred vessels in a row, conduction in a finite column, cooling of a lump.

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "models/tank.hpp"
#include "models/valve.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

Kind const kinds[]{kind<Tank>(), kind<Valve>()};

struct Column {
  int layers;
  Stand stand;
  Column(double litres, double height, int layers, double loss = 0)
      : layers{layers},
        stand{StandBuilder{kinds}
                  .add("valve", "inlet", {"in", "top"}, {{"cv", 10.}})
                  .add("tank", "tank", {"top", "bottom"},
                       {{"volume", litres / 1000}, {"height", height}, {"layers", double(layers)}, {"stirred", 0.}, {"standby_loss", loss}})
                  .add("valve", "outlet", {"bottom", "out"}, {{"cv", 10.}})
                  .build()} {}
  Place layer(int i) const { return i == 0 ? stand.joint("top") : i == layers - 1 ? stand.joint("bottom") : stand.cell("tank", i - 1); }
  double capacity(int i) const { return stand.plan.capacity[layer(i)]; }
  double heat() {
    double sum = 0;
    for (int i = 0; i < layers; ++i) sum += capacity(i) * stand[layer(i)];
    return sum;
  }
};

// N stirred vessels in a row, a step at the first: 1 − e^(−x)·Σ_{k<N} x^k/k!,  x = N·t/τ (O. Levenspiel, Chemical
// Reaction Engineering, tanks in series; the closed form is exact). The joints' 5 g stand for the 2e-3.
TEST(StratifiedTank, AFrontPassesAsThroughStirredVesselsInARow) {
  for (int const layers : {2, 5, 12}) {
    Column c{100, 20, layers};  // so tall that nothing is conducted
    c.stand.hold(c.stand.joint("in"), celsius(60));
    for (int i = 0; i < layers; ++i) c.stand[c.layer(i)] = celsius(20);
    double const flow = 0.1, tau = 0.1 * c.stand.plan.fluid.density / flow;
    for (char const* piece : {"inlet", "tank", "outlet"}) c.stand.flow(piece, flow);
    double time = 0;
    for (double const share : {0.5, 0.8, 1.0, 1.3}) {
      c.stand.advance(share * tau - time, 300), time = share * tau;
      double const x = layers * share;
      double sum = 0, term = 1;
      for (int k = 0; k < layers; ++k) sum += term, term *= x / (k + 1);
      EXPECT_NEAR((c.stand[c.layer(layers - 1)] - celsius(20)) / 40, 1 - std::exp(-x) * sum, 2e-3) << layers << " layers at " << share;
    }
  }
}

// Fourier series of a column with insulated ends, hot above and cool below (Carslaw and Jaeger, Conduction of Heat in
// Solids, section 3.3): T = mean + (2Δ/π)·Σ (−1)^m/(2m+1)·cos((2m+1)πx/L)·exp(−a((2m+1)π/L)²t).
TEST(StratifiedTank, ItsThermoclineWidensByConduction) {
  int const layers = 40;
  Column c{200, 1, layers};
  for (int i = 0; i < layers; ++i) c.stand[c.layer(i)] = celsius(i < layers / 2 ? 60 : 20);
  auto const& water = c.stand.plan.fluid;
  double const a = water.conductivity / (water.density * water.heat_capacity), time = 18 * 3600;
  c.stand.advance(time, 200);
  for (int i = 0; i < layers; ++i) {
    double const x = (i + 0.5) / layers;
    double sum = 0;
    for (int m = 0; m < 60; ++m) {
      double const n = (2 * m + 1) * std::numbers::pi;
      sum += (m % 2 ? -1 : 1) / double(2 * m + 1) * std::cos(n * x) * std::exp(-a * n * n * time);
    }
    EXPECT_NEAR(c.stand[c.layer(i)], celsius(40 + 80 / std::numbers::pi * sum), 0.1) << i;
  }
}

// e^(−UA·t/C), a lump.
TEST(StratifiedTank, StandsCoolingAsALump) {
  Column c{150, 1, 8, 2.5};
  c.stand[given::unheated] = celsius(15);
  for (int i = 0; i < 8; ++i) c.stand[c.layer(i)] = celsius(65);
  double C = 0;
  for (int i = 0; i < 8; ++i) C += c.capacity(i);
  c.stand.advance(24 * 3600, 100);
  for (int i = 0; i < 8; ++i) EXPECT_NEAR(c.stand[c.layer(i)], celsius(15 + 50 * std::exp(-2.5 * 86400 / C)), 2e-3);
}

TEST(StratifiedTank, WarmWaterBelowComesUpAndNoHeatIsLost) {
  Column c{150, 1, 6};
  for (int i = 0; i < 6; ++i) c.stand[c.layer(i)] = celsius(20 + 8 * i);
  double const before = c.heat();
  c.stand.advance(7200, 400);
  EXPECT_NEAR(c.heat(), before, 1e-9 * before);
  for (int i = 0; i < 6; ++i) EXPECT_NEAR(c.stand[c.layer(i)], celsius(40), 0.05);
}

}  // namespace
}  // namespace steadyfire
