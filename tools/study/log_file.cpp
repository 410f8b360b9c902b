#include "tools/study/log_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <ctime>
#include <iomanip>
#include <locale>
#include <map>
#include <sstream>

#include "models/csv_table.hpp"
#include "sim/core/units.hpp"

namespace steadyfire {
namespace {

using What = LogColumn::What;

constexpr std::array<std::pair<char const*, What>, 5> reserved{{{"supply", What::supply},
                                                                {"return", What::return_water},
                                                                {"outdoors", What::outdoors},
                                                                {"burner", What::burner},
                                                                {"fire", What::fire}}};

/// Seconds since 1970 of 2026-01-24 06:10:30; a T for the blank, seconds left out, a Z behind.
std::optional<std::int64_t> read_stamp(std::string text) {
  if (text.ends_with('Z')) text.pop_back();
  for (char const* format : {"%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M"}) {
    std::tm tm{};
    std::istringstream in{text};
    in.imbue(std::locale::classic());
    in >> std::get_time(&tm, format);
    if (in.fail() || in.peek() != std::istringstream::traits_type::eof()) continue;
    using namespace std::chrono;
    year_month_day const date{year{tm.tm_year + 1900}, month(tm.tm_mon + 1), day(tm.tm_mday)};
    if (!date.ok()) return {};
    return sys_days{date}.time_since_epoch() / seconds{1} + tm.tm_hour * 3600 + tm.tm_min * 60 + tm.tm_sec;
  }
  return {};
}

/// " °F" or "%", as it follows a number.
std::string shown_unit(AnyUnit const& unit) {
  auto const printed = printed_unit(unit);
  return (printed.empty() || printed == "%" ? "" : " ") + printed;
}

class LogReader {
public:
  LogReader(std::string_view text, std::string const& file, std::span<std::string const> zones)
      : text_{text}, zones_{zones}, faults_{file, text} {
    log_.file = file;
  }

  HouseLog read() {
    refuse_control_bytes(text_, faults_);
    bool headed = false;
    auto const broken = each_row(text_, ',', [&](CsvRow const& row) {
      if (row.size() == 1 && (row[0].text.empty() || row[0].text.starts_with('#'))) return true;
      if (!headed && row[0].text.starts_with('#')) return true;  // a comment with commas in it
      if (headed) take(row);
      else find_columns(row), headed = true;
      return rows_ > 0 || faults_.empty();
    });
    if (broken) faults_.add({"E305", *broken, "a quote is not closed here", "the whole cell in quotes, quotes inside it doubled", ""});
    else if (!headed)
      faults_.add({"E303", {}, "the file is empty", "headings in row 1", "for example: time, bath [degF], supply [degF], burner"});
    faults_.refuse();
    if (rows_ < 2)
      faults_.add({"E391", {}, fmt::format("only {} below the headings", plural(rows_, "row", "rows")), "a log of several hours", ""});
    faults_.refuse();
    return std::move(log_);
  }

private:
  struct Cell {
    std::string name, unit;
  };
  static Cell parted(std::string text) {
    Cell c;
    auto const open = text.find('['), close = text.rfind(']');
    if (open != std::string::npos && close != std::string::npos && close > open) c.unit = text.substr(open + 1, close - open - 1);
    c.name = text.substr(0, open);
    while (!c.name.empty() && c.name.back() == ' ') c.name.pop_back();
    return c;
  }

  void find_columns(CsvRow const& headings) {
    std::vector<std::string> known{"time"};
    for (auto const& [name, what] : reserved) known.emplace_back(name);
    known.insert(known.end(), zones_.begin(), zones_.end());
    std::map<std::string, Position> met;
    for (std::size_t i = 0; i < headings.size(); ++i) {
      auto const& at = headings[i].at;
      auto const part = parted(headings[i].text);
      auto const &name = part.name, &unit = part.unit;
      if (auto const [before, is_new] = met.try_emplace(name, at); !is_new)
        faults_.add({"E304", at, fmt::format("two columns are named '{}'", name), "one of them", "rename one of them", before->second});
      if (name == "time") {
        take_time_heading(unit, i, at);
        continue;
      }
      LogColumn column{What::room, headings[i].text, {}, {}};
      if (auto const r = std::find_if(reserved.begin(), reserved.end(), [&](auto const& one) { return one.first == name; });
          r != reserved.end())
        column.what = r->second;
      else if (std::find(zones_.begin(), zones_.end(), name) != zones_.end()) column.zone = name;
      else {
        auto const near = nearest(name, known);
        faults_.add({"E385", at, fmt::format("unknown column '{}'", name),
                     fmt::format("one of: {}", fmt::join(known, ", ")),
                     near.empty() ? "name a room column after its zone" : fmt::format("did you mean '{}'?", near)},
                    name);
        continue;
      }
      places_.push_back({i, log_.columns.size(), unit_of(column, unit, at)});
      log_.columns.push_back(std::move(column));
    }
    if (time_ < 0)
      faults_.add({"E303", headings[0].at, "no column is named 'time'", "time (2026-01-24 06:10), or time [min] since the start", ""});
    if (faults_.empty() && std::all_of(log_.columns.begin(), log_.columns.end(), [](auto const& c) { return c.what == What::outdoors; }))
      faults_.add({"E392", headings[0].at, "the log has no column of the house", "a room, supply, return, burner or fire", ""});
  }

  void take_time_heading(std::string const& unit, std::size_t i, Position at) {
    time_ = int(i);
    if (unit.empty()) return;
    count_unit_ = parse_unit(unit, Time::dimension);
    if (!count_unit_)
      faults_.add({"E386", at, fmt::format("'{}' is not a unit for column 'time'", unit), "time [min], or time alone for dates", ""},
                  "time");
  }

  AnyUnit unit_of(LogColumn const& column, std::string const& written, Position at) {
    auto const name = parted(column.heading).name;
    bool const is_fire = column.what == What::fire;
    if (column.what == What::burner) {
      if (!written.empty())
        faults_.add({"E386", at, "column 'burner' has a unit", "burner, 1 while it fires, else 0",
                     "put a firing rate in a column 'fire [%]'"},
                    name);
      return unit::one;
    }
    auto const dimension = is_fire ? Fraction::dimension : Temperature::dimension;
    auto const unit = written.empty() ? std::nullopt : parse_unit(written, dimension);
    if (unit) return *unit;
    faults_.add(
        {"E386", at,
         written.empty() ? fmt::format("column '{}' has no unit", name) : fmt::format("'{}' is not a unit for column '{}'", written, name),
         is_fire ? "fire [%]" : fmt::format("{} [degF], or [degC]", name), ""},
        name);
    return unit::one;
  }

  void take(CsvRow const& row) {
    ++rows_;
    std::size_t widest = std::size_t(time_);
    for (auto const& p : places_) widest = std::max(widest, p.cell);
    if (row.size() <= widest) {
      faults_.add({"E305", row.front().at, fmt::format("the row has {}", plural(int(row.size()), "cell", "cells")),
                   fmt::format("at least {} cells", widest + 1), "leave a cell empty for a gap"});
      return;
    }
    take_time(row[std::size_t(time_)]);
    for (auto const& p : places_) log_.columns[p.column].values.push_back(read_cell(row[p.cell], log_.columns[p.column], p.unit));
  }

  void take_time(CsvCell const& cell) {
    std::optional<double> time;
    if (count_unit_) {
      if (auto const number = read_number(cell.text)) time = count_unit_->to_si(*number);
      if (!time)
        faults_.add(
            {"E387", cell.at, fmt::format("'{}' is not a number", cell.text), "the time since the start, in the unit of the heading", ""});
    } else {
      if (auto const stamp = read_stamp(cell.text)) time = double(*stamp);
      if (!time)
        faults_.add({"E387", cell.at, fmt::format("'{}' is not a time", cell.text),
                     "a time, for example 2026-01-24 06:10 or 2026-01-24T06:10:30", ""});
    }
    if (!time) return;
    if (log_.times.empty()) begin(*time);
    double const since = *time - first_;
    if (!log_.times.empty() && since <= log_.times.back())
      faults_.add({"E388", cell.at, since == log_.times.back() ? "this time appears twice" : "this time is before the one above it",
                   "rows sorted by time, each time once", "was a clock set back here?", last_at_});
    log_.times.push_back(since), last_at_ = cell.at;
  }

  void begin(double time) {
    first_ = 60 * std::floor(time / 60);  // a scenario's clock shows minutes
    if (count_unit_) {
      first_ = 0;
      if (time < 0) faults_.add({"E387", {}, "the log starts before the scenario", "times from 0 on", ""});
      return;
    }
    using namespace std::chrono;
    auto const at = sys_seconds{seconds{std::int64_t(time)}};
    auto const midnight = floor<days>(at);
    log_.start_clock = double((at - midnight).count());
    log_.start_day = int((midnight - sys_days{year_month_day{midnight}.year() / January / 1}).count()) + 1;
  }

  double read_cell(CsvCell const& cell, LogColumn const& column, AnyUnit const& unit) {
    if (cell.text.empty()) return std::nan("");
    auto const name = parted(column.heading).name;
    auto const number = read_number(cell.text);
    if (!number) {
      faults_.add({"E389", cell.at, fmt::format("'{}' in column '{}' is not a number", cell.text, name),
                   "a number, or an empty cell for a gap", ""},
                  name);
      return std::nan("");
    }
    double const si = unit.to_si(*number);
    // Air outdoors as weather tables bound it; rooms and water between ice and steam, gauges' noise included.
    auto const [least, most] = column.what == What::outdoors ? std::pair{183.15, 333.15}
                               : column.is_temperature()     ? std::pair{253.15, 413.15}
                                                             : std::pair{0.0, 1.0};
    bool const is_state = column.what != What::burner || si == 0 || si == 1;
    if (si < least || si > most || !is_state)
      faults_.add(
          {"E390", cell.at,
           fmt::format("{}{} in column '{}' is out of range", cell.text, shown_unit(unit), name),
           column.what == What::burner ? "1 while it fires, else 0"
                                       : fmt::format("{:.0f} to {:.0f}{}", unit.from_si(least), unit.from_si(most), shown_unit(unit)),
           column.is_temperature() ? "is the column in another unit?" : ""},
          name);
    return si;
  }

  struct Placed {
    std::size_t cell, column;
    AnyUnit unit;
  };
  std::string_view text_;
  std::span<std::string const> zones_;
  TableFaults faults_;
  HouseLog log_;
  std::vector<Placed> places_;
  std::optional<AnyUnit> count_unit_;
  Position last_at_{};
  double first_ = 0;
  int rows_ = 0, time_ = -1;
};

}  // namespace

std::string LogColumn::words() const {
  switch (what) {
    case What::room:
      return "room of " + zone;
    case What::supply:
      return "supply";
    case What::return_water:
      return "return";
    case What::outdoors:
      return "outdoor temperature";
    case What::burner:
      return "firing time";
    case What::fire:
      return "firing rate";
    case What::starts:
      return "burner starts";
  }
  return "";
}

Measure LogColumn::measure() const {
  return what == What::starts ? measure::per_hour : is_temperature() ? measure::fine_temperature : measure::fine_share;
}

double HouseLog::spacing() const {
  std::vector<double> steps;
  for (std::size_t i = 1; i < times.size(); ++i) steps.push_back(times[i] - times[i - 1]);
  if (steps.empty()) return 60;
  std::nth_element(steps.begin(), steps.begin() + long(steps.size() / 2), steps.end());
  return steps[steps.size() / 2];
}

LogColumn const* HouseLog::find(LogColumn::What what) const {
  auto const c = std::find_if(columns.begin(), columns.end(), [&](auto const& one) { return one.what == what; });
  return c == columns.end() ? nullptr : &*c;
}

void count_starts(HouseLog& log) {
  double const step = log.spacing();
  auto const* burner = log.find(What::burner) ? log.find(What::burner) : log.find(What::fire);
  if (!burner || step > 120) return;
  auto const& state = burner->values;
  LogColumn starts{What::starts, "", {}, std::vector<double>(state.size(), std::nan(""))};
  for (std::size_t i = 1; i < state.size(); ++i)
    if (log.times[i] - log.times[i - 1] < 1.5 * step && !std::isnan(state[i] + state[i - 1]))
      starts.values[i] = (state[i - 1] == 0 && state[i] > 0 ? 1 : 0) / (log.times[i] - log.times[i - 1]);
  log.columns.push_back(std::move(starts));
}

HouseLog parse_log(std::string_view text, std::string const& file, std::span<std::string const> zones) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // what some spreadsheets put before UTF-8
  return LogReader{text, file, zones}.read();
}

HouseLog read_log(std::string const& file, std::span<std::string const> zones) { return parse_log(read_table(file), file, zones); }

}  // namespace steadyfire
