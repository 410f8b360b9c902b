/// What a maker's sheet says of hot water, against the trade's rule.

#include "models/hot_water/maker_rating.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/boiler.hpp"
#include "models/hot_water/deliverable.hpp"
#include "tests/models/job_of.hpp"

using namespace steadyfire;

namespace {

BoilerData sheet(double input, double efficiency, double flow, double rise) {
  BoilerData b{};
  b.heating_input = {unit::kBtu_per_hour.to_si(80)}, b.dhw_input = {unit::kBtu_per_hour.to_si(input)}, b.dhw_efficiency = {efficiency};
  b.dhw_rated_flow = {unit::gpm.to_si(flow)}, b.dhw_rated_rise = {unit::degF_change.to_si(rise)};
  return b;
}

}  // namespace

/// 500·5.1·74 = 188.7 kBtu/h (the trade's rule, within 0.3 % of real water) of 199: 94.8 %.
TEST(MakerRating, FlowThroughARiseIsAShareOfTheInput) {
  EXPECT_NEAR(rated_share(sheet(199, NAN, 5.1, 74)), 188.7 / 199, 0.003);
  EXPECT_EQ(rated_share(sheet(199, 0.95, NAN, NAN)), 0.95);
  EXPECT_TRUE(std::isnan(rated_share(sheet(199, NAN, NAN, NAN))));
}

/// The same heat through 80 °F: 5.1·74/80 = 4.72 gpm.
TEST(MakerRating, AnotherRiseGetsAnotherFlow) {
  double const heat = rated_share(sheet(199, NAN, 5.1, 74)) * unit::kBtu_per_hour.to_si(199);
  EXPECT_NEAR(flow_for(heat, unit::degF.to_si(40), unit::degF.to_si(120)) / unit::gpm.scale, 5.1 * 74 / 80, 0.01);
}

/// An input that is exchanged for another keeps the share that the maker rates, not the flow.
TEST(MakerRating, AsAShareItGoesWithOtherInputs) {
  JobOf const job{R"(format = 1
title = "A combi boiler"
[site]
outdoor_design = "0 degF"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "16 kBtu/h"
dhw_input = "199 kBtu/h"
dhw_rated_flow = "5.1 gpm"
dhw_rated_rise = "74 degF"
[near_boiler]
arrangement = "closely spaced tees"
[hot_water]
[[tap]]
name = "tap"
[[zone]]
name = "room"
design_load = "14 kBtu/h"
floor_area = "600 ft2"
emitter = { kind = "panel radiator", output = "22 kBtu/h" }
)"};
  Entry boiler = *job.document().find("boiler");
  rate_by_share(boiler);
  value_of<&BoilerData::dhw_input>(boiler).numbers = {unit::kBtu_per_hour.to_si(100)};
  EXPECT_NEAR(rated_share(fill<Boiler>(boiler.values)), 188.7 / 199, 0.003);
}
