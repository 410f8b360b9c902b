/// Published days of draws against their published totals.

#include <gtest/gtest.h>

#include <cmath>

#include "models/fluid/water.hpp"
#include "models/hot_water/draw_patterns.hpp"
#include "sim/core/quantity.hpp"

using namespace steadyfire;

namespace {

double energy_above_cold(std::vector<Draw> const& draws) {
  Water const water;
  double sum = 0;
  for (auto const& d : draws) {
    auto const w = water.at((d.temperature + tapping_cold) / 2);
    sum += w.density * w.heat_capacity * d.volume * (d.temperature - tapping_cold);
  }
  return sum;
}
double volume(std::vector<Draw> const& draws) {
  double sum = 0;
  for (auto const& d : draws) sum += d.volume;
  return sum;
}
void expect_one_after_another(std::vector<Draw> const& draws) {
  for (std::size_t i = 0; i < draws.size(); ++i) {
    double const end = draws[i].start + draws[i].volume / draws[i].flow;
    EXPECT_LE(end, i + 1 < draws.size() ? draws[i + 1].start : 86400) << "draw " << i;
  }
}

struct Published { TappingProfile profile; double kWh; std::size_t draws; };

}  // namespace

/// Commission Regulation (EU) No 814/2013, Annex III, table 1: rows "Q_ref", and the rows counted.
TEST(TappingProfiles, EnergyIsTheReferenceEnergyOfTheRegulation) {
  using P = TappingProfile;
  for (auto const& [profile, kWh, count] : {Published{P::xxxs, 0.345, 23},
                                            {P::xxs, 2.1, 20},
                                            {P::xs, 2.1, 3},
                                            {P::s, 2.1, 11},
                                            {P::m, 5.845, 23},
                                            {P::l, 11.655, 24},
                                            {P::xl, 19.07, 30},
                                            {P::xxl, 24.53, 30}}) {
    auto const draws = draws_of(profile);
    EXPECT_EQ(draws.size(), count) << kWh;
    EXPECT_NEAR(energy_above_cold(draws) / 3.6e6, kWh, 1e-9);
    EXPECT_DOUBLE_EQ(reference_energy(profile), kWh * 3.6e6);
    expect_one_after_another(draws);
  }
}

TEST(TappingProfiles, WantedIsThePeakOrWarmEnoughToCount) {
  for (int p = 0; p < 8; ++p)
    for (auto const& d : draws_of(TappingProfile(p))) {
      EXPECT_GE(d.temperature, 273.15 + 40);
      if (!std::isnan(d.useful_from)) {
        EXPECT_GE(d.temperature, d.useful_from + 2);
      }
      EXPECT_GE(d.start, 7 * 3600) << "the regulation draws nothing before 07:00";
    }
  auto const m = draws_of(TappingProfile::m);
  EXPECT_DOUBLE_EQ(m[12].start, 12 * 3600 + 45 * 60);
  EXPECT_DOUBLE_EQ(m[12].temperature, 273.15 + 55);  // dish washing
  EXPECT_TRUE(std::isnan(m[12].useful_from));        // T_m is cold water itself: all of it counts
  EXPECT_DOUBLE_EQ(m[1].useful_from, 273.15 + 40);   // shower
}

/// A bath of profile XL: 4.42 kWh from 10 to 40 °C is 127 L (4.42/(1.163·30) with 1 kg/L), a quarter of an hour at 10 L/min.
TEST(TappingProfiles, ABathIsTheVolumeThatItsEnergyHeats) {
  auto const bath = draws_of(TappingProfile::xl)[3];
  EXPECT_NEAR(bath.volume * 1e3, 4.42 / (1.163 * 30) * 1e3, 0.8);
  EXPECT_NEAR(bath.flow * 6e4, 10, 1e-9);
}

/// 10 CFR part 430, subpart B, appendix E: 10, 38, 55 and 84 gal a day (from memory), 9, 11, 12 and 14 draws.
TEST(DrawPatterns, VolumesAreThePublishedSums) {
  double const gallons[]{10, 38, 55, 84};
  std::size_t const counts[]{9, 11, 12, 14};
  for (int p = 0; p < 4; ++p) {
    auto const draws = draws_of(DrawPattern(p));
    EXPECT_EQ(draws.size(), counts[p]);
    EXPECT_NEAR(volume(draws) / unit::gallon_m3, gallons[p], 1e-9);
    expect_one_after_another(draws);
    for (auto const& d : draws) EXPECT_NEAR(AnyUnit(unit::degF).from_si(d.temperature), 125, 1e-9);
  }
}
