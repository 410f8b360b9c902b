#include "sim/record/reasons.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <regex>

namespace steadyfire {
namespace {

/// A boiler that is right at the top and too big at the bottom.
ReasonFigures too_big_below() {
  ReasonFigures f;
  f.output_least = 5158, f.output_most = 21700;  // 17.6 and 74 kBtu/h
  f.design_load = 18170, f.smallest_zone = "bath", f.smallest_design_load = 1172, f.smallest_load = 586;
  f.water = 9.84e-3, f.heat_capacity = 49.5e3, f.differential = 20 / 1.8;
  f.flow = 1.262e-4, f.capacity_rate = 518;
  f.starts = 120, f.burns = 120, f.starts_per_hour_worst = 9, f.burn_median = 125, f.duration = 86400;
  return f;
}

/// All numbers in a sentence, in order.
std::vector<double> numbers(std::string const& text) {
  static std::regex const number{R"((^|[ (])(-?\d+(\.\d+)?))"};
  std::vector<double> found;
  for (std::sregex_iterator i{text.begin(), text.end(), number}, end; i != end; ++i) found.push_back(std::stod((*i)[2]));
  return found;
}
std::string sentence(Reasons const& reasons, std::string const& part) {
  for (auto const& w : reasons.words)
    if (w.find(part) != std::string::npos) return w;
  return "";
}
Finding const* finding(Reasons const& reasons, std::string const& id) {
  for (auto const& f : reasons.findings)
    if (f.id == id) return &f;
  return nullptr;
}

TEST(Reasons, WarmUpTimeFollowsFromTheNumbersInItsOwnSentence) {
  for (auto const units : {UnitSystem::us, UnitSystem::si})
    for (double const scale : {0.37, 1.0, 3.1}) {
      auto figures = too_big_below();
      figures.output_least *= scale, figures.heat_capacity *= 1.7 * scale, figures.water *= 1.7 * scale;
      auto const text = sentence(explain(figures, units), "the rest warms");
      auto const n = numbers(text);  // output, load, water, heat capacity, differential, time
      ASSERT_EQ(n.size(), 6u) << text;
      double const hours = units == UnitSystem::us ? n[3] * n[4] / (1000 * (n[0] - n[1]))  // Btu/degF · degF / (Btu/h)
                                                   : n[3] * n[4] / (n[0] - n[1]) / 3600;   // kJ/K · K / kW
      EXPECT_NEAR(hours * 60, n[5], 0.0501) << text;  // half of the last digit shown
    }
}

TEST(Reasons, OnePassRiseFollowsFromTheNumbersInItsOwnSentence) {
  for (auto const units : {UnitSystem::us, UnitSystem::si}) {
    auto const reasons = explain(too_big_below(), units);
    auto const text = sentence(reasons, "one pass");
    auto const n = numbers(text);  // flow, capacity rate, output, rise, percent, differential
    ASSERT_EQ(n.size(), 6u) << text;
    EXPECT_NEAR(n[2] / n[1], n[3], 0.0501) << text;
    EXPECT_NEAR(100 * n[3] / n[5], n[4], units == UnitSystem::us ? 0.501 : 0.501) << text;
    ASSERT_TRUE(finding(reasons, "burner.one_pass"));
    EXPECT_EQ(finding(reasons, "burner.one_pass")->words, text);
  }
}

TEST(Reasons, WaterAtTwoGallonsAMinuteCarriesOneThousandBtuAnHourADegree) {  // 500 · gpm: common practice, the trade's rule
  auto const n = numbers(sentence(explain(too_big_below(), UnitSystem::us), "one pass"));
  EXPECT_NEAR(n[1], 0.5 * n[0], 0.03 * n[1]);
}

TEST(Reasons, OnePassIsNoFindingBelowHalfTheDifferential) {
  auto figures = too_big_below();
  figures.capacity_rate *= 2, figures.flow *= 2;  // 5158/1036 = 4.98 K of 11.1 K
  auto const reasons = explain(figures, UnitSystem::us);
  EXPECT_EQ(finding(reasons, "burner.one_pass"), nullptr);
  EXPECT_EQ(sentence(reasons, "one pass"), "");
}

TEST(Reasons, ABoilerIsTooBigAtTheBottomOnlyWhereItsNumbersSaySo) {
  auto const text = sentence(explain(too_big_below(), UnitSystem::us), "isn't too big at the top");
  auto const n = numbers(text);  // most, design load, least, smallest load
  ASSERT_EQ(n.size(), 4u) << text;
  EXPECT_LE(n[0], 1.3 * n[1]);
  EXPECT_GT(n[2], n[3]);

  auto big = too_big_below();
  big.output_most *= 2;
  EXPECT_NE(sentence(explain(big, UnitSystem::us), "at both ends"), "");
  auto small = too_big_below();
  small.output_least = 1000;  // below the bath's 1172 W
  EXPECT_EQ(sentence(explain(small, UnitSystem::us), "too big"), "");
}

TEST(Reasons, AFireBelowTheSmallestLoadCanBurnWithoutStopping) {
  auto figures = too_big_below();
  figures.output_least = 500;
  auto const text = sentence(explain(figures, UnitSystem::us), "without stopping");
  auto const n = numbers(text);
  ASSERT_EQ(n.size(), 2u) << text;
  EXPECT_LE(n[0], n[1]);
}

TEST(Reasons, ShortBurnsAndManyStartsAreFoundAtTheirLimits) {
  auto figures = too_big_below();
  auto reasons = explain(figures, UnitSystem::us);
  ASSERT_TRUE(finding(reasons, "burner.short_burns"));
  ASSERT_TRUE(finding(reasons, "burner.many_starts"));
  EXPECT_EQ(sentence(reasons, "leave it alone"), "");

  figures.burn_median = figures.short_burn, figures.starts_per_hour_worst = figures.starts_limit;  // neither below nor above
  reasons = explain(figures, UnitSystem::us);
  EXPECT_FALSE(finding(reasons, "burner.short_burns"));
  EXPECT_FALSE(finding(reasons, "burner.many_starts"));
  EXPECT_TRUE(finding(reasons, "burner.burns_noted"));

  figures.burn_median = figures.note_burn;
  reasons = explain(figures, UnitSystem::us);
  EXPECT_FALSE(finding(reasons, "burner.burns_noted"));
  EXPECT_NE(sentence(reasons, "leave it alone"), "");
}

TEST(Reasons, WhatIsSaidOfBurnsHoldsByTheNumbersInTheSentence) {
  for (double const median : {100.0, 299.0, 301.0, 500.0, 599.0, 601.0, 2000.0})
    for (long const uncalled : {10L, 100L}) {
      auto figures = too_big_below();
      figures.burn_median = median, figures.starts_per_hour_worst = 5, figures.ended_uncalled = uncalled,
      figures.ended_hot = 120 - uncalled;
      auto const reasons = explain(figures, UnitSystem::us);
      if (auto const* f = finding(reasons, "burner.short_burns")) {
        auto const n = numbers(f->words);  // burns, median, limit
        ASSERT_EQ(n.size(), 3u) << f->words;
        EXPECT_LT(n[1], n[2]);
      } else if (auto const* noted = finding(reasons, "burner.burns_noted")) {
        auto const n = numbers(noted->words);  // burns, median, note limit, short limit
        ASSERT_EQ(n.size(), 4u) << noted->words;
        EXPECT_TRUE(n[3] <= n[1] && n[1] < n[2]) << noted->words;
      } else {
        auto const alone = numbers(sentence(reasons, "leave it alone"));  // burns, median, starts in an hour
        ASSERT_EQ(alone.size(), 3u);
        EXPECT_GE(alone[1], 10);
        EXPECT_LE(alone[2], figures.starts_limit);
      }
      auto const text = sentence(reasons, "with the last call");
      auto const n = numbers(text);  // burns, ended hot, ended with the call
      ASSERT_EQ(n.size(), 3u) << text;
      EXPECT_EQ(n[0], n[1] + n[2]);
      EXPECT_EQ(text.find("thermostats") != std::string::npos, 2 * n[2] > n[0] && median < 597);
    }
}

TEST(Reasons, WhereNothingBurntNothingIsFound) {
  auto figures = too_big_below();
  figures.starts = figures.burns = 0, figures.starts_per_hour_worst = 0, figures.burn_median = 0;
  auto const reasons = explain(figures, UnitSystem::us);
  EXPECT_TRUE(reasons.findings.empty());
  ASSERT_EQ(reasons.words.size(), 1u);
  EXPECT_EQ(reasons.words[0], "the burner never started in 24.0 h");
}

}  // namespace
}  // namespace steadyfire
