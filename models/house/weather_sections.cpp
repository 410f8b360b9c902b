#include "models/house/weather_sections.hpp"

#include <filesystem>

#include "models/weather/weather_file.hpp"
#include "sim/core/files.hpp"
#include "sim/core/units.hpp"

namespace steadyfire {

Weather make_weather(Entry const& stated, std::string const& scenario_file, Diagnostics& faults) {
  auto const& kind = stated.kind->name;
  auto const beside = [&](std::string const& file) { return std::filesystem::path(scenario_file).parent_path() / file; };
  if (kind == SteadyWeather::kind) return constant_weather(*fill<SteadyWeather>(stated.values).outdoors);
  if (kind == DailyWave::kind) {
    auto const w = fill<DailyWave>(stated.values);
    return daily_wave(*w.mean, *w.swing / 2, *w.warmest / 3600);
  }
  if (kind == TypicalYearFile::kind || kind == HourlyFile::kind) {
    auto const& file = kind == HourlyFile::kind ? value_of<&HourlyFile::file>(stated) : value_of<&TypicalYearFile::file>(stated);
    if (auto const why = refusal_of(beside(file.text)); !why.empty()) {
      faults.add(
          {"E301", file.at, stated.who + ": " + why + " \"" + file.text + "\"", "a path relative to the scenario's folder",
              "check the file name and folder"});
      return constant_weather(273.15);
    }
  }
  if (kind == TypicalYearFile::kind) return read_weather(beside(fill<TypicalYearFile>(stated.values).file), tmy3_columns());
  if (kind == HourlyFile::kind) {
    auto const h = fill<HourlyFile>(stated.values);
    auto const unit = parse_unit(h.value_unit, Temperature::dimension);
    if (!unit) {
      faults.add({"E315", value_of<&HourlyFile::value_unit>(stated).at,
                  stated.who + ": unit is \"" + h.value_unit + "\", not a temperature unit",
                  "°F, °C or K", ""});
      return constant_weather(273.15);
    }
    WeatherColumns columns;
    columns.time = h.time_column, columns.dry_bulb = h.value_column, columns.stamp_format = h.time_format, columns.unit = *unit;
    return read_weather(beside(h.file), columns);
  }
  auto const n = fill<NormalsWeather>(stated.values);
  MonthlyNormals normals{};
  for (int m = 0; m < 12; ++m) normals.mean[m] = *n.mean.at(m), normals.daily_range[m] = *n.range.at(m);
  normals.front_swing = *n.fronts;
  return invented_year(normals, std::uint64_t(n.seed));
}

}  // namespace steadyfire
