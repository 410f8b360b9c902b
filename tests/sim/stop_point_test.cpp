#include "sim/study/stop_point.hpp"

#include <gmock/gmock.h>

#include "tests/told.hpp"

namespace steadyfire {
namespace {

/// A calm day of 31 starts, with the answers at both sides of its off temperature.
Record day_of(long lower, long higher) {
  Record r;
  r.burner.name = "boiler", r.burner.starts = 31, r.burner.starts_per_hour_worst = 3, r.burner.burn_median = 900;
  r.burner.burns.assign(31, 900.f);
  r.stop_point = Band{
      "boiler", "off_differential", measure::temperature_change, {4.4, lower, 5, 700, 293, 1e9, ""}, {5.6, higher, 3, 900, 293, 1e9, ""}};
  return r;
}

TEST(StopPoint, BothAnswersAreToldWhereTheyDiffer) {
  auto const f = knife_edge(day_of(62, 30));
  ASSERT_TRUE(f);
  EXPECT_EQ(f->id, "burner.knife_edge");
  EXPECT_EQ(f->severity, Severity::note);  // 62 starts with burns as long do no harm either
  auto harmful = day_of(62, 30);
  harmful.stop_point->low.starts_per_hour_worst = 9;
  EXPECT_EQ(knife_edge(harmful)->severity, Severity::minor);
  EXPECT_THAT(us(f->words), testing::AllOf(testing::HasSubstr("31 starts"), testing::HasSubstr("62"), testing::HasSubstr("30"),
                                           testing::HasSubstr("1.0 °F")));
  EXPECT_FALSE(knife_edge(day_of(33, 30)));  // a tenth is scatter
  auto few = day_of(5, 4);
  few.burner.starts = 3;
  EXPECT_FALSE(knife_edge(few));  // two starts more are no other day
  auto stopped = day_of(62, 30);
  stopped.stop_point->low.incomplete = "interrupted";
  EXPECT_FALSE(knife_edge(stopped));
  stopped.stop_point.reset();
  EXPECT_FALSE(knife_edge(stopped));
}

TEST(StopPoint, IsAskedWhereAVerdictMayHangOnIt) {
  auto r = day_of(31, 31);
  EXPECT_FALSE(may_hang_on_stop_point(r));
  r.burner.near_stops = 1;
  EXPECT_TRUE(may_hang_on_stop_point(r));
  r.burner.near_stops = 0, r.burner.starts_per_hour_worst = r.why.starts_limit + 1;
  EXPECT_TRUE(may_hang_on_stop_point(r));
  r.burner.starts_per_hour_worst = 3, r.burner.burn_median = float(0.9 * r.why.short_burn);
  EXPECT_TRUE(may_hang_on_stop_point(r));
  r.incomplete = "interrupted";
  EXPECT_FALSE(may_hang_on_stop_point(r));
}

}  // namespace
}  // namespace steadyfire
