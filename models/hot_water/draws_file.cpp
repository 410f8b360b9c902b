#include "models/hot_water/draws_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "models/csv_table.hpp"
#include "sim/core/units.hpp"

namespace steadyfire {
namespace {

/// A column that holds a quantity: its heading's unit, and what a draw may be.
struct Column {
  std::string name;
  Dimension dimension;
  AnyUnit shown;          // in which the range is told
  double least, most;     // in that unit; `least` itself is too little
  int column = -1;
  AnyUnit unit = unit::one;
  std::string symbol{};
};

/// 7:30 or 07:30:15 as seconds since midnight.
std::optional<double> read_clock(std::string const& text) {
  std::vector<int> parts{0};
  int digits = 0;
  for (char const c : text) {
    if (c == ':' && digits > 0) parts.push_back(0), digits = 0;
    else if (c >= '0' && c <= '9' && ++digits <= 2) parts.back() = 10 * parts.back() + (c - '0');
    else return {};
  }
  if (digits == 0 || parts.size() < 2 || parts.size() > 3) return {};
  parts.resize(3);
  if (parts[0] > 23 || parts[1] > 59 || parts[2] > 59) return {};
  return 3600. * parts[0] + 60. * parts[1] + parts[2];
}

class DrawsReader {
 public:
  DrawsReader(std::string_view text, std::string const& file, std::vector<std::string> const& taps, double clock)
      : text_{text}, taps_{taps}, clock_{clock}, faults_{file, text}, all_(taps.size()) {}

  std::vector<DrawList> read() {
    refuse_control_bytes(text_, faults_);
    bool headed = false;
    auto const broken = each_row(text_, ',', [&](CsvRow const& row) {
      if (headed) take(row);
      else find_columns(row), headed = true;
      return faults_.empty() || row_ > 0;  // without its columns a table tells nothing
    });
    if (broken) faults_.add({"E305", *broken, "unpaired quote", "a cell fully in quotes, with quotes inside it doubled",
        "add or remove a quote"});
    else if (!headed)
      faults_.add({"E303", {}, "the file is empty", "headings in row 1", "time, flow [gpm], temperature [degF], volume [gal]"});
    faults_.refuse();
    std::vector<DrawList> lists;
    for (auto& placed : all_) lists.push_back(in_order(placed));
    faults_.refuse();
    return lists;
  }

 private:
  struct Placed { Draw draw; Position at; };

  void find_columns(CsvRow headings) {
    std::vector<std::string> units(headings.size());
    for (std::size_t i = 0; i < headings.size(); ++i) {
      auto& text = headings[i].text;
      auto const open = text.find('['), close = text.rfind(']');
      if (open != std::string::npos && close != std::string::npos && close > open) units[i] = text.substr(open + 1, close - open - 1);
      text = text.substr(0, open);
      while (!text.empty() && text.back() == ' ') text.pop_back();
    }
    auto const has = [&](char const* name) {
      return std::any_of(headings.begin(), headings.end(), [&](auto const& c) { return c.text == name; });
    };
    time_ = int(find_column(headings, "time", 1, faults_));
    if (has("tap")) tap_ = int(find_column(headings, "tap", 1, faults_));
    if (has("day")) day_ = int(find_column(headings, "day", 1, faults_));
    std::vector<Column*> wanted{&flow_, &temperature_, has("duration") && !has("volume") ? &duration_ : &volume_};
    if (has("duration") && has("volume"))
      faults_.add({"E304", headings[find_column(headings, "duration", 1, faults_)].at, "the table has both volume and duration",
                   "one of them", "remove one of the columns"});
    for (auto* q : wanted) {
      auto const column = find_column(headings, q->name, 1, faults_);
      if (headings[column].text != q->name) continue;  // told already
      q->column = int(column);
      auto const unit = parse_unit(units[column], q->dimension);
      if (unit) q->unit = *unit, q->symbol = units[column];
      else
        faults_.add({"E317", headings[column].at,
                     units[column].empty() ? fmt::format("column '{}' has no unit", q->name)
                                           : fmt::format("'{}' is not a unit for column '{}'", units[column], q->name),
                     fmt::format("{} [{}]", q->name, q->shown.symbol), "write the unit after the name: " + usual_units(q->dimension)});
    }
    widest_ = std::max({time_, tap_, day_, flow_.column, temperature_.column, volume_.column, duration_.column});
  }

  void take(CsvRow const& row) {
    ++row_;
    if (int(row.size()) <= widest_) {
      faults_.add({"E305", row.front().at, fmt::format("the row has only {}", plural(int(row.size()), "cell", "cells")),
                   fmt::format("at least {} cells", widest_ + 1), ""});
      return;
    }
    auto const& written = row[time_];
    auto const clock = read_clock(written.text);
    if (!clock) faults_.add({"E306", written.at, fmt::format("'{}' is not a time of day", written.text), "07:30, or 07:30:15", ""});
    std::size_t tap = 0;
    if (tap_ >= 0) {
      tap = std::size_t(std::find(taps_.begin(), taps_.end(), row[tap_].text) - taps_.begin());
      if (tap == taps_.size()) {
        auto const near = nearest(row[tap_].text, taps_);
        faults_.add({"E320", row[tap_].at, fmt::format("no tap is named '{}'", row[tap_].text), "the name of a [[tap]] of the scenario",
                     near.empty() ? fmt::format("the taps are '{}'", fmt::join(taps_, "', '")) : fmt::format("did you mean '{}'?", near)});
        return;
      }
    }
    double day = 1;
    if (day_ >= 0) {
      auto const number = read_number(row[day_].text);
      if (!number || *number < 1 || *number != std::floor(*number) || *number > 3660)
        faults_.add({"E318", row[day_].at, fmt::format("'{}' is not a day of the run", row[day_].text), "1, 2, 3 …", ""});
      else day = *number;
    }
    Draw d;
    d.start = clock.value_or(0) + (day_ >= 0 ? (day - 1) * 86400 - clock_ : 0);
    d.flow = read(flow_, row), d.temperature = read(temperature_, row);
    d.volume = duration_.column >= 0 ? read(duration_, row) * d.flow : read(volume_, row);
    if (d.start >= 0) all_[tap].push_back({d, written.at});
  }

  double read(Column const& q, CsvRow const& row) {
    auto const& cell = row[q.column];
    auto const number = read_number(cell.text);
    if (!number) {
      auto const what = cell.text.empty() ? "the cell is empty" : fmt::format("'{}' is not a number", cell.text);
      faults_.add({"E307", cell.at, fmt::format("{} in column '{}'", what, q.name), "a number in " + q.symbol, ""});
      return 0;
    }
    double const si = q.unit.to_si(*number), seen = q.shown.from_si(si);
    if (!(seen > q.least && seen <= q.most))
      faults_.add({"E318", cell.at, fmt::format("{} {} in column '{}' is out of range", cell.text, q.symbol, q.name),
                   fmt::format("above {:g} and up to {:g} {}", q.least, q.most, q.shown.symbol), "check the unit of this column"});
    return si;
  }

  /// Sorted; a tap serves one draw at a time.
  DrawList in_order(std::vector<Placed>& placed) {
    std::stable_sort(placed.begin(), placed.end(), [](auto const& a, auto const& b) { return a.draw.start < b.draw.start; });
    DrawList list{{}, day_ >= 0};
    for (std::size_t i = 0; i < placed.size(); ++i) {
      auto const& d = placed[i].draw;
      bool const last = i + 1 == placed.size();
      auto const& next = placed[last ? 0 : i + 1];
      double const next_start = next.draw.start + (last ? list.absolute ? 1e300 : 86400 : 0);
      if (d.start + d.volume / d.flow > next_start)
        faults_.add({"E319", next.at, "this draw starts before the last one at its tap ends", "one draw at a time per tap",
                     "use another tap, or a later time", placed[i].at});
      list.draws.push_back(d);
    }
    return list;
  }

  std::string_view text_;
  std::vector<std::string> const& taps_;
  double clock_;
  TableFaults faults_;
  std::vector<std::vector<Placed>> all_;
  int row_ = 0, time_ = -1, tap_ = -1, day_ = -1, widest_ = 0;
  Column flow_{"flow", VolumeFlow::dimension, unit::gpm, 0, 30}, temperature_{"temperature", Temperature::dimension, unit::degF, 50, 212},
      volume_{"volume", Volume::dimension, unit::gallon, 0, 1000}, duration_{"duration", Time::dimension, unit::minute, 0, 600};
};

}  // namespace

std::vector<DrawList> parse_draws(std::string_view text, std::string const& file, std::vector<std::string> const& taps, double clock) {
  if (taps.empty()) throw InternalError{"draws are of taps: there is none"};
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // what some spreadsheets put before UTF-8
  return DrawsReader{text, file, taps, clock}.read();
}

std::vector<DrawList> read_draws(std::filesystem::path const& file, std::vector<std::string> const& taps, double clock) {
  return parse_draws(read_table(file), file.string(), taps, clock);
}

}  // namespace steadyfire
