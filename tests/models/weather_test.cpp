#include "models/weather/weather.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <numbers>
#include <sstream>

#include "models/weather/weather_file.hpp"
#include "sim/core/diagnostic.hpp"
#include "sim/core/units.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

namespace fs = std::filesystem;
fs::path const source_dir{in_source()};
constexpr double ice = 273.15;

std::string text_of(fs::path const& file) {
  std::ifstream in{file, std::ios::binary};
  EXPECT_TRUE(in) << file;
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

/// What is said of a table that cannot be used.
template <class Read>
std::string refusal(Read read) {
  try {
    read();
  } catch (BadInput const& fault) {
    return fault.what();
  }
  return "read without complaint\n";
}

WeatherColumns const hourly{.time = "time", .dry_bulb = "temperature"};

/// A day and a half of a table with columns time and temperature, 0.5 degrees more each hour.
std::string table(std::string_view separator, auto stamp) {
  std::ostringstream text;
  text << "time" << separator << "temperature\n";
  for (int h = 0; h < 36; ++h) text << stamp(h) << separator << 0.5 * h << '\n';
  return text.str();
}

std::string iso(int h) {
  std::ostringstream text;
  text << "2021-03-0" << 1 + h / 24 << 'T' << (h % 24 < 10 ? "0" : "") << h % 24 << ":00";
  return text.str();
}

TEST(Weather, RunsStraightBetweenSamplesAndStartsAgain) {
  Weather const w{.source = "", .first = 3600, .step = 3600, .dry_bulb = {270, 274, 272}};
  EXPECT_DOUBLE_EQ(w.at(3600), 270);
  EXPECT_DOUBLE_EQ(w.at(5400), 272);
  EXPECT_DOUBLE_EQ(w.at(10800), 272);
  EXPECT_DOUBLE_EQ(w.at(0), 272) << "the last sample is also what time 0 meets";
  EXPECT_DOUBLE_EQ(w.at(1800), 271);
  EXPECT_DOUBLE_EQ(w.at(-3600), 274);
  for (double t : {0., 1800., 5000., 9999.}) EXPECT_NEAR(w.at(t + 7 * 3 * 3600.), w.at(t), 1e-9);
}

TEST(Weather, SlopeIsThatOfTheStepJustBegun) {
  Weather const w{.source = "", .first = 3600, .step = 3600, .dry_bulb = {270, 274, 272}};
  for (int k = -20; k < 20; ++k) {
    double const knot = 3600. * k;
    EXPECT_NEAR(w.slope(knot), (w.at(knot + 1800) - w.at(knot)) / 1800, 1e-12);
    EXPECT_EQ(w.slope(knot), w.slope(knot + 3599));
  }
}

TEST(Weather, KnotsLieAheadAndNoneIsPassed) {
  Weather const w{.source = "", .first = 1800, .step = 3600, .dry_bulb = {270, 274, 272}};
  EXPECT_EQ(w.next_knot(0), 1800);
  EXPECT_EQ(w.next_knot(1800), 5400);
  EXPECT_EQ(w.next_knot(std::nextafter(5400., 0)), 5400);
  EXPECT_EQ(w.next_knot(-1800), 1800);
  double t = 0;
  for (int k = 0; k < 20000; ++k) {  // more than two years of hours
    ASSERT_EQ(w.next_knot(t), 1800 + 3600. * k);
    t = w.next_knot(t);
  }
}

TEST(Weather, ConstantHasNeitherSlopeNorKnots) {
  auto const w = constant_weather(263.15);
  for (double t : {-1e6, 0., 43200., 1e9}) {
    EXPECT_EQ(w.at(t), 263.15);
    EXPECT_EQ(w.slope(t), 0);
    EXPECT_EQ(w.next_knot(t), std::numeric_limits<double>::infinity());
  }
}

// Closed form: a straight line under a cosine misses it by A·(1 − cos(π/144)) at most.
TEST(DailyWave, FollowsTheCosineToItsStatedError) {
  double const mean = 272, amplitude = 6, highest = 15;
  auto const w = daily_wave(mean, amplitude, highest);
  double worst = 0;
  for (int s = 0; s < 2 * 86400; s += 37) {
    double const exact = mean + amplitude * std::cos(2 * std::numbers::pi * (s / 3600. - highest) / 24);
    worst = std::max(worst, std::abs(w.at(s) - exact));
  }
  EXPECT_LE(worst, amplitude / 4200);
  EXPECT_GE(worst, amplitude / 4300) << "the stated error is not a loose one";
  EXPECT_DOUBLE_EQ(w.at(15 * 3600.), mean + amplitude);
  EXPECT_DOUBLE_EQ(w.at(3 * 3600.), mean - amplitude);
}

// Half a cosine below its mean: ∫max(0, mean − T)dt over a day is A/π K·d.
TEST(DailyWave, DegreeDaysBelowItsMeanAreTheHalfWaves) {
  auto const w = daily_wave(280, 10, 15);
  EXPECT_NEAR(degree_days(w, 280, DayTemperature::samples), 10 / std::numbers::pi, 1e-3);
  EXPECT_NEAR(degree_days(w, 280, DayTemperature::mean), 0, 1e-9);
  EXPECT_NEAR(degree_days(w, 281, DayTemperature::mid_range), 1, 1e-9);
}

TEST(WeatherStatistics, PercentilesCountTheSamplesBelow) {
  Weather w{.source = "", .dry_bulb = {}};
  for (int i = 1000; i >= 0; --i) w.dry_bulb.push_back(200 + 0.1 * i);
  auto const s = statistics(w);
  EXPECT_NEAR(s.min, 200, 1e-9);
  EXPECT_NEAR(s.max, 300, 1e-9);
  EXPECT_NEAR(s.mean, 250, 1e-9);
  EXPECT_NEAR(s.cold_1_percent, 201, 1e-9);
  EXPECT_NEAR(s.cold_0_4_percent, 200.4, 1e-9);
  EXPECT_NEAR(time_below(w, 201 - 1e-6), 10 * 3600, 1e-6);
}

TEST(DegreeDays, TheRestOfABrokenDayCountsByItsShare) {
  Weather const w{.source = "", .dry_bulb = std::vector<double>(36, 280)};
  for (auto rule : {DayTemperature::samples, DayTemperature::mean, DayTemperature::mid_range})
    EXPECT_NEAR(degree_days(w, 290, rule), 15, 1e-9);
}

// --- the invented year -----------------------------------------------------------

constexpr std::array days_in{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

MonthlyNormals inland() {
  MonthlyNormals n{.mean = {-12, -10, -3, 6, 13, 18, 21, 19, 14, 7, -1, -9}, .daily_range = {11, 12, 11, 12, 13, 13, 13, 13, 12, 10, 8, 9}};
  for (double& t : n.mean) t += ice;
  return n;
}

TEST(InventedYear, KeepsItsMonthlyNormals) {
  for (std::uint64_t seed : {1u, 2u, 77u}) {
    auto const normals = inland();
    auto const w = invented_year(normals, seed);
    ASSERT_EQ(w.dry_bulb.size(), 8760u);
    std::size_t h = 0;
    for (int m = 0; m < 12; ++m) {
      double sum = 0, ranges = 0;
      for (int d = 0; d < days_in[m]; ++d) {
        double low = 1e9, high = 0;
        for (int i = 0; i < 24; ++i, ++h) {
          sum += w.dry_bulb[h];
          low = std::min(low, w.dry_bulb[h]), high = std::max(high, w.dry_bulb[h]);
        }
        ranges += high - low;
      }
      EXPECT_NEAR(sum / (24 * days_in[m]), normals.mean[m], 0.02) << "seed " << seed << ", month " << m + 1;
      EXPECT_NEAR(ranges / days_in[m], normals.daily_range[m], 0.1) << "seed " << seed << ", month " << m + 1;
    }
  }
}

TEST(InventedYear, HoursAreSmooth) {
  auto const w = invented_year(inland(), 3);
  for (std::size_t h = 0; h < w.dry_bulb.size(); ++h)
    EXPECT_LT(std::abs(w.dry_bulb[(h + 1) % w.dry_bulb.size()] - w.dry_bulb[h]), 3) << "hour " << h;
}

TEST(InventedYear, OneSeedOneYear) {
  EXPECT_EQ(invented_year(inland(), 5).dry_bulb, invented_year(inland(), 5).dry_bulb);
  EXPECT_NE(invented_year(inland(), 5).dry_bulb, invented_year(inland(), 6).dry_bulb);
}

TEST(InventedYear, ShippedFileIsTheOneMadeHere) {
  auto const file = source_dir / "scenarios/weather/invented_cold_coast.csv";
  auto const made = as_tmy3(cold_coast_year(), "INVENTED COLD COAST");
  if (text_of(file) != made) {
    auto const beside = fs::path{testing::TempDir()} / "invented_cold_coast.csv";
    std::ofstream{beside, std::ios::binary} << made;
    FAIL() << file << " is not what cold_coast_year() makes; that is now in " << beside;
  }
  EXPECT_LT(made.size(), 400'000u);
  EXPECT_EQ(read_weather(file, tmy3_columns()).dry_bulb, cold_coast_year().dry_bulb);
  EXPECT_NEAR(statistics(cold_coast_year()).cold_1_percent - ice, -15, 0.5);
}

// --- tables ------------------------------------------------------------------------

TEST(WeatherTable, StampsOfTheHourStandAtTheirInstant) {
  auto const w = read_weather(source_dir / "scenarios/weather/invented_cold_coast.csv", tmy3_columns());
  ASSERT_EQ(w.dry_bulb.size(), 8760u);
  EXPECT_EQ(w.first, 3600) << "the first row is stamped 01:00";
  EXPECT_EQ(w.at(3600), w.dry_bulb.front());
  EXPECT_EQ(w.at(24 * 3600), w.dry_bulb[23]) << "24:00 of the first day";
  EXPECT_EQ(w.at(0), w.dry_bulb.back()) << "24:00 of the last day";
}

TEST(WeatherTable, UnitsOfTheUserBecomeKelvin) {
  auto columns = hourly;
  EXPECT_NEAR(parse_weather(table(",", iso), "t", columns).dry_bulb[20], 10 + ice, 1e-9);
  columns.unit = unit::degF;
  EXPECT_NEAR(parse_weather(table(",", iso), "t", columns).dry_bulb[20], (10 + 459.67) / 1.8, 1e-9);
  auto const kelvin = parse_unit("K", Temperature::dimension);
  ASSERT_TRUE(kelvin);
  columns.unit = *kelvin;
  EXPECT_NE(refusal([&] { parse_weather(table(",", iso), "t", columns); }).find("E314"), std::string::npos) << "0 K is no weather";
}

TEST(WeatherTable, StampsMayBeWrittenInManyWays) {
  auto const expected = parse_weather(table(",", iso), "t", hourly);
  EXPECT_EQ(expected.first, 0);
  EXPECT_EQ(expected.dry_bulb.size(), 36u);
  auto const same = [&](WeatherColumns const& columns, std::string const& separator, auto rewrite) {
    auto const w = parse_weather(table(separator, [&](int h) { return rewrite(iso(h)); }), "t", columns);
    EXPECT_EQ(w.dry_bulb, expected.dry_bulb);
    EXPECT_EQ(w.first, 0);
  };
  same(hourly, ",", [](std::string s) { return s + "Z"; });
  same(hourly, ",", [](std::string s) { return s + "-05:00"; });
  same(hourly, ",", [](std::string s) { return '"' + s + '"'; });
  same({.time = "time", .dry_bulb = "temperature", .separator = ';'}, ";", [](std::string s) { return s; });
  same({.time = "time", .dry_bulb = "temperature", .stamp_format = "%Y/%m/%d %H:%M:%S"}, ",",
       [](std::string s) { return s.substr(0, 4) + "/" + s.substr(5, 2) + "/" + s.substr(8, 2) + " " + s.substr(11) + ":00"; });
  same({.time = "time", .dry_bulb = "temperature", .stamp_format = "%d.%m.%Y %H:%M"}, ",",
       [](std::string s) { return s.substr(8, 2) + "." + s.substr(5, 2) + "." + s.substr(0, 4) + " " + s.substr(11); });
}

TEST(WeatherTable, LineEndsAndMarksOfOtherSystemsDoNotMatter) {
  auto const plain = table(",", iso);
  std::string other = "\xEF\xBB\xBF";
  for (char c : plain) other += c == '\n' ? "\r\n" : std::string(1, c);
  other.resize(other.size() - 2);
  EXPECT_EQ(parse_weather(other, "t", hourly).dry_bulb, parse_weather(plain, "t", hourly).dry_bulb);
}

TEST(WeatherTable, ShorterStepsAreKept) {
  auto columns = hourly;
  columns.step = 1800;
  auto const half_hours = [](int h) {
    return "2021-03-0" + std::to_string(1 + h / 48) + "T" + std::to_string(h / 2 % 24) + (h % 2 ? ":30" : ":00");
  };
  std::string text = "time,temperature\n";
  for (int h = 0; h < 48; ++h) text += half_hours(h) + "," + std::to_string(h) + "\n";
  auto const w = parse_weather(text, "t", columns);
  EXPECT_EQ(w.step, 1800);
  EXPECT_NEAR(w.at(12 * 3600), 24 + ice, 1e-9);
}

TEST(WeatherTable, LeapDaysCountWhereYearsDo) {
  std::string text = "time,temperature\n";
  for (int h = 0; h < 48; ++h) text += "2020-02-" + std::to_string(28 + h / 24) + "T" + std::to_string(h % 24) + ":00,1\n";
  EXPECT_EQ(parse_weather(text, "t", hourly).dry_bulb.size(), 48u);
}

TEST(WeatherTable, AbsentFilesAreNamed) {
  for (auto const& file : {fs::path{"no/such/year.csv"}, source_dir / "tests"}) {
    auto const said = refusal([&] { read_weather(file, tmy3_columns()); });
    EXPECT_EQ(said.find(file.string() + ": error[E301]: "), 0u) << said;
  }
}

TEST(WeatherTable, OneThatWasReadIsReadAnewOnceItSaysSomethingElse) {
  auto const file = fs::path{testing::TempDir()} / ("steadyfire_weather_" + std::to_string(getpid()) + ".csv");
  auto const write = [&](Weather const& year) { std::ofstream{file, std::ios::binary} << as_tmy3(year, "A STATION"); };
  auto year = cold_coast_year();
  write(year);
  auto const before = read_weather(file, tmy3_columns());
  EXPECT_EQ(read_weather(file, tmy3_columns()).dry_bulb, before.dry_bulb);
  year.dry_bulb[100] += 1;
  write(year);
  EXPECT_NEAR(read_weather(file, tmy3_columns()).dry_bulb[100], before.dry_bulb[100] + 1, 1e-9);
  auto every_two_hours = tmy3_columns();
  every_two_hours.step = 7200;
  EXPECT_THROW(read_weather(file, every_two_hours), BadInput) << "what its columns mean counts as well as its text";
  fs::remove(file);
}

TEST(WeatherTable, StepsAndUnitsThatAreNoneAreABrokenPromise) {
  auto columns = hourly;
  columns.step = 0;
  EXPECT_THROW(parse_weather(table(",", iso), "t", columns), InternalError);
  columns.step = 3600, columns.unit = unit::watt;
  EXPECT_THROW(parse_weather(table(",", iso), "t", columns), InternalError);
}

/// Each bad table beside the message it must bring; STEADYFIRE_UPDATE=1 rewrites them for a new review.
class BadWeather : public testing::TestWithParam<std::string> {};

TEST_P(BadWeather, IsRefusedWithItsMessage) {
  auto const file = source_dir / "tests/input/weather_bad" / (GetParam() + ".csv");
  auto const& columns = GetParam().starts_with("tmy3") ? tmy3_columns() : hourly;
  auto const said = refusal([&] { parse_weather(text_of(file), file.filename().string(), columns); });
  auto const expected = fs::path{file}.replace_extension("expected");
  if (std::getenv("STEADYFIRE_UPDATE")) std::ofstream{expected, std::ios::binary} << said;
  EXPECT_EQ(said, text_of(expected));
}

std::vector<std::string> bad_tables() {
  std::vector<std::string> names;
  for (auto const& entry : fs::directory_iterator{source_dir / "tests/input/weather_bad"})
    if (entry.path().extension() == ".csv") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  return names;
}

INSTANTIATE_TEST_SUITE_P(Files, BadWeather, testing::ValuesIn(bad_tables()), [](auto const& info) { return info.param; });

}  // namespace
}  // namespace steadyfire
