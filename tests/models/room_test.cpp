#include <gtest/gtest.h>

#include <Eigen/Dense>

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
  s.settle();  // all nodes at 21 °C: what leaves the mass has only its own way left, ISO 13790's H_em
  double const UA = 5000 / 35., ms = 9.1 * 2.5 * 400 * 0.09290304, op = 0.45 * UA;
  EXPECT_NEAR(s.into(account::envelope), 35 * (0.55 * UA + op / (1 - op / ms)), 1e-6);
}

TEST(Room, AirChangesAddToTheHeatLoss) {  // 0.335 W/(m³·K) an air change an hour: 0.335·0.5·200 = 33.5 W/K
  auto s = stand({{"heat_loss", 80.}, {"air_changes", 0.5 / 3600}, {"volume", 200.}, {"start", celsius(20)}}, {}, celsius(0));
  s.settle();
  double const windows = 0.25 * 80, op = 60, ms = 9.1 * 2.5 * 400 * 0.09290304;
  EXPECT_NEAR(s.into(account::envelope), 20 * (33.5 + windows + op / (1 - op / ms)), 1e-6);
}

TEST(Room, OneCapacityWarmsByTheExponentialOfTheClosedForm) {
  // physics: 1R1C, C 2e7, UA 200, 5 kW, −5 °C, start 18 °C: all lost from the air, air and surfaces as one by a strong coupling.
  auto s = stand({{"heat_loss", 200.}, {"loss_by_air", 1.}, {"loss_by_windows", 0.}, {"air_capacity", 1e7}, {"mass_capacity", 1e7},
                  {"coupling", 1e6}, {"start", celsius(18)}}, {5000}, celsius(-5));
  s.advance(3600, 200);
  EXPECT_NEAR(s[s.own("room", 1)], celsius(18.07072), 2e-3);
  s.advance(5 * 3600, 400);
  EXPECT_NEAR(s[s.own("room", 1)], celsius(18.38853), 3e-3);
  s.advance(18 * 3600, 800);
  EXPECT_NEAR(s[s.own("room", 1)], celsius(19.15705), 3e-3);
}

TEST(Room, AirSurfacesAndMassFollowTheirClosedForm) {
  // x' = A·x + b of the three nodes, solved by the series of exp(A·t), which is none of ours: ISO 13790's couplings on 50 m².
  double const floor = 50, is = 3.45 * 4.5 * floor, ms = 9.1 * 2.5 * floor, UA = 100, ve = 0.3 * UA, w = 0.25 * UA, op = UA - ve - w;
  double const em = op / (1 - op / ms), Ca = 10e3 * floor, Cs = 20e3 * floor, Cm = 90e3 * floor, gains = 1500, outdoors = -10;
  Eigen::Matrix3d A;
  A << -(is + ve) / Ca, is / Ca, 0, is / Cs, -(is + ms + w) / Cs, ms / Cs, 0, ms / Cm, -(ms + em) / Cm;
  Eigen::Vector3d const b(ve * outdoors / Ca + gains / 2 / Ca, w * outdoors / Cs + gains / 2 / Cs, em * outdoors / Cm);
  Eigen::Vector3d const steady = -A.inverse() * b, start(18, 18, 18);
  auto s = stand({{"heat_loss", UA}, {"floor_area", floor}, {"construction", 0.}, {"start", celsius(18)}}, {gains}, celsius(outdoors));
  double const t = 4 * 3600;
  s.release(s.own("room"));  // a signal, which a stand holds
  s.advance(t, 1600);
  Eigen::Matrix3d power = Eigen::Matrix3d::Identity(), step = A * (t / 4096), term = Eigen::Matrix3d::Identity();
  Eigen::Matrix3d small = Eigen::Matrix3d::Identity();
  for (int k = 1; k < 12; ++k) term = term * step / k, small += term;
  power = small;
  for (int k = 0; k < 12; ++k) power = power * power;
  Eigen::Vector3d const expected = steady + power * (start - steady);
  for (int i = 0; i < 3; ++i) EXPECT_NEAR(s[s.own("room", 1 + i)] - 273.15, expected[i], 0.01) << i;
  EXPECT_NEAR(s[s.own("room")] - 273.15, (expected[0] + expected[1]) / 2, 0.02);  // as a person feels it
}

// EN 12831 and its like take the loss as UA times the difference of room and outdoors; the nodes keep to that within 2 %.
TEST(Room, LosesItsDesignLoadWhereverItsHeatArrives) {
  double const floor = 40, load = 2000, UA = load / 40;
  for (bool const radiant : {false, true}) {
    double const is = 3.45 * 4.5 * floor, ms = 9.1 * 2.5 * floor, ve = 0.3 * UA, w = 0.25 * UA, op = 0.45 * UA, em = op / (1 - op / ms);
    Eigen::Matrix3d A;
    A << is + ve, -is, 0, -is, is + ms + w, -ms, 0, -ms, ms + em;
    double const q = radiant ? 0.5 : 0;
    Eigen::Vector3d const unit = A.inverse() * Eigen::Vector3d(1 - q, q, 0);
    EXPECT_NEAR(40 / ((unit[0] + unit[1]) / 2), load, 0.02 * load) << radiant;
  }
}

TEST(Room, SharesOfTheLossAreThoseStated) {
  // At once, all nodes at 21 °C: the share by air leaves the air, that of windows the surfaces.
  auto s = stand({{"heat_loss", 100.}, {"loss_by_air", 0.4}, {"loss_by_windows", 0.2}, {"start", celsius(21)}}, {}, celsius(1));
  s.settle();
  double const ms = 9.1 * 2.5 * 400 * 0.09290304, op = 40, em = op / (1 - op / ms);
  EXPECT_NEAR(s.into(account::envelope), 20 * (40 + 20 + em), 1e-6);
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
    EXPECT_NEAR(s.plan.capacity[s.own("room", 2)] + s.plan.capacity[s.own("room", 3)], 50 * per_floor[c], 1);
  }
}

TEST(Room, WithoutAnyHeatLossIsRefused) { EXPECT_THROW(stand({}, {}, celsius(0)), InternalError); }

}  // namespace
}  // namespace steadyfire
