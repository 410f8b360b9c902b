#include <gtest/gtest.h>

#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

// The independent check: the same equations by another method (variable-order BDF with KLU) a hundred times finer. A day on which
// every start is met clearly is compared point by point. Where one is just met or missed all that follows shifts, so that two such
// runs differ by half a degree: of the four-zone house the first hours are held closely, the day by its means, and many days by
// their means and scatter in a longer test.
TEST(QuietDay, FollowsCvode) {
  auto const project = whole_run::shipped("ghost_flow");
  MarchOptions fine;
  fine.by_cvode = true, fine.tolerance = fine.guarded_tolerance = 1e-4;
  auto const got = whole_run::march(project, 24, {}), wanted = whole_run::march(project, 24, fine);
  EXPECT_EQ(got.starts, wanted.starts);
  EXPECT_NEAR(got.fuel - got.stored, wanted.fuel - wanted.stored, 2e-4 * wanted.fuel);
  for (std::size_t hour = 0; hour < wanted.hourly.size(); ++hour)
    for (std::size_t z = 0; z < wanted.hourly[hour].size(); ++z)
      EXPECT_NEAR(got.hourly[hour][z], wanted.hourly[hour][z], 0.02) << "zone " << z << " after " << hour + 1 << " h";
}

TEST(FourZoneDay, FollowsCvode) {
  auto const project = whole_run::shipped("four_zone_house");
  MarchOptions fine;
  fine.by_cvode = true, fine.tolerance = fine.guarded_tolerance = 1e-4;
  auto const got = whole_run::march(project, 24, {}), wanted = whole_run::march(project, 24, fine);
  double constexpr scatter = 3;  // of the starts of such days [1/d]: its standard deviation
  EXPECT_NEAR(double(got.starts), double(wanted.starts), 3 * scatter);
  EXPECT_NEAR(got.fuel - got.stored, wanted.fuel - wanted.stored, 3e-3 * wanted.fuel);
  std::size_t constexpr together = 3;
  for (std::size_t z = 0; z < wanted.hourly[0].size(); ++z) {
    double mean_got = 0, mean_wanted = 0;
    for (std::size_t hour = 0; hour < wanted.hourly.size(); ++hour) {
      double const here = got.hourly[hour][z], there = wanted.hourly[hour][z];
      if (hour < together) EXPECT_NEAR(here, there, 0.05) << "zone " << z << " after " << hour + 1 << " h";
      mean_got += here / 24, mean_wanted += there / 24;
    }
    EXPECT_NEAR(mean_got, mean_wanted, 0.3) << "zone " << z;  // of 24 moments, each somewhere in its cycle of 1 K
  }
}

class Shipped : public testing::TestWithParam<char const*> {};

// Energy is entered with both its ends, so it closes to rounding.
TEST_P(Shipped, EnergyClosesToRounding) {
  auto const out = whole_run::march(whole_run::shipped(GetParam()), 24, {});
  EXPECT_LT(std::abs(out.closure), 1e-10);
  EXPECT_GT(out.fuel, 1e6);
}
INSTANTIATE_TEST_SUITE_P(Scenarios, Shipped,
                         testing::Values("four_zone_house", "oversized_burner", "workshop_slab", "workshop_slab_reset",
                                         "workshop_slab_gains", "workshop_slab_gains_reset", "cold_coast_year", "two_boilers",
                                         "workshop_behind_plates", "twelve_zones", "many_emitters", "slab_beside_fin_tube",
                                         "straight_through", "manifold_floors", "single_pipe", "reverse_return", "series_with_bypass",
                                         "ghost_flow", "buffer_two_pipes", "buffer_three_pipes", "direct_return"),
                         [](auto const& info) { return std::string(info.param); });

// Same input, same output: two runs agree to the last digit.
TEST(FourZoneDay, RepeatsToTheLastDigit) {
  auto const project = whole_run::shipped("four_zone_house");
  auto const once = whole_run::march(project, 6, {}), again = whole_run::march(project, 6, {});
  EXPECT_EQ(once.fuel, again.fuel);
  EXPECT_EQ(once.hourly, again.hourly);
}

}  // namespace
}  // namespace steadyfire
