#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "sim/hydraulics/flows.hpp"
#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

using namespace toy;

constexpr double g = 9.80665;

/// A plan with its state, solved on demand.
struct Bench {
  Plan plan;
  State state;
  FlowSolver solver;
  explicit Bench(Network const& n) : plan{n.plan()}, state{plan}, solver{plan} {}
  int solve() { return solver.solve(state); }
  double flow(int piece) const { return state.flow[plan.first_branch[piece]]; }
  double pressure(std::string const& name) const { return state.pressure[joint(plan, name)]; }
};

/// What makes flows and pressures a solution; for laws that rise with flow, the solution.
/// What the solver promises: flows as good as 1e-9 of the largest, or of 1 kg/s, or rounding of
/// pressure over the least slope; pressures 1 mPa or 1e-9 of the largest, and 0.01 Pa·s/kg of extra slope.
void expect_solution(Bench const& b) {
  std::size_t const n = b.plan.branches.size();
  std::vector<double> surplus(b.plan.joints);
  double most = 1e-12, strongest = 0;
  for (int j = 0; j < b.plan.joints; ++j) {
    surplus[j] = b.plan.joint_inflow[j] * b.plan.fluid.density;
    most = std::max(most, std::abs(surplus[j])), strongest = std::max(strongest, std::abs(b.state.pressure[j]));
  }
  for (double q : b.state.flow) most = std::max(most, std::abs(q));
  double const off = 2e-9 * std::max(1.0, most) + 4e-13 * strongest;

  auto const losses = [&](double shift) {
    auto flow = b.state.flow;
    for (double& q : flow) q += shift;
    auto now = b.state.now(b.plan);
    now.flow = flow.data();
    std::vector<WithSlope> loss(n);
    for (auto const& batch : b.plan.batches) batch->losses(now, loss.data());
    return loss;
  };
  auto const less = losses(-off), more = losses(off);
  std::vector<Way> ways(n);
  for (auto const& batch : b.plan.batches) batch->ways(b.state.now(b.plan), ways.data());
  for (std::size_t i = 0; i < n; ++i) {
    auto const& run = b.plan.branches[i];
    int const inlet = run.inlet - b.plan.first_joint, outlet = run.outlet - b.plan.first_joint;
    double const q = b.state.flow[i], fall = b.state.pressure[inlet] - b.state.pressure[outlet];
    double const allowed = 0.0101 * std::abs(q) + 2e-3 + 2e-9 * strongest;
    surplus[inlet] -= q, surplus[outlet] += q;
    if (ways[i] == Way::shut) {
      EXPECT_EQ(q, 0) << i;
      continue;
    }
    EXPECT_LE(fall, more[i].value + allowed) << "branch " << i << " should carry more";
    bool const is_held = ways[i] == Way::forward && q == 0;
    if (!is_held) { EXPECT_GE(fall, less[i].value - allowed) << "branch " << i << " should carry less"; }
    if (ways[i] == Way::forward) { EXPECT_GE(q, 0) << "check " << i << " runs backwards"; }
  }
  for (int j = 0; j < b.plan.joints; ++j)
    if (!b.plan.joint_head[j]) { EXPECT_NEAR(surplus[j], 0, 1e-12 * most) << "joint " << j; }
}

TEST(Flows, TwoLoopsOfFixedResistancesHaveTheTabulatedFlows) {
  // Check value N1, two loops with h = r·Q² [m, m³/s]: solved by an independent root finder, printed to 1e-5.
  Network n;
  auto const add = [&](char const* from, char const* to, double r) { return n.add<Throttle>(from, to, {g * r / 1000}); };
  int const ca = add("C", "A", 200), cd = add("C", "D", 500), ad = add("A", "D", 2500), ab = add("A", "B", 800), db = add("D", "B", 300);
  n.inflow("C", 0.5), n.inflow("B", -0.5);
  Bench b{n};
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(ca) / 1000, .27467, 1e-5);
  EXPECT_NEAR(b.flow(cd) / 1000, .22533, 1e-5);
  EXPECT_NEAR(b.flow(ad) / 1000, .06418, 1e-5);
  EXPECT_NEAR(b.flow(ab) / 1000, .21049, 1e-5);
  EXPECT_NEAR(b.flow(db) / 1000, .28951, 1e-5);
  auto const below = [&](char const* j) { return (b.pressure("C") - b.pressure(j)) / (1000 * g); };
  EXPECT_NEAR(below("A"), 15.0886, 1.5e-3);
  EXPECT_NEAR(below("D"), 25.3870, 1e-3);
  EXPECT_NEAR(below("B"), 50.5324, 5e-3);
}

TEST(Flows, PumpCommonPipeAndThreeZonesFollowTheClosedForm) {
  // Check value N5, closed form: H = 6 − 0.5Q² m, common 0.2Q², zones 4, 6, 9 (m³/h); Q = √(H₀/(a + r_c + 1/S²)), S = Σ r^−½.
  double const rho = 1000, per = 3600 / rho;  // m³/h per kg/s
  auto const pa = [&](double r) { return rho * g * r * per * per; };
  Network n;
  int const pump = n.add<Pump>("return", "out", {6 * rho * g, pa(0.5)});
  n.add<Throttle>("out", "supply", {pa(0.2)});
  std::array<int, 3> zone, valve;
  std::array<double, 3> const r{4, 6, 9};
  for (int z = 0; z < 3; ++z) {
    auto const mid = "zone " + std::to_string(z);
    valve[z] = n.add<ZoneValve>("supply", mid, {pa(1)});
    zone[z] = n.add<Throttle>(mid, "return", {pa(r[z] - 1)});
  }
  Bench b{n};
  b.state.mode[pump] = 1;
  for (int v : valve) b.state.mode[v] = 1;
  auto const expect = [&](int zones) {
    double s = 0;
    for (int z = 0; z < zones; ++z) s += 1 / std::sqrt(r[z]);
    double const Q = std::sqrt(6 / (0.5 + 0.2 + 1 / (s * s)));
    EXPECT_NEAR(b.flow(pump) * per, Q, 1e-5 * Q);
    for (int z = 0; z < zones; ++z) EXPECT_NEAR(b.flow(zone[z]) * per, Q / s / std::sqrt(r[z]), 1e-5 * Q);
    return Q;
  };
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(expect(3), 2.10919, 1e-5);
  EXPECT_NEAR((b.pressure("out") - b.pressure("return")) / (rho * g), 3.77565, 1e-4);
  b.state.mode[valve[2]] = 0;
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(expect(2), 1.77135, 1e-5);
  EXPECT_EQ(b.flow(zone[2]), 0);
  EXPECT_EQ(b.flow(valve[2]), 0);
}

TEST(Flows, ReservoirsDriveFlowByTheirHeads) {
  // p = ρ·g·h; square law: q = √(ρ·g·Δh/r).
  Network n{998};
  int const pipe = n.add<Throttle>("high", "low", {2});
  n.head("high", 13), n.head("low", 5);
  Bench b{n};
  b.solve();
  EXPECT_NEAR(b.flow(pipe), std::sqrt(998 * g * 8 / 2), 5e-3);  // 0.01·q of 78 kPa, halved by the root
  EXPECT_DOUBLE_EQ(b.pressure("high"), 13 * 998 * g);
}

TEST(Flows, OneHeadAndAnInflowReachEachOther) {
  Network n;
  int const first = n.add<Throttle>("in", "mid", {50}), second = n.add<Throttle>("mid", "out", {70, 1.852});
  n.head("out", 10), n.inflow("in", 2e-3);
  Bench b{n};
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(first), 2, 1e-12);
  EXPECT_NEAR(b.flow(second), 2, 1e-12);
  EXPECT_NEAR(b.pressure("in"), 10 * 1000 * g + 50 * 4 + 70 * std::pow(2, 1.852), 0.5);
}

TEST(Flows, InflowsThatDoNotSumToZeroAreNamed) {
  Network n;
  n.add<Throttle>("in", "out", {50});
  n.inflow("in", 2e-3), n.inflow("out", -1e-3);
  Bench b{n};
  try {
    b.solve();
    FAIL();
  } catch (Stopped const& s) {
    EXPECT_EQ(s.code, "E410");
    EXPECT_NE(std::string(s.what()).find("joint in"), std::string::npos);
  }
}

TEST(Flows, AnInflowAgainstACheckHasNoSolution) {
  Network n;
  n.add<Check>("out", "in", {0, 50});
  n.inflow("in", 2e-3), n.head("out", 0);
  Bench b{n};
  EXPECT_THROW(b.solve(), Stopped);
}

/// Boiler loop with its pump, common pipe between close tees, zones with pump and check each.
struct House {
  Network n;
  int boiler_pump, common;
  std::vector<int> pump, check, emitter;
  explicit House(int zones, double opening = 1500) {
    boiler_pump = n.add<Pump>("boiler out", "tee a", {40e3, 80e3});
    common = n.add<Throttle>("tee a", "tee b", {10});
    n.add<Throttle>("tee b", "boiler in", {20e3});
    n.add<Throttle>("boiler in", "boiler out", {60e3});
    n.add<Link>("tee a", "supply", {});
    n.add<Link>("return", "tee b", {});
    for (int z = 0; z < zones; ++z) {
      auto const name = std::to_string(z);
      pump.push_back(n.add<Pump>("supply", "p" + name, {30e3, 200e3}));
      check.push_back(n.add<Check>("p" + name, "c" + name, {opening, 50e3}));
      emitter.push_back(n.add<Throttle>("c" + name, "return", {300e3 * (1 + z), 1.8}));
    }
  }
};

TEST(Flows, AllPumpsOffIsExactlyNothing) {
  House h{4};
  Bench b{h.n};
  b.solve();
  for (double q : b.state.flow) EXPECT_EQ(q, 0);
  for (int p : h.pump) b.state.mode[p] = 1;
  b.state.mode[h.boiler_pump] = 1;
  b.solve();
  EXPECT_GT(b.flow(h.boiler_pump), 0.1);
  for (auto& m : b.state.mode) m = 0;
  b.solve();  // from running
  for (double q : b.state.flow) EXPECT_EQ(q, 0);
  for (double p : b.state.pressure) EXPECT_NEAR(p, 0, 1e-3);
}

TEST(Flows, CommonPipeBetweenTeesReverses) {
  House h{3};
  Bench b{h.n};
  b.state.mode[h.boiler_pump] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(h.common), b.flow(h.boiler_pump), 1e-12);
  for (int p : h.pump) EXPECT_EQ(b.flow(p), 0);  // held shut by the opening pressure of the check
  for (int p : h.pump) b.state.mode[p] = 1;
  b.state.mode[h.boiler_pump] = 0;
  b.solve();
  expect_solution(b);
  double zones = 0;
  for (int p : h.pump) zones += b.flow(p);
  EXPECT_GT(zones, 0.1);
  EXPECT_LT(b.flow(h.common), 0);
}

TEST(Flows, ACommonPipeWithBalancedFlowsCarriesNothing) {
  // A bridge of four equal arms: the middle carries 0 by symmetry, of either sign by rounding.
  Network n;
  int const pump = n.add<Pump>("d", "a", {30e3, 1e4});
  for (auto mid : {"b", "c"}) n.add<Throttle>("a", mid, {1e5}), n.add<Throttle>(mid, "d", {2e5});
  int const middle = n.add<Throttle>("b", "c", {1e4});
  Bench b{n};
  b.state.mode[pump] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_EQ(b.flow(middle), 0);
}

TEST(Flows, ADeadHeadedPumpRaisesItsFullPressure) {
  Network n;
  int const pump = n.add<Pump>("return", "out", {30e3, 1e4}), valve = n.add<ZoneValve>("out", "zone", {10});
  n.add<Throttle>("zone", "return", {10});
  Bench b{n};
  b.state.mode[pump] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_EQ(b.flow(pump), 0);
  EXPECT_NEAR(b.pressure("out") - b.pressure("return"), 30e3, 1e-3);
  b.state.mode[valve] = 1;
  b.solve();
  EXPECT_NEAR(b.flow(pump), std::sqrt(30e3 / (1e4 + 20)), 1e-5);
  b.state.mode[valve] = 0;
  b.solve();
  for (double q : b.state.flow) EXPECT_EQ(q, 0);
}

TEST(Flows, ACheckHoldsAgainstAPumpThatPushesBackwards) {
  Network n;
  int const pump = n.add<Pump>("a", "b", {30e3, 1e4});
  int const check = n.add<Check>("a", "c", {500, 1e4});
  n.add<Throttle>("b", "c", {1e4});
  Bench b{n};
  b.state.mode[pump] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_EQ(b.flow(pump), 0);
  EXPECT_EQ(b.flow(check), 0);
}

TEST(Flows, ACheckStaysShutBelowItsOpeningPressure) {
  for (double rise : {900.0, 1100.0}) {
    Network n;
    int const pump = n.add<Pump>("a", "b", {rise, 1e4});
    n.add<Check>("b", "c", {1000, 1e4}), n.add<Throttle>("c", "a", {1e4});
    Bench b{n};
    b.state.mode[pump] = 1;
    b.solve();
    expect_solution(b);
    if (rise < 1000) { EXPECT_EQ(b.flow(pump), 0); }
    else EXPECT_NEAR(b.flow(pump), std::sqrt(100 / 3e4), 2e-6);
  }
}

TEST(Flows, OfTwoPumpsSideBySideTheCheckOfTheOneAtRestShuts) {
  Network n;
  std::array<int, 2> pump;
  for (int i = 0; i < 2; ++i) {
    auto const mid = "m" + std::to_string(i);
    pump[i] = n.add<Pump>("in", mid, {30e3, 1e4});
    n.add<Check>(mid, "out", {0, 2e3});
  }
  n.add<Throttle>("out", "in", {5e4});
  Bench b{n};
  b.state.mode[pump[0]] = b.state.mode[pump[1]] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(pump[0]), b.flow(pump[1]), 1e-9);
  b.state.mode[pump[1]] = 0;
  b.solve();
  expect_solution(b);
  EXPECT_EQ(b.flow(pump[1]), 0);
  EXPECT_NEAR(b.flow(pump[0]), std::sqrt(30e3 / (1e4 + 2e3 + 5e4)), 1e-6);
  b.state.mode[pump[1]] = 1, b.state.mode[pump[0]] = 0;
  b.solve();
  expect_solution(b);
  EXPECT_EQ(b.flow(pump[0]), 0);
  EXPECT_GT(b.flow(pump[1]), 0.5);
}

TEST(Flows, APumpAgainstAStrongerOneRunsBackwardsOnlyWithoutCheck) {
  for (bool check : {false, true}) {
    Network n;
    int const strong = n.add<Pump>("in", "out", {50e3, 1e4}), weak = n.add<Pump>("in", "out", {10e3, 1e4, 0, 0, 1, double(check)});
    n.add<Throttle>("out", "in", {5e5});
    Bench b{n};
    b.state.mode[strong] = b.state.mode[weak] = 1;
    b.solve();
    expect_solution(b);
    if (check) { EXPECT_EQ(b.flow(weak), 0); }
    else EXPECT_LT(b.flow(weak), 0);
  }
}

TEST(Flows, RegulatedPumpsMeetTheirSettings) {
  Network n;
  int const constant = n.add<Pump>("a", "b", {30e3, 1e4, Pump::constant, 12e3}), ra = n.add<Throttle>("b", "a", {3e5});
  int const fixed = n.add<Pump>("c", "d", {30e3, 1e4, Pump::fixed, 0.1}), rc = n.add<Throttle>("d", "c", {3e5});
  int const rising = n.add<Pump>("e", "f", {30e3, 1e4, Pump::rising, 12e3, 0.2}), re = n.add<Throttle>("f", "e", {3e5});
  int const weak = n.add<Pump>("g", "h", {3e3, 1e4, Pump::constant, 12e3}), rg = n.add<Throttle>("h", "g", {3e5});
  Bench b{n};
  for (int p : {constant, fixed, rising, weak}) b.state.mode[p] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(ra), std::sqrt(12e3 / 3e5), 1e-6);
  EXPECT_NEAR(b.flow(rc), 0.1, 0.0005);
  EXPECT_NEAR(b.flow(re), 0.2, 1e-6);  // 12 kPa = 3e5·0.2²: the system curve goes through the setting
  EXPECT_NEAR(b.flow(rg), std::sqrt(3e3 / 3.1e5), 1e-6);
}

TEST(Flows, LinksWithoutLossShareTheFlow) {
  Network n;
  int const pump = n.add<Pump>("a", "b", {30e3, 1e4});
  int const one = n.add<Link>("b", "c", {}), two = n.add<Link>("c", "b", {});
  n.add<Link>("c", "c", {});
  n.add<Throttle>("c", "a", {1e5});
  Bench b{n};
  b.state.mode[pump] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(pump), std::sqrt(30e3 / 1.1e5), 1e-6);
  EXPECT_NEAR(b.flow(one), b.flow(pump) / 2, 1e-8);
  EXPECT_NEAR(b.flow(two), -b.flow(pump) / 2, 1e-8);
}

TEST(Flows, IslandsDoNotDisturbEachOther) {
  Network n;
  int const left = n.add<Pump>("a", "b", {30e3, 1e4}), right = n.add<Pump>("x", "y", {10e3, 1e4});
  n.add<Throttle>("b", "a", {1e5}), n.add<Throttle>("y", "x", {1e5}), n.add<Throttle>("x", "leg", {1e5});
  Bench b{n};
  b.state.mode[left] = 1;
  b.solve();
  expect_solution(b);
  double const alone = b.flow(left);
  EXPECT_EQ(b.flow(right), 0);
  b.state.mode[right] = 1;
  b.solve();
  expect_solution(b);
  EXPECT_NEAR(b.flow(left), alone, 1e-9);
  EXPECT_EQ(b.pressure("a"), 0);
  EXPECT_EQ(b.pressure("x"), 0);
  EXPECT_EQ(b.pressure("leg"), 0);
}

/// A connected random network with every toy in it, some modes on.
Network random_network(std::mt19937& random, int joints, int branches, std::vector<int>& modes) {
  auto const pick = [&](int n) { return std::uniform_int_distribution{0, n - 1}(random); };
  auto const even = [&](double low, double high) { return std::uniform_real_distribution{low, high}(random); };
  auto const decade = [&](double low, double high) { return std::exp(even(std::log(low), std::log(high))); };
  Network n;
  modes.clear();
  for (int b = 0; b < branches; ++b) {
    int const to = b < joints - 1 ? b + 1 : pick(joints);
    int from = b < joints - 1 ? pick(b + 1) : pick(joints);
    if (from == to) from = (to + 1) % joints;
    auto const i = std::to_string(from), o = std::to_string(to);
    switch (pick(10)) {
      case 0: n.add<Pump>(i, o, {decade(5e3, 8e4), decade(1e4, 1e6), 0, 0, 1, double(pick(2))}); break;
      case 1: n.add<Pump>(i, o, {decade(3e4, 8e4), decade(1e4, 1e6), Pump::constant, decade(5e3, 2e4), 1, double(pick(2))}); break;
      case 2: n.add<Check>(i, o, {pick(2) ? 0 : decade(100, 5e3), decade(1e3, 1e6)}); break;
      case 3: n.add<ZoneValve>(i, o, {decade(1e3, 1e6)}); break;
      case 4: n.add<Link>(i, o, {}); break;
      case 5: n.add<Pump>(i, o, {decade(3e4, 8e4), decade(1e4, 1e6), Pump::fixed, decade(0.02, 0.5), 1, double(pick(2))}); break;
      default: n.add<Throttle>(i, o, {decade(1e3, 1e7), pick(2) ? 2 : even(1, 2)});
    }
    modes.push_back(pick(2));
  }
  return n;
}

TEST(Flows, RandomNetworksAreSolvedAndDoNotDependOnTheStart) {
  std::mt19937 random{7};
  int most = 0;
  long total = 0, count = 0;
  for (int trial = 0; trial < 300; ++trial) {
    int const joints = 3 + trial % 150, branches = std::min(300, joints + 1 + int(random() % (joints + 5)));
    std::vector<int> modes;
    Bench b{random_network(random, joints, branches, modes)};
    b.state.mode = modes;
    SCOPED_TRACE(trial);
    int steps = 0;
    ASSERT_NO_THROW(steps = b.solve());
    most = std::max(most, steps), total += steps, ++count;
    expect_solution(b);
    auto const found = b.state.flow;
    double largest = 0;
    for (double q : found) largest = std::max(largest, std::abs(q));
    auto const expect_same = [&] {
      for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(b.state.flow[i], found[i], 1e-6 * std::max(1.0, largest)) << i;
    };
    ASSERT_NO_THROW(b.solve());
    expect_same();
    for (double& q : b.state.flow) q = std::normal_distribution{0.0, 0.5}(random);
    ASSERT_NO_THROW(b.solve());
    expect_solution(b);
      expect_same();
    for (auto& m : b.state.mode)
      if (random() % 4 == 0) m = 1 - m;
    ASSERT_NO_THROW(steps = b.solve());
    most = std::max(most, steps), total += steps, ++count;
    expect_solution(b);
    if (HasFailure()) break;
  }
  RecordProperty("mean_steps", std::to_string(double(total) / double(count)));
  RecordProperty("most_steps", most);
}

TEST(LocalFluid, IsThatOfTheCellsOrOfTheJoints) {
  Network n;
  int const cooler = n.add<Cooler>("a", "b", {1}), pipe = n.add<Throttle>("b", "a", {1});
  Bench b{n};
  b.state.x[b.plan.branches[0].first_cell] = 320, b.state.x[b.plan.branches[0].first_cell + 1] = 340;
  b.state.x[b.plan.first_joint + joint(b.plan, "a")] = 300, b.state.x[b.plan.first_joint + joint(b.plan, "b")] = 310;
  refresh_local_fluid(b.plan, b.state);
  EXPECT_DOUBLE_EQ(b.state.local[b.plan.first_branch[cooler]].density, b.plan.fluid_law->at(330).density);
  EXPECT_DOUBLE_EQ(b.state.local[b.plan.first_branch[pipe]].density, b.plan.fluid_law->at(305).density);
  b.state.x[b.plan.branches[0].first_cell] = 500;
  refresh_local_fluid(b.plan, b.state);
  EXPECT_DOUBLE_EQ(b.state.local[b.plan.first_branch[cooler]].density, b.plan.fluid_law->at(373.15).density);
}

}  // namespace
}  // namespace steadyfire
