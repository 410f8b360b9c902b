/// What a design day costs by the number of zones: the same house made larger, two boilers over a buffer tank.

#include <benchmark/benchmark.h>

#include "tests/bench/many_zones.hpp"
#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

void day_by_zones(benchmark::State& state) {
  auto const project = house_of(int(state.range(0)));
  state.counters["places"] = lay_out(project.installation).places();
  for (auto _ : state) state.counters["starts"] = double(whole_run::march(project, 24, {}).starts);
}
BENCHMARK(day_by_zones)->ArgName("zones")->RangeMultiplier(2)->Range(4, 32)->Unit(benchmark::kMillisecond);

/// The largest house shipped.
void twelve_zone_day(benchmark::State& state) {
  auto const project = whole_run::shipped("twelve_zones");
  state.counters["places"] = lay_out(project.installation).places();
  for (auto _ : state) state.counters["starts"] = double(whole_run::march(project, 24, {}).starts);
}
BENCHMARK(twelve_zone_day)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace steadyfire
