// Measured weather: the reader and the statistics against values computed elsewhere.
#include "models/weather/weather.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <ostream>
#include <string>

#include "models/weather/weather_file.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

namespace fs = std::filesystem;
fs::path const source_dir{in_source()};
constexpr double ice = 273.15, kelvin_day = 86400;

std::string environment(char const* name) {
  char const* const value = std::getenv(name);
  return value ? value : "";
}

/// Ends a test whose data is not there: a failure where everything must be, else said and skipped.
#define NEED(file, what)                                                               \
  if (!fs::exists(file)) {                                                             \
    if (environment("CI") == "true") FAIL() << what << " is missing: " << file;        \
    GTEST_SKIP() << "SKIPPED: " << what << " is not on this machine: " << file;        \
  }

/// What a measured typical year comes to, in °C, K·d and °F·d.
///
/// Source  computed with numpy from the same public hourly files (TMY3, National Solar Radiation
///         Database 1991-2005 update), which tests find beside the checkout.
/// Errors  half of the last digit given: the files' tenths add up without error.
struct MeasuredYear {
  std::string file;
  double min, max, mean, cold_0_4_percent, degree_days_18_hours, degree_days_65F;
  double kWh_250_at_16;  // lost through 250 W/K below a balance point of 16 °C
};

MeasuredYear const inland{.file = "725280TY_buffalo_ny_tmy3.csv", .min = -18.9, .max = 31.7, .mean = 9.0488, .cold_0_4_percent = -14.40,
                          .degree_days_18_hours = 3639.31, .degree_days_65F = 6578.9, .kWh_250_at_16 = 18634.9};
MeasuredYear const island{.file = "703165TY_sand_point_ak_tmy3.csv", .min = -10.6, .max = 19.4, .mean = 4.4207, .cold_0_4_percent = -8.90,
                          .degree_days_18_hours = 4956.71, .degree_days_65F = 9140.6, .kWh_250_at_16 = 25373.4};

fs::path measured(std::string const& file) {
  auto const shared = environment("STEADYFIRE_SHARED");
  return (shared.empty() ? source_dir / "../shared" : fs::path{shared}) / "weather" / file;
}

void PrintTo(MeasuredYear const& year, std::ostream* out) { *out << year.file; }

class MeasuredYears : public testing::TestWithParam<MeasuredYear> {};

TEST_P(MeasuredYears, AgreeWithStatisticsComputedElsewhere) {
  auto const& year = GetParam();
  NEED(measured(year.file), "a measured year");
  auto const w = read_weather(measured(year.file), tmy3_columns());
  ASSERT_EQ(w.dry_bulb.size(), 8760u);
  EXPECT_EQ(w.first, 3600);
  auto const s = statistics(w);
  EXPECT_NEAR(s.min - ice, year.min, 1e-9);
  EXPECT_NEAR(s.max - ice, year.max, 1e-9);
  EXPECT_NEAR(s.mean - ice, year.mean, 5e-5);
  EXPECT_NEAR(s.cold_0_4_percent - ice, year.cold_0_4_percent, 1e-9);
  EXPECT_NEAR(s.degree_days_65F * 1.8, year.degree_days_65F, 0.05);
  EXPECT_NEAR(degree_days(w, 18 + ice, DayTemperature::samples), year.degree_days_18_hours, 0.005);
  EXPECT_NEAR(250 * degree_days(w, 16 + ice, DayTemperature::samples) * kelvin_day / 3.6e6, year.kWh_250_at_16, 0.05);
}

INSTANTIATE_TEST_SUITE_P(Typical, MeasuredYears, testing::Values(inland, island),
                         [](auto const& info) { return info.index == 0 ? "Inland" : "Island"; });

TEST(MeasuredWeather, TheRuleForADayMovesTheDegreeDaysOfTheInlandYear) {
  NEED(measured(inland.file), "a measured year");
  auto const w = read_weather(measured(inland.file), tmy3_columns());
  auto const s = statistics(w);
  EXPECT_NEAR(s.cold_1_percent - ice, -12.80, 1e-9);
  EXPECT_NEAR(degree_days(w, 18 + ice, DayTemperature::mean), 3560.79, 0.005);
  EXPECT_NEAR(degree_days(w, (65 + 459.67) / 1.8, DayTemperature::mid_range) * 1.8, 6611.6, 0.05);
  EXPECT_NEAR(degree_days(w, 15.5 + ice, DayTemperature::samples) * 24, 71521.6, 0.05);
  EXPECT_EQ(time_below(w, ice) / 3600, 1777);
}

// The file's first rows: 01/01/1980, 01:00 and 02:00, −0.6 °C. Time 0 meets the last row, 24:00.
TEST(MeasuredWeather, HoursStandWhereTheFileSays) {
  NEED(measured(inland.file), "a measured year");
  auto const w = read_weather(measured(inland.file), tmy3_columns());
  EXPECT_NEAR(w.at(3600) - ice, -0.6, 1e-9);
  EXPECT_NEAR(w.at(7200) - ice, -0.6, 1e-9);
  EXPECT_EQ(w.at(0), w.dry_bulb.back());
}

// Hourly normals of a mild city, in the npm package vega-datasets 3.2.1 (BSD-3-Clause): 8759 rows from
// 01:00 on 1 January to 23:00 on 31 December. Values computed with numpy from the file.
TEST(MeasuredWeather, AnyHourlyTableReadsByTheNamesOfItsColumns) {
  auto const file = source_dir / "tests/node_modules/vega-datasets/data/seattle-weather-hourly-normals.csv";
  NEED(file, "the npm package vega-datasets (npm ci in tests/)");
  auto const w = read_weather(file, {.time = "date", .dry_bulb = "temperature", .stamp_format = "%Y-%m-%dT%H:%M:%S"});
  ASSERT_EQ(w.dry_bulb.size(), 8759u);
  EXPECT_EQ(w.first, 3600);
  auto const s = statistics(w);
  EXPECT_NEAR(s.min - ice, 3.1, 1e-9);
  EXPECT_NEAR(s.max - ice, 24.4, 1e-9);
  EXPECT_NEAR(s.mean - ice, 11.127617, 5e-7);
  EXPECT_NEAR(degree_days(w, 18 + ice, DayTemperature::samples) * 24, 63184.1, 0.05);
  EXPECT_NEAR(w.at((208 * 24 + 16) * 3600.) - ice, 24.4, 1e-9) << "the warmest hour is 28 July, 16:00";
}

}  // namespace
}  // namespace steadyfire
