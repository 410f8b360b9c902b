// Work shared out among threads, and points of one scenario run by several at once.

#include "tools/study/workers.hpp"

#include <gmock/gmock.h>

#include <atomic>
#include <thread>

#include "tools/study/spread.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

using testing::ElementsAre;

TEST(Spread, DoesEachOnceAndTellsAFailure) {
  std::vector<std::atomic<int>> times(100);
  spread(times.size(), 3, [&](std::size_t i) { ++times[i]; });
  for (auto const& t : times) EXPECT_EQ(t, 1);
  EXPECT_THROW(spread(10, 2, [](std::size_t i) { if (i == 4) throw std::runtime_error{"four"}; }), std::runtime_error);
}

TEST(Workers, HandOverEachPointOnceInTheCallingThread) {
  std::vector<std::size_t> const points{3, 1, 4, 15, 9, 2, 6};
  auto const me = std::this_thread::get_id();
  std::vector<std::size_t> kept;
  ThreadWorkers{3}.run(points, [](std::size_t i) { return Outcome{{double(i)}, ""}; },
                       [&](Worked&& w) {
                         EXPECT_EQ(std::this_thread::get_id(), me);
                         EXPECT_THAT(w.outcome.figures, ElementsAre(double(w.number)));
                         kept.push_back(w.number);
                       },
                       {});
  EXPECT_THAT(kept, testing::UnorderedElementsAreArray(points));
}

TEST(Workers, EndWhereKeepingFailsOrSomebodyStops) {
  std::vector<std::size_t> points(1000);
  std::atomic<int> worked{0};
  EXPECT_THROW(ThreadWorkers{2}.run(points, [&](std::size_t) { ++worked; return Outcome{}; },
                                    [](Worked&&) { throw std::runtime_error{"disk full"}; }, {}),
               std::runtime_error);
  int kept = 0;
  ThreadWorkers{2}.run(points, [](std::size_t) { return Outcome{}; }, [&](Worked&&) { ++kept; }, [] { return true; });
  EXPECT_EQ(kept, 0);
}

/// Reading, assembling and running a point share what is loaded once: units, weather, descriptions of kinds.
TEST(Workers, RunPointsOfOneScenarioAsOneThreadDoes) {
  auto const file = in_source("/scenarios/four_zone_house.toml");
  Case const house{file, read_text(file), {{Edit::Do::set, {"run", 0, {"duration"}}, "20 min"}}};
  std::vector<Parameter> const turned{{"fire", house.turn("boiler.minimum_input")}, {"load", house.turn("zone.bath.design_load")}};
  std::vector<AskedFigure> const asked{house.figure("fuel"), house.figure("bath.mean_room")};
  auto const at = [&](std::size_t i) { return Point{3000 + 300 * double(i), 1000 + 50 * double(i)}; };
  std::size_t constexpr points = 12;
  std::vector<Outcome> alone(points), together(points);
  for (std::size_t i = 0; i < points; ++i) alone[i] = house.run(turned, at(i), asked);
  spread(points, 3, [&](std::size_t i) { together[i] = house.run(turned, at(i), asked); });
  for (std::size_t i = 0; i < points; ++i) {
    EXPECT_EQ(together[i].fault, "");
    EXPECT_EQ(together[i].figures, alone[i].figures);
  }
}

}  // namespace
}  // namespace steadyfire
