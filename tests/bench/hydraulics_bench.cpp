// Time of one hydraulic solution, by size of the network and by start.

#include <benchmark/benchmark.h>

#include "models/friction.hpp"
#include "sim/hydraulics/flows.hpp"
#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

using namespace toy;

/// Copper pipe by the real law.
struct Line {
  double length, bore;
  static constexpr std::string_view kind = "line", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Line::length>("length", 0, 1e4, ""), number<&Line::bore>("bore", 0, 1, "")}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const& s) const { return pipe_loss(q, length, bore, 1.5e-6, 5, s.local()); }
};

/// A pump, a main in steps, and zones of unlike length between supply and return; every
/// third zone has a valve.
struct Building {
  Network n;
  int pump;
  std::vector<int> valves;
  explicit Building(int branches) {
    pump = n.add<Pump>("r0", "boiler", {40e3, 20e3, 0, 0, 1, 1});
    n.add<Line>("boiler", "s0", {10, 0.0266});
    for (int z = 0; int(n.installation.pieces.size()) + 4 <= branches; ++z) {
      auto const s = std::to_string(z), next = std::to_string(z + 1);
      n.add<Line>("s" + s, "s" + next, {4, 0.0266}), n.add<Line>("r" + next, "r" + s, {4, 0.0266});
      if (z % 3 == 0) {
        valves.push_back(n.add<ZoneValve>("s" + next, "z" + s, {5e4}));
        n.add<Line>("z" + s, "r" + next, {30.0 + 3 * (z % 7), 0.0138});
      } else {
        n.add<Line>("s" + next, "r" + next, {40.0 + 3 * (z % 7), 0.0138});
      }
    }
  }
};

void solve(benchmark::State& run, bool cold) {
  Building const building{int(run.range(0))};
  Plan const plan = building.n.plan();
  State state{plan};
  state.mode[building.pump] = 1;
  for (int v : building.valves) state.mode[v] = 1;
  FlowSolver solver{plan};
  solver.solve(state);
  State const rested{plan};
  long steps = 0;
  for (auto _ : run) {
    if (cold) state.flow = rested.flow, state.pressure = rested.pressure;
    else state.mode[building.valves[0]] ^= 1;  // a zone opens or shuts
    steps += solver.solve(state);
  }
  run.counters["steps"] = benchmark::Counter(double(steps), benchmark::Counter::kAvgIterations);
  run.counters["branches"] = double(plan.branches.size());
}
void Cold(benchmark::State& run) { solve(run, true); }
void ZoneSwitches(benchmark::State& run) { solve(run, false); }

/// The temperatures have moved by a little: the same flows nearly.
void Refreshed(benchmark::State& run) {
  Building const building{int(run.range(0))};
  Plan const plan = building.n.plan();
  State state{plan};
  state.mode[building.pump] = 1;
  FlowSolver solver{plan};
  long steps = 0;
  bool warm = false;
  for (auto _ : run) {
    for (auto& l : state.local) l.viscosity = warm ? 5e-4 : 5.3e-4;
    warm = !warm;
    steps += solver.solve(state);
  }
  run.counters["steps"] = benchmark::Counter(double(steps), benchmark::Counter::kAvgIterations);
}
void Losses(benchmark::State& run) {
  Plan const plan = Building{int(run.range(0))}.n.plan();
  State state{plan};
  for (auto& q : state.flow) q = 0.2;
  std::vector<WithSlope> loss(plan.branches.size());
  for (auto _ : run) {
    for (auto const& batch : plan.batches) batch->losses(state.now(plan), loss.data());
    benchmark::DoNotOptimize(loss.data());
  }
}

BENCHMARK(Cold)->Arg(30)->Arg(300)->Unit(benchmark::kMicrosecond);
BENCHMARK(ZoneSwitches)->Arg(30)->Arg(300)->Unit(benchmark::kMicrosecond);
BENCHMARK(Refreshed)->Arg(30)->Arg(300)->Unit(benchmark::kMicrosecond);
BENCHMARK(Losses)->Arg(30)->Arg(300)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace steadyfire
