#include "sim/core/finding.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/told.hpp"

namespace steadyfire {
namespace {

Finding fast(std::string place, double velocity, double order) {
  return {.id = "pipe.fast",
          .place = std::move(place),
          .severity = Severity::minor,
          .figures = {{"velocity", velocity, measure::velocity}},
          .limit = Figure{"limit", 1.2192, measure::velocity},
          .whose = common_practice,
          .words = say("velocity {}", Amount{velocity, measure::velocity}),
          .order = order,
          .fix = "use the next pipe size."};
}

TEST(Findings, OfOneIdSeverityAndFixAreToldAsOne) {
  auto const groups = grouped({fast("riser", 1.3, 1), fast("main", 1.5, 3), fast("branch", 1.4, 2)});
  ASSERT_EQ(groups.size(), 1u);
  EXPECT_EQ(groups[0].first.place, "main");  // the largest order
  EXPECT_EQ(us(groups[0].also()), "branch (4.6 ft/s), riser (4.3 ft/s)");  // 1.4 and 1.3 m/s
  EXPECT_EQ(si(groups[0].also()), "branch (1.40 m/s), riser (1.30 m/s)");
}

TEST(Findings, OfAnotherSeverityFixOrTheSamePlaceStandAlone) {
  auto graver_one = fast("riser", 1.6, 9), other_fix = fast("loop", 1.3, 1);
  graver_one.severity = Severity::serious, other_fix.fix = "slow the circulator.";
  auto const groups = grouped({fast("main", 1.5, 3), other_fix, fast("main", 1.4, 2), graver_one});
  ASSERT_EQ(groups.size(), 4u);
  EXPECT_EQ(groups[0].first.severity, Severity::serious);
  for (auto const& g : groups) EXPECT_TRUE(g.others.empty() && g.also().empty());
  auto nowhere = fast("", 1.5, 3);
  EXPECT_EQ(grouped({nowhere, nowhere}).size(), 2u);
  EXPECT_TRUE(grouped({}).empty());
}

TEST(Findings, EachOfAGroupHasItsOwnLimitBesideItsValue) {
  auto lower = fast("bath", 1.0, 1);
  lower.limit->value = 0.9144;
  lower.figures.push_back({"room", std::nan(""), measure::temperature});  // what does not exist is left out
  EXPECT_EQ(us(grouped({fast("main", 1.5, 3), lower})[0].also()), "bath (3.3 ft/s, limit 3.0 ft/s)");
  lower.figures.clear();
  EXPECT_EQ(us(grouped({fast("main", 1.5, 3), lower})[0].also()), "bath");
}

TEST(Findings, OfAGroupThatMeetTheirWorstElsewhereSaySo) {
  auto const calling = [](std::string place, double velocity, double order, std::string zones) {
    auto f = fast(std::move(place), velocity, order);
    f.words += say(" That is with {} calling.", zones);
    return f;
  };
  auto const group = grouped({calling("main", 1.5, 3, "bath, living"), calling("riser", 1.4, 2, "bath, living"),
                              calling("branch", 1.3, 1, "bath")})[0];
  EXPECT_EQ(us(group.also()), "riser (4.6 ft/s), branch (at worst 4.3 ft/s)");
}

TEST(Findings, OfAGroupCallALimitWhatItIs) {
  auto const low = [](std::string place, double flow, double wanted, char const* limit) {
    auto f = fast(std::move(place), flow, flow);
    f.figures[0].measure = measure::flow, f.limit = Figure{limit, wanted, measure::flow};
    return f;
  };
  double constexpr gpm = unit::gpm.scale;
  auto const also = [&](char const* limit, double wanted) {
    return us(grouped({low("bath", 9 * gpm, 10 * gpm, limit), low("loft", 3 * gpm, wanted * gpm, limit)})[0].also());
  };
  EXPECT_EQ(also("wanted", 4), "loft (3.0 gpm, needs 4.0 gpm)");
  EXPECT_EQ(also("guideline", 2), "loft (3.0 gpm, guideline 2.0 gpm)");
  EXPECT_EQ(also("limit", 4), "loft (3.0 gpm, minimum 4.0 gpm)");
  EXPECT_EQ(also("limit", 2), "loft (3.0 gpm, limit 2.0 gpm)");
}

}  // namespace
}  // namespace steadyfire
