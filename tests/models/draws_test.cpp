#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "models/hot_water/draws_file.hpp"
#include "models/hot_water/family_days.hpp"
#include "sim/core/diagnostic.hpp"
#include "sim/core/quantity.hpp"

using namespace steadyfire;
using testing::HasSubstr;

namespace {

Family four_people(std::uint64_t seed) {
  return {4, unit::gallon.to_si(18), {1.3e-4, 2.5e-4, 1e-4, 0.8e-4}, seed};
}
std::vector<std::string> const taps{"kitchen", "shower"};
std::vector<DrawList> parsed(std::string const& text, double clock = 0) { return parse_draws(text, "draws.csv", taps, clock); }
std::string fault(std::string const& text) {
  try {
    parsed(text);
  } catch (BadInput const& e) {
    return e.what();
  }
  return "no fault";
}

}  // namespace

TEST(FamilyDays, TheSameSeedGivesTheSameDaysAndAnotherOthers) {
  auto const a = family_days(four_people(7), 10), b = family_days(four_people(7), 10), c = family_days(four_people(8), 10);
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) EXPECT_EQ(a[i].draw.start, b[i].draw.start);
  EXPECT_NE(a.front().draw.start, c.front().draw.start);
}

/// The engine's numbers are fixed by the C++ standard, our transforms by IEEE arithmetic: these digits hold on every machine.
TEST(FamilyDays, AreTheSameOnEveryMachine) {
  std::mt19937_64 engine{5489};
  engine.discard(9999);
  EXPECT_EQ(engine(), 9981545732273789042ull);  // [rand.predef] of the standard
}

TEST(FamilyDays, LongerRunsBeginWithTheSameDays) {
  auto const three = family_days(four_people(1), 3), nine = family_days(four_people(1), 9);
  for (std::size_t i = 0; i < three.size(); ++i) EXPECT_EQ(three[i].draw.volume, nine[i].draw.volume);
}

/// Of 2000 days the mean is off by chance: a person's day has a standard deviation of about half its mean, so 0.6 % for
/// 8000 of them; four times that is allowed.
TEST(FamilyDays, TheMeanVolumeIsWhatIsStated) {
  int const days = 2000;
  double sum = 0, previous = 0;
  for (auto const& [fixture, d] : family_days(four_people(3), days)) {
    sum += d.volume;
    EXPECT_GE(d.start, previous);
    previous = d.start;
  }
  EXPECT_LT(previous, 86400. * days);
  EXPECT_NEAR(sum / unit::gallon_m3 / (4 * days), 18, 18 * 0.025);
}

TEST(DrawsFile, IsReadInItsOwnUnits) {
  auto const lists = parsed("tap,time,flow [gpm],temperature [degF],volume [gal]\nshower,07:30,2.0,105,16\nkitchen,12:05:30,1.5,110,1.2\n"
                            "shower,06:00,2.0,105,10\n");
  ASSERT_EQ(lists.size(), 2u);
  EXPECT_FALSE(lists[1].absolute);
  ASSERT_EQ(lists[1].draws.size(), 2u);
  EXPECT_DOUBLE_EQ(lists[1].draws[0].start, 6 * 3600);  // sorted
  EXPECT_NEAR(lists[1].draws[1].volume, 16 * unit::gallon_m3, 1e-12);
  EXPECT_NEAR(lists[0].draws[0].temperature, unit::degF.to_si(110), 1e-9);
  EXPECT_DOUBLE_EQ(lists[0].draws[0].start, 12 * 3600 + 330);
  EXPECT_TRUE(std::isnan(lists[0].draws[0].useful_from));
}

TEST(DrawsFile, DurationStandsForVolumeAndTheFirstTapForNone) {
  auto const lists = parsed("time,flow [L/min],temperature [degC],duration [min]\n7:05,8,40,6\n");
  EXPECT_NEAR(lists[0].draws[0].volume, 0.048, 1e-12);
  EXPECT_TRUE(lists[1].draws.empty());
}

TEST(DrawsFile, DaysCountFromTheStartOfTheRun) {
  auto const lists =
      parsed("day,time,flow [gpm],temperature [degF],volume [gal]\n1,05:00,1,100,1\n1,07:00,1,100,1\n3,06:00,1,100,1\n", 6 * 3600);
  EXPECT_TRUE(lists[0].absolute);
  ASSERT_EQ(lists[0].draws.size(), 2u) << "what lies before the start is left out";
  EXPECT_DOUBLE_EQ(lists[0].draws[0].start, 3600);
  EXPECT_DOUBLE_EQ(lists[0].draws[1].start, 2 * 86400);
}

TEST(DrawsFile, TellsWhatIsWrongWithIt) {
  std::string const head = "tap,time,flow [gpm],temperature [degF],volume [gal]\n";
  EXPECT_THAT(fault(""), HasSubstr("E303"));
  EXPECT_THAT(fault("tap,time,flow [gpm],volume [gal]\n"), HasSubstr("E303"));
  EXPECT_THAT(fault("time,flow,temperature [degF],volume [gal]\n"), HasSubstr("column 'flow' has no unit"));
  EXPECT_THAT(fault("time,flow [degF],temperature [degF],volume [gal]\n"), HasSubstr("E317"));
  EXPECT_THAT(fault(head + "shower,7.30,2,105,16\n"), HasSubstr("draws.csv:2:8: error[E306]: '7.30' is not a time of day"));
  EXPECT_THAT(fault(head + "shower,24:30,2,105,16\n"), HasSubstr("E306"));
  EXPECT_THAT(fault(head + "shower,07:30,two,105,16\n"), HasSubstr("'two' is not a number in column 'flow'"));
  EXPECT_THAT(fault(head + "shower,07:30,0,105,16\n"), HasSubstr("E318"));
  EXPECT_THAT(fault(head + "shower,07:30,2,40,16\n"), HasSubstr("check the unit of this column"));
  EXPECT_THAT(fault(head + "showr,07:30,2,105,16\n"), HasSubstr("did you mean 'shower'?"));
  EXPECT_THAT(fault(head + "shower,07:30,2\n"), HasSubstr("E305"));
  EXPECT_THAT(fault(head + "shower,07:30,2,105,16\nshower,07:35,2,105,16\n"), HasSubstr("E319"));
  EXPECT_THAT(fault(head + "shower,23:59,2,105,16\nshower,00:01,2,105,16\n"), HasSubstr("E319")) << "the next day's first";
  EXPECT_THAT(fault(head + "shower,07:30,0,105,16\nshower,08:30,0,105,16\n"), HasSubstr("(and 1 more row)"));
  EXPECT_EQ(fault(head + "shower,07:30,2,105,16\n"), "no fault");
}
