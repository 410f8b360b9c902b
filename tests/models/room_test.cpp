#include <gtest/gtest.h>

#include "models/building/room.hpp"
#include "sim/control/transitions.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

std::vector<Kind> const& kinds() {
  static std::vector<Kind> const all = [] {
    std::vector<Kind> k;
    k.push_back(kind<Room>());
    return k;
  }();
  return all;
}
Stand stand(std::vector<Setting> settings, std::vector<double> gains, double outdoors) {
  auto s = StandBuilder{kinds()}.add("room", "room", {}, settings).list("gains", gains).build();
  s.hold(given::outdoors, outdoors);
  return s;
}

TEST(Room, DesignLoadIsLostAtDesign) {
  auto s = stand({{"design_load", 5000.}, {"design_room", celsius(21)}, {"design_outdoors", celsius(-14)}, {"start", celsius(21)}}, {},
                 celsius(-14));
  s.settle();
  EXPECT_NEAR(s.into(account::envelope), 5000, 1e-8);
}

TEST(Room, AirChangesAddToTheHeatLoss) {  // 0.335 W/(m³·K) an air change an hour: 0.335·0.5·200 = 33.5 W/K
  auto s = stand({{"heat_loss", 80.}, {"air_changes", 0.5 / 3600}, {"volume", 200.}, {"start", celsius(20)}}, {}, celsius(0));
  s.settle();
  EXPECT_NEAR(s.into(account::envelope), 20 * (80 + 33.5), 1e-6);
}

TEST(Room, OneCapacityWarmsByTheExponentialOfTheClosedForm) {  // physics: 1R1C, C 2e7, UA 200, 5 kW, −5 °C, start 18 °C
  auto s = stand({{"heat_loss", 200.}, {"air_capacity", 2e7}, {"mass_capacity", 1e6}, {"coupling", 0.}, {"start", celsius(18)}}, {5000},
                 celsius(-5));
  s.advance(3600, 20);
  EXPECT_NEAR(s[s.own("room")], celsius(18.07072), 1e-4);
  s.advance(5 * 3600, 60);
  EXPECT_NEAR(s[s.own("room")], celsius(18.38853), 1e-4);
  s.advance(18 * 3600, 100);
  EXPECT_NEAR(s[s.own("room")], celsius(19.15705), 1e-4);
}

TEST(Room, AirAndMassFollowTheirTwoTimeConstants) {
  // Closed form of the two nodes, C_mass 1.5e7, C_air 3e6, H 400, UA 150, 4 kW into the air, −10 °C, start 18 °C:
  // eigenvalues of [[−(H+UA)/Ca, H/Ca], [H/Cm, −H/Cm]], the steady state 16.6667 °C in both.
  double const Ca = 3e6, Cm = 1.5e7, H = 400, UA = 150;
  auto s = stand({{"heat_loss", UA}, {"air_capacity", Ca}, {"mass_capacity", Cm}, {"coupling", H}, {"start", celsius(18)}}, {4000},
                 celsius(-10));
  double const trace = -(H + UA) / Ca - H / Cm, determinant = UA * H / (Ca * Cm), root = std::sqrt(trace * trace / 4 - determinant);
  double const slow = trace / 2 + root, fast = trace / 2 - root, steady = -10 + 4000 / UA, off = 18 - steady;
  EXPECT_NEAR(-1 / slow / 3600, 42.3846, 1e-3);  // physics: the same two time constants
  EXPECT_NEAR(-1 / fast / 3600, 1.36536, 1e-4);
  auto const weight = [&](double r) { return (H + Cm * r) / H; };  // air over mass in an eigenvector
  double const b = off * (1 - weight(slow)) / (weight(fast) - weight(slow)), a = off - b;
  s.advance(4 * 3600, 400);
  double const t = 4 * 3600;
  EXPECT_NEAR(s[s.own("room", 1)] - 273.15, steady + a * std::exp(slow * t) + b * std::exp(fast * t), 1e-3);
  EXPECT_NEAR(s[s.own("room", 0)] - 273.15, steady + a * weight(slow) * std::exp(slow * t) + b * weight(fast) * std::exp(fast * t), 1e-3);
}

TEST(Room, GainsStepExactlyOnTheHour) {
  std::vector<double> gains(24);
  for (int h = 0; h < 24; ++h) gains[h] = 100 * h;
  auto s = stand({{"heat_loss", 100.}}, gains, celsius(0));
  s.state.clock = 22.25 * 3600;
  std::vector<Trip> trips;
  double given = 0, expected = 0;
  for (double const hour : {22, 23, 0, 1, 2}) {
    s.settle();
    EXPECT_NEAR(-s.into(account::gains), 100 * hour, 1e-9);
    double const due = next_due(s.plan, s.state.now(s.plan));
    EXPECT_NEAR(std::fmod(s.state.clock + due, 3600), 0, 1e-6);
    given += -s.into(account::gains) * (due - s.state.time), expected += 100 * hour * (hour == 22 ? 2700 : 3600);
    s.state.time = due;
    EXPECT_TRUE(change_modes(s.plan, s.state, nullptr, trips));
  }
  EXPECT_NEAR(given, expected, 1e-3);
  EXPECT_EQ(trips.size(), 5u);
  for (auto const& t : trips) EXPECT_FALSE(t.told);
}

TEST(Room, ConstantGainsNeverStopTheMarch) {
  auto s = stand({{"heat_loss", 100.}}, {300}, celsius(0));
  EXPECT_GE(next_due(s.plan, s.state.now(s.plan)), 1e300);
}

TEST(Room, CapacitiesFollowFloorAreaAndConstruction) {  // ISO 13790:2008 12.3.1.2, from memory: 110, 165, 260 kJ/(m²·K)
  double const per_floor[]{110e3, 165e3, 260e3};
  for (int c : {0, 1, 2}) {
    auto s = stand({{"heat_loss", 100.}, {"floor_area", 50.}, {"construction", double(c)}}, {}, celsius(0));
    EXPECT_NEAR(s.plan.capacity[s.own("room", 1)], 50 * per_floor[c], 1);
  }
}

TEST(Room, WithoutAnyHeatLossIsRefused) { EXPECT_THROW(stand({}, {}, celsius(0)), InternalError); }

}  // namespace
}  // namespace steadyfire
