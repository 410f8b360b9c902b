#include "sim/record/reasons.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <regex>

#include "tests/told.hpp"

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
std::string sentence(ReasonFigures const& figures, std::string const& part, UnitSystem units = UnitSystem::us) {
  for (auto const& w : told(reasons(figures), units))
    if (w.find(part) != std::string::npos) return w;
  return "";
}
std::optional<Finding> finding(ReasonFigures const& figures, std::string const& id) {
  for (auto const& f : burner_findings(figures))
    if (f.id == id) return f;
  return {};
}

TEST(Reasons, BurnLengthFollowsFromTheNumbersInItsOwnSentence) {
  for (auto const units : {UnitSystem::us, UnitSystem::si})
    for (double const scale : {0.37, 1.0, 3.1}) {
      auto figures = too_big_below();
      figures.capacity_rate *= 3 * scale;  // so that one pass does not decide
      figures.output_least *= scale, figures.heat_capacity *= 1.7 * scale, figures.water *= 1.7 * scale;
      auto const text = sentence(figures, "The surplus heats", units);
      auto const n = numbers(text);  // output, load, water, heat capacity, differential, time
      ASSERT_EQ(n.size(), 6u) << text;
      double const hours = units == UnitSystem::us ? n[3] * n[4] / (1000 * (n[0] - n[1]))  // Btu/°F · °F / (Btu/h)
                                                   : n[3] * n[4] / (n[0] - n[1]) / 3600;   // kJ/°C · °C / kW
      EXPECT_NEAR(hours * 60, n[5], 0.0501) << text;  // half of the last digit shown
    }
}

TEST(Reasons, OnePassRiseFollowsFromTheNumbersInItsOwnSentence) {
  for (auto const units : {UnitSystem::us, UnitSystem::si}) {
    auto const found = finding(too_big_below(), "burner.one_pass");
    ASSERT_TRUE(found);
    auto const text = found->words.in(units);
    auto const n = numbers(text);  // rise, flow, percent, differential, limit in percent
    ASSERT_EQ(n.size(), 5u) << text;
    EXPECT_NEAR(100 * n[0] / n[3], n[2], 1.0) << text;
    EXPECT_GT(n[2], n[4]) << text;
    double const rise = 5158 / 518.;  // [K] by hand: least output over the flow's heat capacity rate
    EXPECT_NEAR(n[0], units == UnitSystem::us ? 1.8 * rise : rise, 0.0501) << text;
    EXPECT_EQ(sentence(too_big_below(), "temperature rise", units), "");  // told once, as a finding
  }
}

/// 9.96 K a pass of a differential of 11.1 K: the closed form for mixed water would promise a burn that nobody sees.
TEST(Reasons, WhereOnePassDecidesTheMixedWaterFigureIsSaidNotToApply) {
  auto const text = sentence(too_big_below(), "one pass through the boiler");
  EXPECT_THAT(text, testing::HasSubstr("does not apply"));
  EXPECT_EQ(sentence(too_big_below(), "The surplus heats"), "");
  EXPECT_EQ(finding(too_big_below(), "burner.one_pass")->severity, Severity::serious);
  auto fine = too_big_below();
  fine.burn_median = fine.note_burn, fine.starts_per_hour_worst = fine.starts_limit;
  EXPECT_EQ(finding(fine, "burner.one_pass")->severity, Severity::minor);
}

TEST(Reasons, EachEndOfABurnIsToldWithWhoHadToDoWithIt) {
  auto figures = too_big_below();
  figures.ends = {{BurnEnd::stop_point, "bath", 60},
                  {BurnEnd::target_dropped, "rooms", 40},
                  {BurnEnd::stop_point, "bath, rooms", 12},
                  {BurnEnd::tank, "storage", 5},
                  {BurnEnd::high_limit, "rooms", 3}};
  EXPECT_EQ(
      sentence(figures, "Of 120 burns"),
      "Of 120 burns, 72 ended at the off temperature (bath calling 60; bath, rooms calling 12), 40 because the target dropped when a call "
      "ended (rooms), 5 when the tank was hot (storage), 3 at the high limit (rooms calling).");
  EXPECT_NE(sentence(figures, "target drops below the water"), "");  // a third of them
  auto const limit = finding(figures, "burner.high_limit");
  ASSERT_TRUE(limit);
  EXPECT_EQ(numbers(us(limit->words)), (std::vector<double>{3, 120}));
  figures.ends.pop_back();
  EXPECT_FALSE(finding(figures, "burner.high_limit"));
}

TEST(Reasons, NoOneIsToldThatAFireNeedNotStopBesideBurnsThatStopped) {
  auto figures = too_big_below();
  figures.output_least = 500;  // below the 586 W of the bath
  figures.ends = {{BurnEnd::stop_point, "bath", 118}, {BurnEnd::thermostat, "bath", 2}};
  EXPECT_EQ(sentence(figures, "does not make the burner cycle"), "");
  EXPECT_NE(sentence(figures, "118 burns ended at the off temperature while it called alone"), "");
}

TEST(Reasons, OnePassIsNoFindingBelowHalfTheDifferential) {
  auto figures = too_big_below();
  figures.capacity_rate *= 2, figures.flow *= 2;  // 5158/1036 = 4.98 K of 11.1 K
  EXPECT_FALSE(finding(figures, "burner.one_pass"));
}

TEST(Reasons, MinimumFireIsTooHighOnlyWhereItsNumbersSaySo) {
  auto const least = numbers(sentence(too_big_below(), "Minimum fire is too high"));  // least, smallest design load
  ASSERT_EQ(least.size(), 2u);
  EXPECT_GT(least[0], least[1]);
  EXPECT_EQ(sentence(too_big_below(), "Full fire"), "");  // 74 kBtu/h for a load of 62: right, so not told

  auto big = too_big_below();
  big.output_most *= 2;
  auto const full = numbers(sentence(big, "Full fire is oversized"));  // most, design load
  ASSERT_EQ(full.size(), 2u);
  EXPECT_GT(full[0], 1.4 * full[1]);
  big.burn_median = big.note_burn, big.starts_per_hour_worst = big.starts_limit;
  EXPECT_EQ(sentence(big, "Full fire"), "");  // where cycling is fine it does not matter
  auto small = too_big_below();
  small.output_least = 1000;  // below the bath's 1172 W
  EXPECT_EQ(sentence(small, "too high"), "");
}

TEST(Reasons, AFireBelowTheSmallestLoadDoesNotCycleOnItAlone) {
  auto figures = too_big_below();
  figures.output_least = 500;
  auto const text = sentence(figures, "does not make the burner cycle");
  auto const n = numbers(text);
  ASSERT_EQ(n.size(), 2u) << text;
  EXPECT_LE(n[0], n[1]);
}

TEST(Reasons, ShortBurnsAndManyStartsAreFoundAtTheirLimits) {
  auto figures = too_big_below();
  ASSERT_TRUE(finding(figures, "burner.short_burns"));
  ASSERT_TRUE(finding(figures, "burner.many_starts"));
  EXPECT_EQ(sentence(figures, "Change nothing"), "");

  figures.burn_median = figures.short_burn, figures.starts_per_hour_worst = figures.starts_limit;  // neither below nor above
  EXPECT_FALSE(finding(figures, "burner.short_burns"));
  EXPECT_FALSE(finding(figures, "burner.many_starts"));
  EXPECT_TRUE(finding(figures, "burner.burns_noted"));

  figures.burn_median = figures.note_burn;
  EXPECT_FALSE(finding(figures, "burner.burns_noted"));
  EXPECT_NE(sentence(figures, "Change nothing"), "");
}

TEST(Reasons, WhatIsSaidOfBurnsHoldsByTheNumbersInTheSentence) {
  for (double const median : {100.0, 299.0, 301.0, 500.0, 599.0, 601.0, 2000.0})
    for (long const uncalled : {10L, 100L}) {
      auto figures = too_big_below();
      figures.burn_median = median, figures.starts_per_hour_worst = 5;
      figures.ends = {{BurnEnd::stop_point, "bath", 120 - uncalled}, {BurnEnd::thermostat, "bath", uncalled}};
      if (auto const f = finding(figures, "burner.short_burns")) {
        auto const n = numbers(us(f->words));  // median, burns, limit
        ASSERT_EQ(n.size(), 3u) << us(f->words);
        EXPECT_LE(n[0], n[2]);
        EXPECT_LT(median, 300);
      } else if (auto const noted = finding(figures, "burner.burns_noted")) {
        auto const n = numbers(us(noted->words));  // median, burns, note limit, short limit
        ASSERT_EQ(n.size(), 4u) << us(noted->words);
        EXPECT_TRUE(n[3] <= n[0] && n[0] <= n[2]) << us(noted->words);
        EXPECT_TRUE(297 <= median && median < 597);  // as printed: 4.95 min is 5.0 min
      } else {
        auto const alone = numbers(sentence(figures, "Change nothing"));  // median, burns, starts in the worst hour
        ASSERT_EQ(alone.size(), 3u);
        EXPECT_GE(alone[0], 10);
        EXPECT_LE(alone[2], figures.starts_limit);
      }
      auto const text = sentence(figures, "ended at the off temperature");
      auto const n = numbers(text);  // burns, ended hot, ended with the call
      ASSERT_EQ(n.size(), 3u) << text;
      EXPECT_EQ(n[0], n[1] + n[2]);
      EXPECT_EQ(sentence(figures, "ended by the thermostats") != "", 2 * n[2] > n[0] && median < 597);
    }
}

TEST(Reasons, ALoadThatPrintsLikeMinimumFireLeavesNoSurplusToDivideBy) {
  for (auto const units : {UnitSystem::us, UnitSystem::si}) {
    auto figures = too_big_below();
    figures.smallest_load = figures.output_least - 1;  // [W] below any printed digit
    EXPECT_EQ(sentence(figures, "The surplus heats", units), "");
    EXPECT_NE(sentence(figures, "does not make the burner cycle", units), "");
  }
}

TEST(Reasons, MinimumFireIsNotCalledTooHighWhereCyclingIsFine) {
  auto figures = too_big_below();
  figures.burn_median = figures.note_burn, figures.starts_per_hour_worst = figures.starts_limit;
  EXPECT_EQ(sentence(figures, "too high"), "");
  EXPECT_NE(sentence(figures, "Change nothing"), "");
}

TEST(Reasons, WhereNothingBurntNothingIsFound) {
  auto figures = too_big_below();
  figures.starts = figures.burns = 0, figures.starts_per_hour_worst = 0, figures.burn_median = 0;
  EXPECT_TRUE(burner_findings(figures).empty());
  EXPECT_EQ(us(reasons(figures)), std::vector<std::string>{"The burner never started in 24.0 h."});
}

}  // namespace
}  // namespace steadyfire
