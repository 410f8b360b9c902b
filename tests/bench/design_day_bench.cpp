/// What a design day of the four-zone house costs, one thread; and the same by CVODE with KLU.

#include <benchmark/benchmark.h>

#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

void four_zone_day(benchmark::State& state) {
  auto const project = whole_run::shipped("four_zone_house");
  MarchOptions options;
  options.by_cvode = state.range(0);
  for (auto _ : state) {
    auto const out = whole_run::march(project, 24, options);
    state.counters["starts"] = double(out.starts);
  }
}
BENCHMARK(four_zone_day)->ArgName("cvode")->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

/// Two water temperatures in one house: how often a modulating valve asks for new flows.
void mixed_day(benchmark::State& state) {
  auto const project = whole_run::shipped("slab_beside_fin_tube");
  for (auto _ : state) {
    auto const out = whole_run::march(project, 24, {});
    state.counters["starts"] = double(out.starts), state.counters["flow solves"] = double(out.statistics.flow_solves);
  }
}
BENCHMARK(mixed_day)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace steadyfire
