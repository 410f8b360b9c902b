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

}  // namespace
}  // namespace steadyfire
