// Heat lost by pipes against closed forms and a published table.

#include <gtest/gtest.h>

#include <cmath>

#include "models/insulation.hpp"

namespace steadyfire {
namespace {

constexpr double inch = 0.0254;
void expect_share(double found, double expected, double share) { EXPECT_NEAR(found, expected, share * std::abs(expected)); }

// Closed form, worked elsewhere.
TEST(PipeHeatLoss, InsulatedFollowsTheClosedForm) {
  expect_share(40 * insulated_loss_per_metre(0.875 * inch, 12.7e-3, 0.036, 9), 9.728, 0.005);
  expect_share(40 * insulated_loss_per_metre(0.875 * inch, 25.4e-3, 0.036, 9), 6.965, 0.005);
  expect_share(60 * insulated_loss_per_metre(1.315 * inch, 25.4e-3, 0.040, 9), 14.638, 0.005);
}

// Churchill–Chu and radiation in air of 21.1 °C, computed elsewhere; 15 %.
TEST(PipeHeatLoss, BareCopperAgreesWithChurchillAndChu) {
  struct { double emissivity, t, loss; } const rows[]{{.5, 50, 20.2},  {.5, 60, 29.0},   {.5, 82.2, 50.6}, {.05, 50, 14.2}, {.05, 60, 20.4},
                                                      {.05, 82.2, 35.6}, {.8, 50, 24.3}, {.8, 60, 34.7},   {.8, 82.2, 60.6}};
  for (auto const& row : rows)
    expect_share((row.t - 21.1) * bare_loss_per_metre(0.875 * inch, row.emissivity, row.t + 273.15, 294.25), row.loss, 0.15);
}

// A guide of 1941, table 6 (public scan): bare steel in air of 70 °F, Btu/(h·ft·°F); 10 %.
TEST(PipeHeatLoss, BareSteelAgreesWithTheGuideOf1941) {
  struct { double outside, degF, loss; } const rows[]{
      {.840, 120, .455}, {1.050, 120, .555}, {1.315, 120, .684}, {1.660, 120, .847}, {1.315, 180, .819}};
  for (auto const& row : rows) {
    double const found = bare_loss_per_metre(row.outside * inch, 0.9, (row.degF + 459.67) / 1.8, (70 + 459.67) / 1.8);
    expect_share(found / (1055.056 / 3600 * 1.8 / 0.3048), row.loss, 0.10);
  }
}

// The same guide, table 7: bright copper tube. It lies a fifth below Churchill and Chu, whose own scatter is 15 %; 25 %.
TEST(PipeHeatLoss, BareBrightCopperAgreesWithTheGuideOf1941) {
  struct { double outside, degF, loss; } const rows[]{{.625, 120, .180}, {.875, 120, .236}, {1.125, 120, .290}, {1.375, 120, .340},
                                                      {.625, 150, .210}, {.875, 150, .275}, {1.125, 150, .338}, {1.375, 150, .400}};
  for (auto const& row : rows) {
    double const found = bare_loss_per_metre(row.outside * inch, 0.05, (row.degF + 459.67) / 1.8, (70 + 459.67) / 1.8);
    expect_share(found / (1055.056 / 3600 * 1.8 / 0.3048), row.loss, 0.25);
  }
}

// What a run uses: a power of the excess, against the same table at each of its temperatures, by 3/4 in and 1 in steel.
TEST(PipeHeatLoss, BareSteelAsAPowerOfItsExcessAgreesWithTheGuideOf1941) {
  struct { double outside, excess, loss; } const rows[]{{1.050, 50, .555}, {1.050, 80, .605}, {1.050, 110, .666}, {1.050, 140, .715},
                                                        {1.315, 50, .684}, {1.315, 80, .743}, {1.315, 110, .819}, {1.315, 140, .877}};
  for (auto const& row : rows) {
    double const watts = BarePipeLoss(row.outside * inch, 0.9)(row.excess / 1.8);
    expect_share(watts / 0.96152 / row.excess, row.loss, 0.10);  // 1 Btu/(h·ft) is 0.96152 W/m
  }
}
TEST(PipeHeatLoss, AsAPowerItIsNearTheFullFormula) {
  for (double const emissivity : {0.05, 0.5, 0.9})
    for (double const excess : {6., 20., 40., 80.})
      for (double const around : {283.15, 293.15, 303.15})
        expect_share(BarePipeLoss(0.022, emissivity)(excess),
                     excess * bare_loss_per_metre(0.022, emissivity, around + excess, around), 0.09);
}

}  // namespace
}  // namespace steadyfire
