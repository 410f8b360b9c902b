// What the store and the threads of a sweep cost beyond its runs: the same thousand points of 86 s with and without them.

#include <benchmark/benchmark.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "tools/study/sweep.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

std::filesystem::path const folder = std::filesystem::temp_directory_path() / "steadyfire_sweep_bench";

Study const& study() {
  static Study const read = [] {
    std::filesystem::create_directories(folder);
    std::ofstream{folder / "bench.toml"} << "format = 1\ntitle = \"Bench\"\n[study]\nscenario = \""
                                         << in_source("/scenarios/oversized_burner.toml") << "\"\nduration = \"0.001 d\"\n"
                                            "figures = [\"starts\", \"fuel\", \"bath.mean_room\"]\n"
                                            "[[parameter]]\nname = \"minimum fire\"\nat = \"boiler.minimum_input\"\n"
                                            "from = \"8 kBtu/h\"\nto = \"38 kBtu/h\"\nsteps = 1000\n";
    return read_study(folder / "bench.toml");
  }();
  return read;
}

void points_alone(benchmark::State& state) {
  auto const points = study().points();
  auto const work = work_of(study(), points);
  for ([[maybe_unused]] auto _ : state)
    for (std::size_t i = 0; i < points.size(); ++i) benchmark::DoNotOptimize(work(i));
}
BENCHMARK(points_alone)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void points_swept(benchmark::State& state) {
  auto const points = study().points();
  for ([[maybe_unused]] auto _ : state) {
    std::filesystem::remove(folder / "bench.store");
    Store store{folder / "bench.store", study(), points, false};
    ThreadWorkers workers{1};
    sweep(study(), points, store, workers, {}, {});
  }
}
BENCHMARK(points_swept)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

}  // namespace
}  // namespace steadyfire
