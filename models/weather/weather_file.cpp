#include "models/weather/weather_file.hpp"

// libcsv, not libfccp-dev's reader: the latter fixes the number of columns when compiled,
// keeps the headings it met to itself (so no nearest heading can be named) and does not say
// where in a line a cell stood. libcsv hands over every cell as soon as its last byte is
// fed, so that feeding byte by byte gives line and column.
#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <fstream>
#include <functional>
#include <iomanip>
#include <iterator>
#include <locale>
#include <map>
#include <optional>
#include <sstream>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {

namespace {
struct Cell { std::string text; Position at; };
using Row = std::vector<Cell>;

/// Splits text into rows of cells with their places; false from `use` ends it.
///
/// Errors  the place where quotes stop making sense, if they do.
std::optional<Position> each_row(std::string_view text, char separator, std::function<bool(Row const&)> const& use) {
  struct Parser : csv_parser {
    Row row;
    Position begin{};  // of the cell being read; line 0: not begun
    Position here{.line = 1, .column = 1};
    bool row_done = false;
    Parser() {
      if (csv_init(this, CSV_STRICT | CSV_STRICT_FINI) != 0) throw InternalError{"libcsv does not start"};
    }
    ~Parser() { csv_free(this); }
    Parser(Parser const&) = delete;
  } parser;
  csv_set_delim(&parser, static_cast<unsigned char>(separator));
  auto const cell_done = [](void* text, std::size_t size, void* data) {
    auto& p = *static_cast<Parser*>(data);
    Position at = p.begin.line > 0 ? p.begin : p.here;
    at.length = std::max(1, int(size));
    p.row.push_back({{static_cast<char const*>(text), size}, at});
    p.begin = {};
  };
  auto const row_done = [](int, void* data) { static_cast<Parser*>(data)->row_done = true; };
  for (char const c : text) {
    bool const blank = c == separator || c == ' ' || c == '\t' || c == '\r' || c == '\n';
    if (parser.begin.line == 0 && !blank) parser.begin = parser.here;
    if (csv_parse(&parser, &c, 1, cell_done, row_done, &parser) != 1) return parser.here;
    if (parser.row_done) {
      if (!use(parser.row)) return {};
      parser.row.clear(), parser.row_done = false;
    }
    if (c == '\n') ++parser.here.line, parser.here.column = 1;
    else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++parser.here.column;  // columns count characters
  }
  if (csv_fini(&parser, cell_done, row_done, &parser) != 0) return parser.begin;
  if (parser.row_done) use(parser.row);
  return {};
}

/// A number and nothing besides. (libc++ 13, which compiles this for browsers, has no from_chars for it.)
std::optional<double> read_number(std::string const& text) {
  std::istringstream in{text};
  in.imbue(std::locale::classic());
  double value = 0;
  return in >> std::noskipws >> value && in.peek() == std::istringstream::traits_type::eof() ? std::optional{value} : std::nullopt;
}

/// Seconds since 1970 of a stamp, daylight saving and zone ignored.
std::optional<std::int64_t> read_stamp(std::string const& written, WeatherColumns const& columns) {
  auto const parsed = [&](std::string const& text) -> std::optional<std::tm> {
    std::tm tm{};
    tm.tm_year = 99;  // for formats without a year: one of 365 days
    std::istringstream in{text};
    in.imbue(std::locale::classic());
    in >> std::get_time(&tm, columns.stamp_format.c_str());
    if (in.fail()) return {};
    std::string const zone{std::istreambuf_iterator<char>{in}, {}};
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

std::string plural(long long n, std::string_view one, std::string_view many) { return fmt::format("{} {}", n, n == 1 ? one : many); }

struct Sample { std::int64_t time; double temperature; std::string stamp; Position at; };

/// Reads the rows and keeps the first fault of each sort.
class TableReader {
 public:
  TableReader(std::string_view text, std::string const& file, WeatherColumns const& columns)
      : text_{text}, file_{file}, columns_{columns} {}

  Weather read() {
    refuse_bytes();
    auto const broken = each_row(text_, columns_.separator, [&](Row const& row) { return take(row); });
    if (broken)
      fault({"E305", *broken, "quotes do not pair here", "a cell wholly within quotes, quotes inside it doubled", ""});
    else if (rows_ < columns_.heading_row)
      fault({"E303", {}, plural(rows_, "row", "rows") + " in the file: the headings are missing",
             fmt::format("headings in row {}", columns_.heading_row), ""});
    refuse_if_faulty();
    check_order();
    refuse_if_faulty();

    Weather weather{.source = file_, .first = 0, .step = double(columns_.step), .dry_bulb = {}};
    constexpr int day = 86400;
    weather.first = double((samples_.front().time % day + day) % day);
    weather.dry_bulb.reserve(samples_.size());
    for (auto const& s : samples_) weather.dry_bulb.push_back(s.temperature);
    return weather;
  }

 private:
  struct Fault { Diagnostic first; int count; };

  void fault(Diagnostic d) {
    auto const code = d.code;
    auto const [known, is_new] = faults_.try_emplace(code, Fault{std::move(d), 1});
    if (!is_new) ++known->second.count;
  }

  void refuse_if_faulty(bool show_lines = true) const {
    if (faults_.empty()) return;
    Diagnostics all;
    for (auto [code, f] : faults_) {
      if (f.count > 1)
        f.first.message += fmt::format(" ({} like it)",
                                       code == "E303" ? fmt::format("{} more", f.count - 1) : plural(f.count - 1, "more row", "more rows"));
      all.add(f.first);
    }
    throw BadInput{all.render(file_, show_lines ? std::string{text_} : "")};
  }

  /// Spreadsheets in binary form and text of two bytes a character hold control bytes.
  void refuse_bytes() {
    Position at{.line = 1, .column = 1};
    for (char const c : text_) {
      if ((static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\r' && c != '\n') || c == 0x7F) {
        fault({"E302", at, fmt::format("byte {:#04x} is not text", static_cast<unsigned char>(c)),
               "a table of comma-separated values", "save it as CSV in UTF-8"});
        refuse_if_faulty(false);  // such bytes are nothing for a terminal
      }
      if (c == '\n') ++at.line, at.column = 1;
      else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++at.column;
    }
  }

  bool take(Row const& row) {
    ++rows_;
    if (rows_ == columns_.heading_row) return find_columns(row);
    if (rows_ > columns_.heading_row) take_sample(row);
    return true;
  }

  bool find_columns(Row const& headings) {
    time_ = find(headings, columns_.time);
    if (!columns_.clock.empty()) clock_ = find(headings, columns_.clock);
    dry_bulb_ = find(headings, columns_.dry_bulb);
    widest_ = std::max({time_, clock_.value_or(0), dry_bulb_});
    return faults_.empty();
  }

  std::size_t find(Row const& headings, std::string const& wanted) {
    auto const is_wanted = [&](Cell const& c) { return c.text == wanted; };
    auto const found = std::find_if(headings.begin(), headings.end(), is_wanted);
    if (found == headings.end()) {
      std::vector<std::string> known;
      for (auto const& cell : headings) known.push_back(cell.text);
      auto const near = nearest(wanted, known);
      auto const place = near.empty() ? 0 : std::find(known.begin(), known.end(), near) - known.begin();
      known.resize(std::min<std::size_t>(known.size(), 8));
      fault({"E303", headings[std::size_t(place)].at, fmt::format("no column is headed '{}'", wanted),
             fmt::format("that heading in row {}", columns_.heading_row),
             known.size() == 1 && known[0].find_first_of(";\t") != std::string::npos
                 ? "cells are parted by commas, and decimals follow a point: export the table so"
             : near.empty() ? fmt::format("the headings begin '{}'", fmt::join(known, "', '"))
                            : fmt::format("is '{}' meant?", near)});
      return 0;
    }
    if (auto const again = std::find_if(found + 1, headings.end(), is_wanted); again != headings.end())
      fault({"E304", again->at, fmt::format("two columns are headed '{}'", wanted), "one", "rename one of them", found->at});
    return std::size_t(found - headings.begin());
  }

  void take_sample(Row const& row) {
    if (row.size() <= widest_) {
      fault({"E305", row.front().at, fmt::format("the row ends after {}", plural(int(row.size()), "cell", "cells")),
             fmt::format("{} cells at least", widest_ + 1), ""});
      return;
    }
    auto const& written = row[time_];
    auto const stamp = clock_ ? written.text + " " + row[*clock_].text : written.text;
    auto const time = read_stamp(stamp, columns_);
    if (!time)
      fault({"E306", written.at, fmt::format("'{}' is no time", stamp),
             fmt::format("a time written as {}{}", columns_.stamp_format, columns_.typical_year ? " in a year of 365 days" : ""), ""});
    auto const temperature = read_temperature(row[dry_bulb_]);
    samples_.push_back({time.value_or(0), temperature, stamp, written.at});
  }

  double read_temperature(Cell const& cell) {
    auto const number = read_number(cell.text);
    auto const& unit = columns_.unit;
    if (!number) {
      auto const what = cell.text.empty() ? "the cell is empty" : fmt::format("'{}' is no number", cell.text);
      fault({"E307", cell.at, fmt::format("{} in column '{}'", what, columns_.dry_bulb),
             fmt::format("a temperature in {}", unit.symbol), ""});
      return 0;
    }
    if (std::find(columns_.missing.begin(), columns_.missing.end(), *number) != columns_.missing.end()) {
      fault({"E308", cell.at, fmt::format("'{}' in column '{}' stands for no value", cell.text, columns_.dry_bulb),
             "a temperature in every row", "fill the hours by a rule you can name, or take another file"});
      return 0;
    }
    // Beyond the coldest and the warmest air reported on Earth (−89 and 57 °C, from memory).
    constexpr double coldest = 183.15, warmest = 333.15;
    double const kelvin = unit.to_si(*number);
    if (kelvin < coldest || kelvin > warmest)
      fault({"E314", cell.at, fmt::format("{} {} in column '{}' is no outdoor temperature", cell.text, unit.symbol, columns_.dry_bulb),
             fmt::format("{:.0f} to {:.0f} {}", unit.from_si(coldest), unit.from_si(warmest), unit.symbol),
             "is the column in another unit?"});
    return kelvin;
  }

  /// Order, repetition and gaps, each by itself: two rows exchanged are no gap.
  void check_order() {
    if (samples_.size() * std::size_t(columns_.step) < 86400) {
      fault({"E313", {}, fmt::format("{} of weather", plural(int(samples_.size()), "row", "rows")),
             fmt::format("a day at least: {} rows", 86400 / columns_.step), ""});
      if (samples_.empty()) return;
    }
    for (std::size_t i = 1; i < samples_.size(); ++i)
      if (samples_[i].time < samples_[i - 1].time)
        fault({"E311", samples_[i].at, fmt::format("{} comes after {}", samples_[i].stamp, samples_[i - 1].stamp),
               "rows in order of time", "", samples_[i - 1].at});
    auto sorted = samples_;
    std::stable_sort(sorted.begin(), sorted.end(), [](auto const& a, auto const& b) { return a.time < b.time; });
    auto const even = fmt::format("steps of {} s", columns_.step);
    long long gaps = 0, missing = 0;
    Diagnostic gap{"E312", {}, "", even, "nothing is filled in: complete the table, and stamp it in standard time all year"};
    for (std::size_t i = 1; i < sorted.size(); ++i) {
      auto const &before = sorted[i - 1], &after = sorted[i];
      auto const step = after.time - before.time;
      if (step == 0)
        fault({"E310", after.at, fmt::format("{} is there twice", after.stamp), "each time once",
               "did the clock go back to standard time here?", before.at});
      else if (step % columns_.step != 0)
        fault({"E309", after.at, fmt::format("{} s pass from {} to {}", step, before.stamp, after.stamp), even, ""});
      else if (step > columns_.step) {
        if (++gaps == 1) gap.at = after.at, gap.message = fmt::format("{} follows {}", after.stamp, before.stamp);
        missing += step / columns_.step - 1;
      }
    }
    if (gaps > 0) {
      gap.message += fmt::format(": {} missing in {}", plural(missing, "row is", "rows are"), plural(gaps, "gap", "gaps"));
      fault(gap);
    }
  }

  std::string_view text_;
  std::string const& file_;
  WeatherColumns const& columns_;
  std::map<std::string, Fault> faults_;
  int rows_ = 0;
  std::size_t time_ = 0, dry_bulb_ = 0, widest_ = 0;
  std::optional<std::size_t> clock_;
  std::vector<Sample> samples_;
};
}  // namespace

WeatherColumns tmy3_columns() {
  return {.time = "Date (MM/DD/YYYY)", .clock = "Time (HH:MM)", .dry_bulb = "Dry-bulb (C)",
          .stamp_format = "%m/%d/%Y %H:%M", .heading_row = 2, .typical_year = true};
}

Weather parse_weather(std::string_view text, std::string const& file, WeatherColumns const& columns) {
  if (columns.step <= 0 || columns.unit.dimension != Temperature::dimension)
    throw InternalError{"a weather table needs a step above 0 and a unit of temperature"};
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // what some spreadsheets put before UTF-8
  return TableReader{text, file, columns}.read();
}

Weather read_weather(std::filesystem::path const& file, WeatherColumns const& columns) {
  std::ifstream in{file, std::ios::binary};
  std::ostringstream text;
  if (in) text << in.rdbuf();
  if (!in || (text.fail() && !std::filesystem::is_regular_file(file))) {
    Diagnostics missing;
    missing.add({"E301", {}, "there is no file to be read here", "a table of comma-separated values", ""});
    throw BadInput{missing.render(file.string(), "")};
  }
  return parse_weather(text.str(), file.string(), columns);
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
