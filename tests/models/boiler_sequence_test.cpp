/// The boiler's burner sequence: every transition, one by one.

#include <gtest/gtest.h>

#include <functional>
#include <set>

#include "models/boiler.hpp"
#include "models/catalog.hpp"
#include "models/controls.hpp"
#include "sim/control/transitions.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

using B = Boiler;
double constexpr least_flow = 6e-5;  // [m³/s]

/// A combi boiler, its call, its hot water; nothing moves but what a test sets.
struct Bench {
  Stand stand = StandBuilder{piece_kinds()}
                    .add("zone relay", "relay", {}, {})
                    .add("hot water control", "tap", {"cold", "hot"}, {{"set_point", celsius(50)}})
                    .add("boiler", "boiler", {"in", "out"},
                         {{"heating_input", 30e3},
                          {"minimum_input", 6e3},
                          {"call", "relay"},
                          {"hot_water", "tap"},
                          {"hot_water_set_point", celsius(50)},
                          {"target", celsius(60)},
                          {"on_differential", 5.0},
                          {"off_differential", 6.0},
                          {"dhw_off_differential", 10.0},
                          {"high_limit", celsius(90)},
                          {"high_limit_differential", 10.0},
                          {"least_flow", least_flow},
                          {"prepurge", 15.0},
                          {"ignition_hold", 6.0},
                          {"low_fire_hold", 30.0},
                          {"postpurge", 20.0},
                          {"minimum_off", 180.0},
                          {"cells", 1.0}})
                    .build();
  int boiler = 2;

  Bench() { pump(0.2), call(true), water(60), fire(0.5); }
  void pump(double kg_per_s) { stand.flow("boiler", kg_per_s); }
  void call(bool calls) { stand.mode("relay", calls ? ZoneRelay::calling : ZoneRelay::idle); }
  void draw(bool draws) { stand.mode("tap", draws ? HotWaterControl::serving : HotWaterControl::idle); }
  void water(double c) { stand[stand.cell("boiler", 0)] = celsius(c); }
  void fire(double share) { stand[stand.own("boiler", 1)] = share; }
  void served(bool hot_water) { stand[stand.own("boiler", 2)] = hot_water; }
  void enter(int mode) { stand.mode("boiler", mode), stand.state.since[boiler] = stand.state.time; }
  void wait(double seconds) { stand.state.time += seconds; }

  /// The one transition that the boiler makes at this moment; a trip from −1 to −1 if it stays.
  Trip trip() {
    std::vector<Trip> trips;
    auto& plan = stand.plan;
    auto& state = stand.state;
    plan.batches[plan.batch_of[boiler]]->trip(state.now(plan), nullptr, state.mode.data(), state.x.data(), trips);
    if (trips.empty()) return {boiler, -1, -1, Cause::count, "", 0, 0, measure::plain, false};
    state.since[boiler] = state.time;
    return trips[0];
  }
};

struct Case {
  int from, to;
  Cause cause;
  std::string words;
  double after;                       // [s] since the mode began
  std::function<void(Bench&)> setting;  // of what has changed by then
};

std::vector<Case> cases() {
  auto const hot = [](Bench& b) { b.water(66.1); };
  auto const over = [](Bench& b) { b.water(90.1); };
  auto const calm = [](Bench&) {};
  auto const uncalled = [](Bench& b) { b.call(false); };
  auto const starved = [](Bench& b) { b.pump(0.05); };
  auto const cold_draw = [](Bench& b) { b.draw(true), b.water(40); };
  auto const draw = [](Bench& b) { b.draw(true), b.served(true), b.water(55); };
  std::vector<Case> all{
      {B::ready, B::purging, Cause::on_temperature, "burner start: water fell to 54.0 °C, 6.0 °C below target", 0,
       [](Bench& b) { b.water(54); }},
      {B::ready, B::purging, Cause::draw_began, "hot water draw: burner starts", 0, cold_draw},
      {B::purging, B::ready, Cause::call_ended, "burner start stopped: last call ended", 3, uncalled},
      {B::purging, B::igniting, Cause::timer, "ignition: prepurge done (15 s)", 15, calm},
      {B::purging, B::igniting, Cause::timer, "ignition: prepurge done (15 s)", 15, draw},
      {B::igniting, B::low_fire, Cause::timer, "flame on: going to minimum fire (6 s)", 6, calm},
      {B::igniting, B::modulating, Cause::timer, "flame on: modulating for hot water (6 s)", 6, draw},
      {B::low_fire, B::modulating, Cause::timer, "modulating: minimum fire hold over (30 s)", 30, calm},
      {B::low_fire, B::modulating, Cause::timer, "modulating for hot water: its valve has turned (10 s)", 10, draw},
      {B::modulating, B::low_fire, Cause::draw_began, "hot water draw: minimum fire until its valve has turned", 100,
       [](Bench& b) { b.draw(true), b.served(false), b.water(50); }},
      {B::modulating, B::modulating, Cause::draw_ended, "hot water draw ended: back to heating", 100, [](Bench& b) { b.served(true); }},
      {B::tripped, B::too_hot, Cause::timer, "locked out by the high limit: postpurge done (20 s)", 20, [](Bench& b) { b.water(85); }},
      {B::postpurging, B::resting, Cause::timer, "waiting: postpurge done (20 s), minimum off time runs", 20, calm},
      {B::postpurging, B::purging, Cause::draw_began, "hot water draw: burner starts", 3, cold_draw},
      {B::too_hot, B::resting, Cause::high_limit_reset, "high limit reset: water cooled to 79.9 °C", 0, [](Bench& b) { b.water(79.9); }},
      {B::resting, B::purging, Cause::draw_began, "hot water draw: burner starts", 3, cold_draw},
      {B::resting, B::ready, Cause::timer, "ready: minimum off time over, 3.0 min after the burn", 160, calm}};
  for (int const lit : {B::igniting, B::low_fire, B::modulating}) {
    all.push_back({lit, B::postpurging, Cause::off_temperature, "burner off: water reached 66.1 °C, 6.1 °C above target", 1, hot});
    all.push_back({lit, B::tripped, Cause::high_limit, "burner off: high limit, water reached 90.1 °C", 1, over});
    all.push_back({lit, B::postpurging, Cause::call_ended, "burner off: last call ended", 1, uncalled});
    all.push_back({lit, B::postpurging, Cause::flow_lost, "burner off: boiler flow 0.050 L/s, minimum 0.060 L/s", 1, starved});
  }
  return all;
}

TEST(BoilerSequence, EachTransitionFollowsItsCauseAndTellsIt) {
  for (auto const& c : cases()) {
    SCOPED_TRACE(c.words);
    Bench b;
    b.enter(c.from);
    if (c.after > 1) {
      b.wait(c.after - 0.5);
      EXPECT_EQ(b.trip().from, -1) << "it waits for its cause";
      b.wait(0.5);
    }
    c.setting(b);
    auto const t = b.trip();
    EXPECT_EQ(t.from, c.from);
    EXPECT_EQ(t.to, c.to);
    EXPECT_EQ(t.cause, c.cause) << name_of(t.cause);
    EXPECT_EQ(words_of(t).in(UnitSystem::si), c.words);
  }
}

TEST(BoilerSequence, TheCasesAboveAreAllTransitions) {
  std::multiset<std::tuple<int, int, Cause>> tried, there;
  for (auto const& c : cases()) tried.emplace(c.from, c.to, c.cause);
  for (auto const& t : Boiler::transitions()) there.emplace(t.from, t.to, t.cause);
  EXPECT_EQ(tried, there);
}

/// However far the water cools while the fan runs on, a trip stays one until its own reset.
TEST(BoilerSequence, AHighLimitTripOutlastsThePostpurge) {
  for (double const then : {89., 85., 81.}) {
    Bench b;
    b.enter(B::modulating), b.water(90.5);
    EXPECT_EQ(b.trip().to, B::tripped);
    b.water(then), b.wait(20);
    EXPECT_EQ(b.trip().to, B::too_hot) << then;
    b.wait(3600);
    EXPECT_EQ(b.trip().to, -1) << "10 K below the limit is not reached at " << then;
    b.water(79.5);
    EXPECT_EQ(b.trip().to, B::resting);
  }
}

TEST(BoilerSequence, HotWaterDoesNotEndAHighLimitTrip) {
  Bench b;
  b.enter(B::tripped), b.draw(true), b.water(40), b.wait(10);
  EXPECT_EQ(b.trip().to, -1);
}

TEST(BoilerSequence, ItStaysWhereNothingHappens) {
  for (int const mode : {B::ready, B::purging, B::igniting, B::low_fire, B::modulating, B::tripped, B::postpurging, B::resting}) {
    Bench b;
    b.enter(mode), b.wait(1);
    EXPECT_EQ(b.trip().to, -1) << Boiler::modes[mode];
  }
  Bench uncalled;
  uncalled.call(false), uncalled.enter(B::ready), uncalled.water(20);
  EXPECT_EQ(uncalled.trip().to, -1) << "cold water alone lights nothing";
  uncalled.call(true), uncalled.pump(0.05);
  EXPECT_EQ(uncalled.trip().to, -1) << "without flow it does not light";
}

}  // namespace
}  // namespace steadyfire
