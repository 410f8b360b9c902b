// Fronts, compromises and leeway against a problem whose answer is known, and scenarios that are really run.

#include <gmock/gmock.h>

#include <cmath>

#include "tools/study/tune.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

using testing::HasSubstr;

/// f1 = x², f2 = (x − 2)²: the front is 0 ≤ x ≤ 2, with √f1 + √f2 = 2.
/// Source  J. D. Schaffer: Multiple objective optimization with vector evaluated genetic algorithms, Proc. 1st Int. Conf. Genetic
///         Algorithms (1985) 93. A second coordinate that only does harm is ours, as is the forbidden half.
Verdict schaffer(std::vector<double> const& x) {
  if (x[1] > 3) return {{}, {}, "beyond 3"};
  double const harm = x[1] * x[1];
  return {{x[0] * x[0] + harm, (x[0] - 2) * (x[0] - 2) + harm}, {}, ""};
}

FrontSearch searched(unsigned jobs, unsigned seed) {
  FrontSearch search{{{-4, 4, 0}, {-4, 4, 0.05}}, schaffer, jobs};
  search.find_front(800, seed, {{3, 1}}, {10, 10});
  return search;
}
std::vector<std::vector<double>> merits_of(FrontSearch const& search) {
  std::vector<std::vector<double>> all;
  for (auto const& t : search.trials())
    if (t.is_good()) all.push_back(t.verdict.merits);
  return all;
}

TEST(FrontSearch, FindsAKnownFront) {
  for (unsigned seed : {1U, 2U, 3U}) {
    auto const search = searched(2, seed);
    auto const merits = merits_of(search);
    auto const front = best_compromises(merits);
    ASSERT_GT(front.size(), 20U);
    for (auto const i : front) EXPECT_NEAR(std::sqrt(merits[i][0]) + std::sqrt(merits[i][1]), 2, 0.1);
    EXPECT_LT(merits[front.front()][0], 0.05);  // both ends are reached
    EXPECT_LT(merits[front.back()][1], 0.05);
  }
}

TEST(FrontSearch, FindsTheSameWithOneThreadAndWithThree) {
  auto const one = searched(1, 7), three = searched(3, 7);
  ASSERT_EQ(one.trials().size(), three.trials().size());
  for (std::size_t i = 0; i < one.trials().size(); ++i) {
    EXPECT_EQ(one.trials()[i].at, three.trials()[i].at);
    EXPECT_EQ(one.trials()[i].verdict.merits, three.trials()[i].verdict.merits);
  }
  EXPECT_NE(searched(1, 8).trials().back().at, one.trials().back().at);
}

TEST(FrontSearch, KeepsPointsThatCannotBeAndJudgesEachOnce) {
  auto search = searched(2, 1);
  long refused = 0;
  for (auto const& t : search.trials()) refused += !t.is_good();
  EXPECT_GT(refused, 0);
  auto const many = search.trials().size();
  search.judge({{3, 1}, {3, 1}, search.trials().back().at});
  EXPECT_EQ(search.trials().size(), many);
}

TEST(FrontSearch, EqualMeritsEverywhereDoNoHarm) {
  FrontSearch search{{{0, 1, 0.1}, {0, 1, 0.1}}, [](auto const&) { return Verdict{{0, 5}, {}, ""}; }, 1};
  search.find_front(200, 1, {{0.5, 0.5}}, {1, 10});
  EXPECT_EQ(best_compromises(merits_of(search)).size(), 1U);
}

TEST(FrontSearch, IsStoppedFromOutside) {
  FrontSearch search{{{0, 1, 0}}, [](auto const& x) { return Verdict{{x[0], -x[0]}, {}, ""}; }, 1, [] { return true; }};
  EXPECT_THROW(search.judge({{0.5}}), SearchStopped);
}

TEST(Compromises, LeaveOutWhatAnotherBeats) {
  EXPECT_THAT(best_compromises({{1, 5}, {2, 2}, {3, 3}, {5, 1}, {2, 2}}), testing::ElementsAre(0, 1, 3));
  EXPECT_EQ(evenest({{1, 5}, {2, 2}, {5, 1}}), 1U);
  EXPECT_EQ(evenest({{1, 5}}), 0U);
}

// Shares gained, of what each could gain alone (10 and 8): {9, 0} → 0.9 and 0; {5, 4} → 0.5 and 0.5; {4, 8} → 0.4 and 1.
TEST(Compromises, TheFairestGainIsTheOneWhoseSmallestShareIsGreatest) {
  std::vector<std::vector<double>> const merits{{10, 10}, {0, 9.9}, {1, 10}, {5, 6}, {6, 2}, {-5, 11}};
  EXPECT_EQ(fairest_gain(merits, 0), 3U);
  EXPECT_EQ(fairest_gain({{1, 1}, {0, 2}, {2, 0}}, 0), 0U);  // every gain costs something
  EXPECT_EQ(fairest_gain({{1, 1}, {1, 1}}, 0), 0U);
  EXPECT_EQ(fairest_gain({{1, 1}, {1, 0}}, 0), 1U);
}

// Around x = 1 the first merit is within 2.25 as far as 1.5, the second as far as 0.5.
TEST(Leeway, GoesAsFarAsNothingIsHarmed) {
  FrontSearch search{{{-4, 4, 0.05}, {-4, 4, 0.05}}, schaffer, 1};
  auto const harm = [](Trial const& t) -> std::string {
    return !t.is_good() ? t.verdict.fault : t.verdict.merits[0] > 2.26 ? "first" : t.verdict.merits[1] > 2.26 ? "second" : "";
  };
  auto const way = leeway(search, {1, 0}, harm);
  EXPECT_NEAR(way[0].least, 0.5, 0.051);
  EXPECT_NEAR(way[0].most, 1.5, 0.051);
  EXPECT_EQ(way[0].least_why, "second");
  EXPECT_EQ(way[0].most_why, "first");
  EXPECT_NEAR(way[1].most, std::sqrt(1.26), 0.051);
  FrontSearch narrow{{{0.8, 1.2, 0}, {-4, 4, 0.05}}, schaffer, 1};
  EXPECT_TRUE(leeway(narrow, {1, 0}, harm)[0].to_most_end);
}

Case shipped(std::string const& name, std::vector<Edit> const& edits = {}) {
  auto const file = in_source("/scenarios/") + name;
  return {file, read_text(file), edits};
}
std::vector<Dial> dials_of(Case const& c, std::vector<std::string> const& words) {
  std::vector<Dial> all;
  for (auto const& w : words) all.push_back(read_dial(c, w));
  return all;
}
std::string fault_of(Case const& c, std::string const& words) {
  try {
    read_dial(c, words);
  } catch (BadAddress const& e) { return std::string(e.what()) + " | " + e.expected; }
  return "";
}

// Hotter water only: with no gains and rooms never too warm it can only cost fuel or cold.
TEST(Tune, SaysWhereNothingBetterIs) {
  auto const c = shipped("workshop_slab_gains_reset.toml");
  auto const dials =
      dials_of(c, {"zone.workshop.reset.cold_supply=110 degF..111 degF", "zone.workshop.reset.mild_supply=75 degF..76 degF"});
  auto const found = tune(spells_of(c, {}, 0, false), dials, {.runs = 60});
  EXPECT_FALSE(found.is_better());
  EXPECT_EQ(found.leeway.size(), 2U);
}

TEST(Tune, PointsThatCannotBeAreCounted) {
  auto const c = shipped("workshop_slab_gains_reset.toml");
  auto const dials =
      dials_of(c, {"zone.workshop.reset.cold_supply=80 degF..112 degF", "zone.workshop.reset.mild_supply=70 degF..112 degF"});
  auto const found = tune(spells_of(c, {}, 0, false), dials, {.runs = 60});
  EXPECT_GT(found.refused, 0);
  EXPECT_THAT(found.refused_why, HasSubstr("rises as it gets milder outdoors"));
}

TEST(Dials, AreReadWithTheirBounds) {
  auto const c = shipped("workshop_slab_gains_reset.toml");
  auto const d = read_dial(c, "zone.workshop.reset.cold_supply = 80 degF..45 degC");
  EXPECT_NEAR(d.least, 80, 1e-9);
  EXPECT_NEAR(d.most, 113, 1e-9);
  EXPECT_NEAR(d.present, 110, 1e-9);
  EXPECT_EQ(d.words(97), "97 degF");
  EXPECT_EQ(d.shown(97), "97 °F");
  auto const pump = read_dial(c, "zone.workshop.circulator.duty");
  EXPECT_THAT(pump.parameter.words, testing::Contains("high head"));
  EXPECT_EQ(pump.words(pump.present), "high head");
  EXPECT_THAT(fault_of(c, "zone.workshop.reset.cold_supply=120 degF..80 degF"), HasSubstr("swapped"));
  EXPECT_THAT(fault_of(c, "zone.workshop.reset.cold_supply=80 degF"), HasSubstr("has bounds"));
  EXPECT_THAT(fault_of(c, "zone.workshop.reset.cold_supply=3 gpm..90 degF"), HasSubstr("a flow"));
  EXPECT_THAT(fault_of(c, "zone.workshop.reset.cold_supply=30 degF..90 degF"), HasSubstr("below its range"));
  EXPECT_THAT(fault_of(c, "zone.workshp.reset.cold_supply"), HasSubstr("no zone 'workshp'"));
}

// A circulator's wire-to-water efficiency is 25 % where nobody states it, says the reference page.
TEST(Dials, KnowWhatHoldsInAPieceThatIsNotStatedToTheFull) {
  EXPECT_NEAR(read_dial(shipped("many_emitters.toml"), "near_boiler.system_circulator.efficiency").present, 25, 1e-9);
  EXPECT_NEAR(read_dial(shipped("two_boilers.toml"), "near_boiler.lag_circulator.efficiency").present, 25, 1e-9);
}

TEST(Spells, WantAYearOfWeather) {
  EXPECT_THROW(spells_of(shipped("workshop_slab_gains_reset.toml"), {15}, 3, false), BadAddress);
  auto const spells = spells_of(shipped("cold_coast_year.toml"), {15, 60}, 2, false);
  ASSERT_EQ(spells.size(), 2U);
  EXPECT_EQ(spells[1].scenario.project().run.start_day, 60);
  EXPECT_NEAR(*spells[1].scenario.project().run.duration, 2 * 86400, 1);
}

}  // namespace
}  // namespace steadyfire
