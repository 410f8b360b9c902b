#include "models/weather/weather_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <iomanip>
#include <iterator>
#include <locale>
#include <memory>
#include <mutex>
#include <optional>
#include <sstream>
#include <tuple>

#include "models/csv_table.hpp"
#include "sim/core/diagnostic.hpp"
#include "sim/core/measure.hpp"

namespace steadyfire {

namespace {
bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// A stamp written exactly as its format says, years with four digits, all else with two: what most files have, and a year of
/// hours is read ten times as fast as by the library, which is asked for the rest.
std::optional<std::tm> by_digits(std::string_view written, std::string_view format) {
  std::tm tm{};
  tm.tm_year = 99;
  auto const take = [&](std::size_t width, int least, int most, int& into) {
    if (written.size() < width || !std::all_of(written.begin(), written.begin() + std::ptrdiff_t(width), is_digit)) return false;
    into = 0;
    for (std::size_t i = 0; i < width; ++i) into = 10 * into + (written[i] - '0');
    written.remove_prefix(width);
    return into >= least && into <= most;
  };
  for (std::size_t i = 0; i < format.size(); ++i) {
    bool good = false;
    if (format[i] != '%') {
      good = written.starts_with(format[i]);
      if (good) written.remove_prefix(1);
    } else if (++i < format.size()) {
      switch (format[i]) {
        case 'Y': good = take(4, 0, 9999, tm.tm_year), tm.tm_year -= 1900; break;
        case 'm': good = take(2, 1, 12, tm.tm_mon), --tm.tm_mon; break;
        case 'd': good = take(2, 1, 31, tm.tm_mday); break;
        case 'H': good = take(2, 0, 23, tm.tm_hour); break;
        case 'M': good = take(2, 0, 59, tm.tm_min); break;
        case 'S': good = take(2, 0, 59, tm.tm_sec); break;
      }
    }
    if (!good) return {};
  }
  return written.empty() ? std::optional{tm} : std::nullopt;
}

/// Seconds since 1970 of a stamp, daylight saving and zone ignored. `in` is at hand, as a year has thousands of stamps.
std::optional<std::int64_t> read_stamp(std::string const& written, WeatherColumns const& columns, std::istringstream& in) {
  auto const parsed = [&](std::string const& text) -> std::optional<std::tm> {
    if (auto const exact = by_digits(text, columns.stamp_format)) return exact;
    std::tm tm{};
    tm.tm_year = 99;  // for formats without a year: one of 365 days
    in.clear(), in.str(text);
    in >> std::get_time(&tm, columns.stamp_format.c_str());
    if (in.fail()) return {};
    std::string zone{std::istreambuf_iterator<char>{in}, {}};
    bool const leaves_out_seconds = columns.stamp_format.find("%S") == std::string::npos;
    if (leaves_out_seconds && zone.size() >= 3 && zone[0] == ':' && is_digit(zone[1]) && is_digit(zone[2])) {
      tm.tm_sec = 10 * (zone[1] - '0') + zone[2] - '0';
      zone.erase(0, 3);
      if (zone.starts_with('.')) zone.erase(0, std::min(zone.find_first_not_of("0123456789", 1), zone.size()));
    }
    bool const signs = zone.starts_with('+') || zone.starts_with('-');
    bool const offset = signs && zone.size() > 1 && zone.find_first_not_of("0123456789:", 1) == std::string::npos;
    if (!zone.empty() && zone != "Z" && !offset) return {};
    return tm;
  };
  auto tm = parsed(written);
  int days_on = 0;
  if (auto const end_of_day = written.find("24:00"); !tm && end_of_day != std::string::npos) {
    auto midnight = written;
    midnight.replace(end_of_day, 2, "00");
    tm = parsed(midnight), days_on = 1;
  }
  if (!tm) return {};
  using namespace std::chrono;
  int const years = columns.typical_year ? 1999 : tm->tm_year + 1900;
  year_month_day const date{year{years}, month(tm->tm_mon + 1), day(tm->tm_mday)};
  if (!date.ok()) return {};
  return (sys_days{date} + days{days_on}).time_since_epoch() / seconds{1} + tm->tm_hour * 3600 + tm->tm_min * 60 + tm->tm_sec;
}

struct Sample { std::int64_t time; double temperature; std::string stamp; Position at; };

/// Reads the rows and keeps the first fault of each sort.
class TableReader {
public:
  TableReader(std::string_view text, std::string const& file, WeatherColumns const& columns) : text_{text}, file_{file}, columns_{columns} {
    stamp_.imbue(std::locale::classic());
  }

  Weather read() {
    refuse_control_bytes(text_, faults_);
    auto const broken = each_row(text_, columns_.separator, [&](CsvRow const& row) { return take(row); });
    if (broken)
      faults_.add({"E305", *broken, "unpaired quote", "a cell fully in quotes, with quotes inside it doubled", "add or remove a quote"});
    else if (rows_ < columns_.heading_row)
      faults_.add({"E303", {}, plural(rows_, "row", "rows") + " in the file, no headings",
             fmt::format("headings in row {}", columns_.heading_row), ""});
    faults_.refuse();
    check_order();
    faults_.refuse();

    Weather weather{.source = file_, .first = 0, .step = double(columns_.step), .dry_bulb = {}};
    constexpr int day = 86400;
    weather.first = double((samples_.front().time % day + day) % day);
    weather.dry_bulb.reserve(samples_.size());
    for (auto const& s : samples_) weather.dry_bulb.push_back(s.temperature);
    return weather;
  }

private:
  bool take(CsvRow const& row) {
    ++rows_;
    if (rows_ == columns_.heading_row) return find_columns(row);
    if (rows_ > columns_.heading_row) take_sample(row);
    return true;
  }

  bool find_columns(CsvRow const& headings) {
    time_ = find_column(headings, columns_.time, columns_.heading_row, faults_);
    if (!columns_.clock.empty()) clock_ = find_column(headings, columns_.clock, columns_.heading_row, faults_);
    dry_bulb_ = find_column(headings, columns_.dry_bulb, columns_.heading_row, faults_);
    widest_ = std::max({time_, clock_.value_or(0), dry_bulb_});
    return faults_.empty();
  }

  void take_sample(CsvRow const& row) {
    if (row.size() <= widest_) {
      faults_.add({"E305", row.front().at, fmt::format("the row has only {}", plural(int(row.size()), "cell", "cells")),
             fmt::format("at least {} cells", widest_ + 1), ""});
      return;
    }
    auto const& written = row[time_];
    auto const stamp = clock_ ? written.text + " " + row[*clock_].text : written.text;
    auto const time = read_stamp(stamp, columns_, stamp_);
    if (!time)
      faults_.add({"E306", written.at, fmt::format("'{}' is not a time", stamp),
                   fmt::format("a time written as {}{}", columns_.stamp_format, columns_.typical_year ? " in a year of 365 days" : ""),
                   ""});
    auto const temperature = read_temperature(row[dry_bulb_]);
    samples_.push_back({time.value_or(0), temperature, stamp, written.at});
  }

  double read_temperature(CsvCell const& cell) {
    auto const number = read_number(cell.text);
    auto const& unit = columns_.unit;
    if (!number) {
      auto const what = cell.text.empty() ? "the cell is empty" : fmt::format("'{}' is not a number", cell.text);
      faults_.add({"E307", cell.at, fmt::format("{} in column '{}'", what, columns_.dry_bulb),
                   "a temperature in " + printed_unit(unit), ""});
      return 0;
    }
    if (std::find(columns_.missing.begin(), columns_.missing.end(), *number) != columns_.missing.end()) {
      faults_.add({"E308", cell.at, fmt::format("'{}' in column '{}' means no value was measured", cell.text, columns_.dry_bulb),
                   "a temperature in every row", "fill in these hours, or use another file"});
      return 0;
    }
    // Beyond the coldest and the warmest air reported on Earth (−89 and 57 °C, from memory).
    constexpr double coldest = 183.15, warmest = 333.15;
    double const kelvin = unit.to_si(*number);
    if (kelvin < coldest || kelvin > warmest)
      faults_.add({"E314", cell.at,
                   fmt::format("{} in column '{}' is not an outdoor temperature", with_unit(cell.text, unit), columns_.dry_bulb),
                   fmt::format("{:.0f} to {}", unit.from_si(coldest), with_unit(fmt::format("{:.0f}", unit.from_si(warmest)), unit)),
                   "check the unit of this column"});
    return kelvin;
  }

  /// Order, repetition and gaps, each by itself: two rows exchanged are no gap.
  void check_order() {
    if (samples_.size() * std::size_t(columns_.step) < 86400) {
      faults_.add({"E313", {}, fmt::format("{} of weather", plural(int(samples_.size()), "row", "rows")),
             fmt::format("at least one day: {} rows", 86400 / columns_.step), ""});
      if (samples_.empty()) return;
    }
    for (std::size_t i = 1; i < samples_.size(); ++i)
      if (samples_[i].time < samples_[i - 1].time)
        faults_.add({"E311", samples_[i].at, fmt::format("{} follows {}", samples_[i].stamp, samples_[i - 1].stamp),
               "rows in order of time", "sort the rows by time", samples_[i - 1].at});
    auto sorted = samples_;
    std::stable_sort(sorted.begin(), sorted.end(), [](auto const& a, auto const& b) { return a.time < b.time; });
    auto const even = fmt::format("one row every {} s", columns_.step);
    long long gaps = 0, missing = 0;
    Diagnostic gap{"E312", {}, "", even, "fill in the missing rows; use standard time all year"};
    for (std::size_t i = 1; i < sorted.size(); ++i) {
      auto const &before = sorted[i - 1], &after = sorted[i];
      auto const step = after.time - before.time;
      if (step == 0)
        faults_.add({"E310", after.at, fmt::format("{} is used twice", after.stamp), "each time once",
                     "use standard time all year, without daylight saving time", before.at});
      else if (step % columns_.step != 0)
        faults_.add({"E309", after.at, fmt::format("{} s between {} and {}", step, before.stamp, after.stamp), even, ""});
      else if (step > columns_.step) {
        if (++gaps == 1) gap.at = after.at, gap.message = fmt::format("{} follows {}", after.stamp, before.stamp);
        missing += step / columns_.step - 1;
      }
    }
    if (gaps > 0) {
      gap.message += fmt::format(": {} missing in {}", plural(missing, "row is", "rows are"), plural(gaps, "gap", "gaps"));
      faults_.add(gap);
    }
  }

  std::string_view text_;
  std::string const& file_;
  WeatherColumns const& columns_;
  TableFaults faults_{file_, text_};
  int rows_ = 0;
  std::size_t time_ = 0, dry_bulb_ = 0, widest_ = 0;
  std::optional<std::size_t> clock_;
  std::istringstream stamp_;
  std::vector<Sample> samples_;
};

bool same(WeatherColumns const& a, WeatherColumns const& b) {
  auto const parts = [](WeatherColumns const& c) {
    return std::tie(c.time, c.clock, c.dry_bulb, c.stamp_format, c.unit.symbol, c.heading_row, c.step, c.typical_year, c.missing,
                    c.separator);
  };
  return parts(a) == parts(b);
}
}  // namespace

WeatherColumns tmy3_columns() {
  return {.time = "Date (MM/DD/YYYY)",
          .clock = "Time (HH:MM)",
          .dry_bulb = "Dry-bulb (C)",
          .stamp_format = "%m/%d/%Y %H:%M",
          .heading_row = 2,
          .typical_year = true};
}

Weather parse_weather(std::string_view text, std::string const& file, WeatherColumns const& columns) {
  if (columns.step <= 0 || columns.unit.dimension != Temperature::dimension)
    throw InternalError{"a weather table needs a step above 0 and a unit of temperature"};
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // what some spreadsheets put before UTF-8
  return TableReader{text, file, columns}.read();
}

Weather read_weather(std::filesystem::path const& file, WeatherColumns const& columns) {
  struct Parsed {
    std::string file, text;
    WeatherColumns columns;
    Weather weather;
  };
  static std::mutex guard;
  static std::shared_ptr<Parsed const> last;  // a year takes ten times as long to parse as to read
  auto const name = file.string();
  auto text = read_table(file);
  auto const known = [&] {
    std::lock_guard const lock{guard};
    return last;
  }();
  if (known && known->file == name && same(known->columns, columns) && known->text == text) return known->weather;
  auto weather = parse_weather(text, name, columns);
  auto const parsed = std::make_shared<Parsed const>(Parsed{name, std::move(text), columns, weather});
  std::lock_guard const lock{guard};
  last = parsed;
  return weather;
}

std::string as_tmy3(Weather const& year, std::string_view station) {
  std::string text = fmt::format("000000,\"{}\",ZZ,0.0,0.000,0.000,0\nDate (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C)\n", station);
  using namespace std::chrono;
  for (std::size_t i = 0; i < year.dry_bulb.size(); ++i) {
    year_month_day const date{sys_days{std::chrono::year{2001} / January / 1} + days{i / 24}};
    // Adding 0 turns a rounded −0 into 0.
    double const tenths = std::round((year.dry_bulb[i] - 273.15) * 10) / 10 + 0.;
    text += fmt::format("{:02}/{:02}/{},{:02}:00,{:.1f}\n", unsigned(date.month()), unsigned(date.day()), int(date.year()), i % 24 + 1,
                        tenths);
  }
  return text;
}

}  // namespace steadyfire
