#include "sim/network/topology.hpp"

#include <gtest/gtest.h>

#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

using namespace toy;

TEST(Topology, OneRingIsOneIslandWithOneLoopAndNoDeadLeg) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Throttle>("b", "c", {1}), n.add<Throttle>("c", "a", {1});
  auto const t = study_topology(n.plan());
  EXPECT_EQ(t.islands, 1);
  EXPECT_EQ(t.loops, 1);
  EXPECT_EQ(t.dead_leg, (std::vector<bool>{false, false, false}));
  EXPECT_EQ(t.lonely, (std::vector<bool>{false, false, false}));
}

TEST(Topology, TwoBranchesSideBySideAreALoop) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Throttle>("a", "b", {1});
  auto const t = study_topology(n.plan());
  EXPECT_EQ(t.loops, 1);
  EXPECT_EQ(t.dead_leg, (std::vector<bool>{false, false}));
}

TEST(Topology, ABranchFromAJointToItselfIsALoop) {
  Network n;
  n.add<Throttle>("a", "a", {1}), n.add<Throttle>("a", "b", {1});
  auto const t = study_topology(n.plan());
  EXPECT_EQ(t.loops, 1);
  EXPECT_EQ(t.dead_leg, (std::vector<bool>{false, true}));
}

TEST(Topology, ALegWithoutReturnIsDeadAndItsEndLonely) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Throttle>("b", "a", {1}), n.add<Throttle>("b", "leg", {1}), n.add<Throttle>("leg", "end", {1});
  auto const plan = n.plan();
  auto const t = study_topology(plan);
  EXPECT_EQ(t.dead_leg, (std::vector<bool>{false, false, true, true}));
  for (auto name : {"a", "b", "leg", "end"}) EXPECT_EQ(t.lonely[joint(plan, name)], std::string(name) == "end") << name;
}

TEST(Topology, ABridgeBetweenTwoLoopsCarriesNoCirculation) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Throttle>("b", "a", {1});
  n.add<Throttle>("b", "c", {1});
  n.add<Throttle>("c", "d", {1}), n.add<Throttle>("d", "c", {1});
  auto const t = study_topology(n.plan());
  EXPECT_EQ(t.islands, 1);
  EXPECT_EQ(t.loops, 2);
  EXPECT_EQ(t.dead_leg, (std::vector<bool>{false, false, true, false, false}));
}

TEST(Topology, AShutBranchOpensItsLoopAndParts) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Throttle>("b", "a", {1}), n.add<Throttle>("b", "c", {1});
  auto const plan = n.plan();
  auto const t = study_topology(plan, {true, false, false});
  EXPECT_EQ(t.loops, 0);
  EXPECT_EQ(t.islands, 2);
  EXPECT_NE(t.island[joint(plan, "a")], t.island[joint(plan, "c")]);
  EXPECT_EQ(t.dead_leg, (std::vector<bool>{true, true, true}));
}

TEST(Topology, LoopsAreBranchesLessJointsPlusIslands) {
  // Kirchhoff's count, on a lattice of 4 × 5 joints beside a lone pair.
  Network n;
  auto const at = [](int i, int k) { return std::to_string(i) + "," + std::to_string(k); };
  int branches = 0;
  for (int i = 0; i < 4; ++i)
    for (int k = 0; k < 5; ++k) {
      if (i < 3) n.add<Throttle>(at(i, k), at(i + 1, k), {1}), ++branches;
      if (k < 4) n.add<Throttle>(at(i, k), at(i, k + 1), {1}), ++branches;
    }
  n.add<Throttle>("x", "y", {1}), ++branches;
  auto const t = study_topology(n.plan());
  EXPECT_EQ(t.islands, 2);
  EXPECT_EQ(t.loops, 3 * 4);  // the meshes one sees
  EXPECT_EQ(t.loops, branches - 22 + 2);
}

TEST(Topology, TextHasOneLineABranch) {
  Network n;
  n.add<Throttle>("a", "b", {1}), n.add<Cooler>("b", "a", {1});
  EXPECT_EQ(network_text(n.plan()), "throttle 0 (throttle): a -> b\ncooler 1 (cooler): b -> a, 2 cells\n");
}

}  // namespace
}  // namespace steadyfire
