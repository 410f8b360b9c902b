#include "models/house/weather_sections.hpp"

namespace steadyfire {

Weather make_weather(Entry const& stated, std::string const&, Diagnostics&) {
  auto const& kind = stated.kind->name;
  if (kind == SteadyWeather::kind) return constant_weather(*fill<SteadyWeather>(stated.values).outdoors);
  if (kind == DailyWave::kind) {
    auto const w = fill<DailyWave>(stated.values);
    return daily_wave(*w.mean, *w.swing / 2, *w.warmest / 3600);
  }
  auto const n = fill<NormalsWeather>(stated.values);
  MonthlyNormals normals{};
  for (int m = 0; m < 12; ++m) normals.mean[m] = *n.mean.at(m), normals.daily_range[m] = *n.range.at(m);
  normals.front_swing = *n.fronts;
  return invented_year(normals, std::uint64_t(n.seed));
}

}  // namespace steadyfire
