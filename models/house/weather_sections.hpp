#pragma once
/// The kinds of weather that a site may have.

#include "models/weather/weather.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

struct SteadyWeather {
  Temperature outdoors;
  static constexpr std::string_view kind = "constant", family = "weather", summary = "a constant outdoor temperature";
  static std::vector<Field> schema() { return {field<&SteadyWeather::outdoors>("outdoors", unit::degF, -80, 120,
      "constant outdoor temperature")}; }
};

struct DailyWave {
  Temperature mean;
  TemperatureChange swing;
  Time warmest;
  static constexpr std::string_view kind = "daily wave", family = "weather", summary = "the same day repeated";
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&DailyWave::mean>("mean", degF, -80, 120, "average of the day"),
            field<&DailyWave::swing>("swing", degF_change, 0, 80, "daily swing, lowest to highest"),
            clock<&DailyWave::warmest>("warmest", "time of the highest temperature").otherwise(15)};
  }
};

/// A year nobody measured, from monthly normals, January first.
struct NormalsWeather {
  std::vector<Temperature> mean;
  std::vector<TemperatureChange> range;
  TemperatureChange fronts;
  int seed;
  static constexpr std::string_view kind = "normals", family = "weather", summary = "a generated year from monthly normals";
  static std::vector<Field> schema() {
    using namespace unit;
    return {list<&NormalsWeather::mean>("mean", degF, -80, 120, "twelve monthly averages"),
            list<&NormalsWeather::range>("daily_range", degF_change, 0, 80, "twelve average daily ranges"),
            field<&NormalsWeather::fronts>("fronts", degF_change, 0, 40, "standard deviation from passing fronts in the coldest month")
                .otherwise(9),
            count<&NormalsWeather::seed>("seed", 0, 1000000, "another seed gives another year").otherwise(1)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    each_value<&NormalsWeather::mean, &NormalsWeather::range>(e, [&](std::string const& key, Value const& v) {
      if (v.given && v.numbers.size() != 12)
        faults.add({"E228", v.at, e.who + ": " + key + " has " + std::to_string(v.numbers.size()) + " values",
                    "twelve, January first", "correct the list"});
    });
  }
};

/// A typical year in the open TMY3 form.
struct TypicalYearFile {
  std::string file;
  static constexpr std::string_view kind = "TMY3 file", family = "weather", summary = "typical year in TMY3 format";
  static std::vector<Field> schema() { return {text<&TypicalYearFile::file>("file", "path of the file, relative to the scenario")}; }
};

/// Any hourly CSV.
struct HourlyFile {
  std::string file, time_column, time_format, value_column, value_unit;
  static constexpr std::string_view kind = "hourly file", family = "weather", summary = "hourly values from a CSV file";
  static std::vector<Field> schema() {
    return {text<&HourlyFile::file>("file", "path of the file, relative to the scenario"),
            text<&HourlyFile::time_column>("time_column", "heading of the time column"),
            text<&HourlyFile::time_format>("time_format", "time format as in C strptime: \"%Y-%m-%dT%H:%M\""),
            text<&HourlyFile::value_column>("temperature_column", "heading of the dry-bulb temperature column"),
            text<&HourlyFile::value_unit>("unit", "unit of that column: °F, °C or K")};
  }
};

/// Errors  BadInput from the file readers; adds E301 where there is no such file and E315 where a unit is no temperature.
Weather make_weather(Entry const& stated, std::string const& scenario_file, Diagnostics& faults);

}  // namespace steadyfire
