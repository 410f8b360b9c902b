// Advice: where nothing is wrong, with any number of threads, and remedies that any scenario takes. The lessons: advise_long_test.cpp.

#include <gmock/gmock.h>

#include "tools/study/advise/advise.hpp"
#include "tests/paths.hpp"
#include "tests/told.hpp"

namespace steadyfire {
namespace {

using testing::HasSubstr;

std::string path_of(std::string const& name) { return in_source("/scenarios/") + name; }
Case shipped(std::string const& name) { return {path_of(name), read_text(path_of(name))}; }
Advice advice_for(Case const& house, unsigned jobs = 0) { return advise(house, judge(house, {}), jobs, {}, {}); }

TEST(Advise, NothingIsMendedWhereNothingIsWrong) {
  auto const file = path_of("workshop_slab.toml");
  Case const house{file, read_text(file)};
  auto const advice = advice_for(house);
  EXPECT_TRUE(advice.before.troubles.empty()) << us(advice.before.troubles[0].words);
  EXPECT_TRUE(advice.choices().empty());
}

TEST(Advise, IsTheSameWithAnyNumberOfThreads) {
  auto const house = shipped("workshop_slab_gains.toml");
  auto const one = advice_for(house, 1), three = advice_for(house, 3);
  ASSERT_EQ(one.alone.size(), three.alone.size());
  for (std::size_t i = 0; i < one.alone.size(); ++i) {
    EXPECT_EQ(one.alone[i].of_all(), three.alone[i].of_all());
    EXPECT_EQ(one.alone[i].after.run.energy.fuel, three.alone[i].after.run.energy.fuel);
  }
  ASSERT_EQ(one.together.size(), three.together.size());
}

/// Whatever is wrong, a change never makes a scenario that cannot be read; that it does not go with others is told by the reader.
class EveryScenario : public testing::TestWithParam<char const*> {};
TEST_P(EveryScenario, RemediesAreTextThatTheReaderTakes) {
  auto const house = shipped(GetParam());
  Judged all;
  for (auto const& z : house.project().installation.zones) all.troubles.push_back({Trouble::Sort::cold_room, z.name, 1, ""});
  for (auto const sort : {Trouble::Sort::many_starts, Trouble::Sort::other}) all.troubles.push_back({sort, "", 1, ""});
  auto const remedies = remedies_for(house, all);
  EXPECT_FALSE(remedies.empty());
  for (auto const& r : remedies) {
    try {
      Case const changed{house.document().file, house.text(), r.edits};
    } catch (BadInput const& e) {
      EXPECT_THAT(e.what(), testing::Not(HasSubstr("E20"))) << r.words << "\n" << e.what();
    }
  }
}
INSTANTIATE_TEST_SUITE_P(Shipped, EveryScenario,
                         testing::Values("four_zone_house.toml", "oversized_burner.toml", "many_emitters.toml", "two_boilers.toml",
                                         "straight_through.toml", "manifold_floors.toml", "series_with_bypass.toml", "single_pipe.toml",
                                         "combi_family.toml", "slab_beside_fin_tube.toml", "buffer_two_pipes.toml", "whole_job.toml",
                                         "workshop_behind_plates.toml", "ghost_flow.toml"));

}  // namespace
}  // namespace steadyfire
