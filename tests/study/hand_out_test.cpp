// Points are handed out once, and again only where a rank fell silent.

#include "tools/study/hand_out.hpp"

#include <gmock/gmock.h>

namespace steadyfire {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(HandOut, GivesEachPointToOneRank) {
  std::vector<std::size_t> const points{7, 3, 5};
  HandOut out{points, 10};
  EXPECT_THAT(out.take(1, 2, 0), ElementsAre(7, 3));
  EXPECT_THAT(out.take(2, 2, 0), ElementsAre(5));
  EXPECT_THAT(out.take(3, 1, 0), IsEmpty());
  EXPECT_EQ(out.held_by(1), 2);
  EXPECT_TRUE(out.came(1, 7, 1, 1) && out.came(2, 5, 1, 1));
  EXPECT_FALSE(out.all_came());
  EXPECT_TRUE(out.came(1, 3, 1, 2));
  EXPECT_TRUE(out.all_came());
}

TEST(HandOut, APointOfASilentRankGoesToAnother) {
  std::vector<std::size_t> const points{0, 1, 2};
  HandOut out{points, 10};
  out.take(1, 2, 0), out.take(2, 1, 0);
  EXPECT_TRUE(out.came(2, 2, 0.1, 8));
  EXPECT_THAT(out.give_up_silent(9.9), IsEmpty());
  EXPECT_THAT(out.give_up_silent(10), ElementsAre(1));
  EXPECT_THAT(out.give_up_silent(30), IsEmpty());  // told once
  EXPECT_THAT(out.take(2, 9, 30), testing::UnorderedElementsAre(0, 1));
  EXPECT_TRUE(out.came(2, 0, 0.1, 31));
  EXPECT_FALSE(out.came(1, 0, 0.1, 32)) << "late, and there already";
  EXPECT_TRUE(out.came(1, 1, 0.1, 32)) << "late, but the first";
  EXPECT_FALSE(out.came(2, 1, 0.1, 33));
  EXPECT_TRUE(out.all_came());
}

TEST(HandOut, ALatePointIsNotHandedOutAgain) {
  std::vector<std::size_t> const points{0};
  HandOut out{points, 10};
  out.take(1, 1, 0);
  out.give_up_silent(11);
  EXPECT_TRUE(out.came(1, 0, 0.1, 12));
  EXPECT_THAT(out.take(2, 1, 12), IsEmpty());
}

TEST(HandOut, WaitsLongerWherePointsTakeLong) {
  std::vector<std::size_t> const points{0, 1};
  HandOut out{points, 10};
  out.take(1, 1, 0);
  EXPECT_TRUE(out.came(1, 0, 3, 3));
  out.take(1, 1, 3);
  EXPECT_THAT(out.give_up_silent(62), IsEmpty());
  EXPECT_THAT(out.give_up_silent(63), ElementsAre(1));
}

TEST(HandOut, HoldsMoreOfShortPoints) {
  std::vector<std::size_t> points(1000);
  for (std::size_t i = 0; i < points.size(); ++i) points[i] = i;
  HandOut quick{points, 10}, slow{points, 10};
  EXPECT_EQ(quick.share(), 1) << "nothing is known yet";
  quick.take(1, 1, 0), quick.came(1, 0, 0.01, 0.01);
  slow.take(1, 1, 0), slow.came(1, 0, 5, 5);
  EXPECT_EQ(quick.share(), 51);
  EXPECT_EQ(slow.share(), 2);
}

}  // namespace
}  // namespace steadyfire
