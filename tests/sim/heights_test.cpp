#include <gtest/gtest.h>

#include <cmath>

#include "models/expansion_tank.hpp"
#include "sim/hydraulics/flows.hpp"
#include "sim/study/pressures.hpp"
#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

using namespace toy;
constexpr double g = 9.80665, air = 101325;

/// Tank of 1 L at each port, and a throttle that a state moves.
struct Vessel {
  double unused;
  static constexpr std::string_view kind = "vessel", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Vessel::unused>("unused", 0, 1, "").otherwise(0)}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return 1.0 * q; }
  double port_water(int port) const { return port == 0 ? 1e-3 : 2e-3; }
};

TEST(Heights, WarmWaterRisesByItsLackOfWeight) {
  Network n;
  int const riser = n.add<Cooler>("low", "high", {40}), fall = n.add<Cooler>("high", "low", {60});
  n.installation.heights["high"] = 3;
  Plan plan = n.plan();
  State state{plan};
  for (int i = 0; i < 2; ++i) {
    state.x[plan.branches[plan.first_branch[riser]].first_cell + i] = 343.15;
    state.x[plan.branches[plan.first_branch[fall]].first_cell + i] = 323.15;
  }
  refresh_local_fluid(plan, state);
  FlowSolver{plan}.solve(state);
  // The toy liquid loses 0.5 kg/m³ a kelvin: 10 kg/m³ over 3 m against 2·(40 + 60) Pa·s/kg.
  EXPECT_NEAR(state.flow[plan.first_branch[riser]], 10 * g * 3 / 200, 1e-9);
}

TEST(Heights, NothingMovesWhereAllIsEquallyWarm) {
  Network n;
  int const riser = n.add<Cooler>("low", "high", {40});
  n.add<Cooler>("high", "low", {60});
  n.installation.heights["high"] = 3;
  Plan plan = n.plan();
  State state{plan};
  refresh_local_fluid(plan, state);
  FlowSolver{plan}.solve(state);
  EXPECT_EQ(state.flow[plan.first_branch[riser]], 0);
}

TEST(Heights, ACheckHoldsAgainstThermosiphonBelowItsOpeningHead) {
  for (double const opening : {290.0, 300.0}) {  // the column pulls with 294.2 Pa
    Network n;
    int const riser = n.add<Cooler>("low", "high", {40}), fall = n.add<Cooler>("high", "end", {60});
    n.add<Check>("end", "low", {opening, 0});
    n.installation.heights["high"] = 3;
    Plan plan = n.plan();
    State state{plan};
    for (int i = 0; i < 2; ++i) {
      state.x[plan.branches[plan.first_branch[riser]].first_cell + i] = 343.15;
      state.x[plan.branches[plan.first_branch[fall]].first_cell + i] = 323.15;
    }
    refresh_local_fluid(plan, state);
    FlowSolver{plan}.solve(state);
    EXPECT_NEAR(state.flow[plan.first_branch[riser]], std::max(0.0, 10 * g * 3 - opening) / 200, 1e-9) << opening;
  }
}

TEST(OwnFluid, FillsThePartThatHangsTogetherWithItsJoint) {
  Network n;
  int const here = n.add<Cooler>("a", "b", {1}), there = n.add<Cooler>("c", "d", {1});
  n.add<Link>("b", "a", {}), n.add<Link>("d", "c", {});
  n.installation.own_fluids.push_back({"d", std::make_shared<Liquid>(900 + 0.5 * 20), 313.15});
  Plan const plan = n.plan();
  EXPECT_NEAR(plan.fluids[plan.first_branch[here]].density, 1000, 1e-9);
  EXPECT_NEAR(plan.fluids[plan.first_branch[there]].density, 900, 1e-9);
  EXPECT_NEAR(plan.capacity[plan.branches[plan.first_branch[there]].first_cell], 1e-3 * 900 * 4180, 1e-9);
  EXPECT_NEAR(plan.capacity[plan.branches[plan.first_branch[here]].first_cell], 1e-3 * 1000 * 4180, 1e-9);
}

TEST(PortWater, IsHeldByTheJointsOfItsPiece) {
  Network n;
  n.add<Vessel>("top", "bottom", {}), n.add<Vessel>("bottom", "top", {});
  Plan const plan = n.plan();
  double const joint_water = 0.005;  // [kg]
  for (char const* name : {"top", "bottom"})
    EXPECT_NEAR(plan.capacity[plan.first_joint + joint(plan, name)], (joint_water + 3) * 4180, 1e-9);
}

/// A circulator under an expansion tank: which side it pumps to decides the pressures.
struct Filled {
  Plan plan;
  State state;
  static Installation pieces(bool pumps_away) {
    Network n;
    n.add<Pump>("suction", "far", {4e4, 0});
    n.add<Throttle>("far", "suction", {1e6});
    Piece tank{"tank", kind_of<ExpansionTank>(), {}, {pumps_away ? "suction" : "far", "inside"}, "", {}};
    tank.values.resize(tank.kind->fields.size()), tank.values[0].numbers = {3e4};
    n.installation.pieces.push_back(tank);
    n.installation.heights["far"] = 2;
    return n.installation;
  }
  explicit Filled(bool pumps_away) : plan{lay_out(pieces(pumps_away))}, state{plan} {
    state.mode[0] = 1;
    FlowSolver{plan}.solve(state);
  }
  double at(char const* name) const { return absolute_pressures(plan, state)[joint(plan, name)]; }
};

TEST(AbsolutePressure, StaysAtTheTankAndFollowsHeadAndHeight) {
  // 40 kPa of pump head and 2 m of water above; 10 Pa for what the flow loses in the least slopes
  Filled const away{true};
  EXPECT_NEAR(away.at("suction"), air + 3e4, 1e-6);
  EXPECT_NEAR(away.at("far"), air + 3e4 + 4e4 - 1000 * g * 2, 10);
  EXPECT_NEAR(away.at("inside"), away.at("suction"), 1);
  Filled const towards{false};
  EXPECT_NEAR(towards.at("far"), air + 3e4, 1e-6);
  EXPECT_NEAR(towards.at("suction"), air + 3e4 - 4e4 + 1000 * g * 2, 10);
}

TEST(AbsolutePressure, IsUnknownWithoutATank) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Throttle>("b", "a", {1});
  Plan const plan = n.plan();
  for (double const p : absolute_pressures(plan, State{plan})) EXPECT_TRUE(std::isnan(p));
}

}  // namespace
}  // namespace steadyfire
