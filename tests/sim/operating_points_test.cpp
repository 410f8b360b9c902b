#include "sim/study/operating_points.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "models/circulator.hpp"
#include "sim/hydraulics/flows.hpp"
#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

/// Lifts water by 12 m through 0.5·Q² m (Q in m³/h) with H = 10 + 4·Q − c·Q².
struct Lift {
  toy::Network network;
  Plan plan;
  explicit Lift(double c) {
    network.head("below", 0), network.head("above", 12);
    static Kind const circulator = kind<Circulator>();
    Piece pump{"pump", &circulator, {}, {"below", "meeting"}, "", {}};
    for (auto const& f : circulator.fields) {
      Value v;
      if (!std::isnan(f.standard)) v.numbers = {f.unit.to_si(f.standard)};
      if (f.key == "curve") v.numbers = {0, 10, 4 * 3600., -c * 3600 * 3600}, v.given = true;
      pump.values.push_back(v);
    }
    network.installation.pieces.push_back(pump);
    double const kg_per_m3h = 1000 / 3600.;
    network.add<toy::Throttle>("meeting", "above", {0.5 * 1000 * 9.80665 / (kg_per_m3h * kg_per_m3h)});
    plan = network.plan();
  }
};

// 10 + 4Q − Q² = 12 + 0.5Q² has the roots 2/3 and 2 m³/h; at rest its 10 m do not lift the check.
TEST(OperatingPoints, AHumpAgainstAStaticHeadHasTwo) {
  double const unit = 1000 / 3600.;
  for (double const start : {0.0, 2 * unit}) {
    Lift lift{1};
    State state{lift.plan};
    state.mode[0] = 1, state.flow = {start, start};
    FlowSolver{lift.plan}.solve(state);
    EXPECT_NEAR(state.flow[0], start, 1e-3 * unit);
    std::vector<double> expected{2 / 3. * unit};
    if (start == 0) expected.push_back(2 * unit);
    auto const others = other_operating_points(lift.network.installation, lift.plan, state, 0);
    ASSERT_EQ(others.size(), expected.size());
    for (std::size_t i = 0; i < others.size(); ++i) EXPECT_NEAR(others[i], expected[i], 1e-3 * unit);
    std::vector<Finding> found;
    add_operating_points(lift.network.installation, lift.plan, state, found);
    ASSERT_EQ(found.size(), expected.size());
    EXPECT_EQ(found[0].id, "circulator.second_point");
  }
}

TEST(OperatingPoints, AHumpThatMeetsTheCircuitOnceHasNoOther) {
  Lift lift{1};
  lift.network.installation.joints[1].head = 9;  // 10 + 4Q − Q² = 9 + 0.5Q² has one root above 0
  Plan const plan = lift.network.plan();
  State state{plan};
  state.mode[0] = 1;
  FlowSolver{plan}.solve(state);
  EXPECT_NEAR(state.flow[0], (4 + std::sqrt(22)) / 3 * 1000 / 3600, 1e-4);
  EXPECT_TRUE(other_operating_points(lift.network.installation, plan, state, 0).empty());
}

}  // namespace
}  // namespace steadyfire
