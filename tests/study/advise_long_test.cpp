// Both lessons are mended by what is advised, as an ordinary run of the changed scenario shows.

#include <gmock/gmock.h>

#include "tools/study/advise/advise.hpp"
#include "tests/paths.hpp"
#include "tests/told.hpp"

namespace steadyfire {
namespace {

std::string path_of(std::string const& name) { return in_source("/scenarios/") + name; }
Case shipped(std::string const& name) { return {path_of(name), read_text(path_of(name))}; }
Advice advice_for(Case const& house) { return advise(house, judge(house, {}), 0, {}, {}); }

/// The house with the advised change, read from its text as a user would.
Case mended(Case const& house, Advice const& advice) {
  return {house.document().file, changed_text(house, advice, *advice.choices().at(0))};
}

TEST(Advise, TheStarvedZoneGetsItsFlowAndHeat) {
  auto const house = shipped("four_zone_house.toml");
  auto const advice = advice_for(house);
  ASSERT_FALSE(advice.choices().empty());
  EXPECT_TRUE(advice.choices()[0]->mends_all());
  auto const after = mended(house, advice);
  bool was_short = false;
  for (auto const& f : study_flows(house.project().installation, flows_options_of(house.project())).findings)
    was_short |= f.id == "zone.short_of_flow" && f.place == "studio";
  EXPECT_TRUE(was_short);
  for (auto const& f : study_flows(after.project().installation, flows_options_of(after.project())).findings)
    if (f.id == "zone.short_of_flow")  // hotter water may carry the heat in less flow
      EXPECT_NE(f.severity, Severity::serious) << us(f.words);
  auto const run = after.record({}, {});
  EXPECT_GT(run.zones.at(3).room_mean, 69.0 / 1.8 + 255.372) << "the studio, set to 70 degF, on a cold day";

  // Of what mends it, the easier stands before the harder.
  int hardness = 0;
  for (auto const* t : advice.helping(Subject::rooms)) {
    if (!t->mends(Subject::rooms)) break;
    EXPECT_GE(t->hardness, hardness);
    hardness = t->hardness;
  }
  EXPECT_GT(hardness, 0);
}

TEST(Advise, TheShortCyclingBurnerRestsAndNoRoomPaysForIt) {
  auto const house = shipped("oversized_burner.toml");
  auto const advice = advice_for(house);
  ASSERT_FALSE(advice.choices().empty());
  auto const before = house.record({}, {}), after = mended(house, advice).record({}, {});
  EXPECT_GT(before.burner.starts_per_hour_worst, 6);
  EXPECT_LE(after.burner.starts_per_hour_worst, 6);
  EXPECT_LT(after.burner.starts, 0.9 * double(before.burner.starts));
  for (std::size_t z = 0; z < before.zones.size(); ++z)
    EXPECT_GT(after.zones[z].room_mean, before.zones[z].room_mean - 0.3) << before.zones[z].name;

  // The table of the README: the minimum fire does it all, a smaller rating with the same one nothing.
  double rating = -1, minimum = -1;
  for (auto const& t : advice.alone) {
    auto const& what = advice.remedies[t.remedies[0]].what;
    if (what == "rating") rating = t.of(Subject::cycling);
    if (what == "boiler") minimum = std::max(minimum, t.of(Subject::cycling));
  }
  EXPECT_EQ(rating, 0);
  EXPECT_GT(minimum, 0.9 * advice.before.total(Subject::cycling));
}

}  // namespace
}  // namespace steadyfire
