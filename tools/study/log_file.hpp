#pragma once
/// Temperatures and burner state that somebody logged, from a table of comma-separated values.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// One logged quantity. SI: kelvin; a burner's state is 0 or 1, its fire a share of its input; its starts a rate, counted from its state.
struct LogColumn {
  enum class What { room, supply, return_water, outdoors, burner, fire, starts } what;
  std::string heading;         ///< as written: "bath [degF]"
  std::string zone{};          ///< of a room
  std::vector<double> values;  ///< by row; NaN in a gap

  bool is_temperature() const { return what != What::burner && what != What::fire && what != What::starts; }
  Measure measure() const;
  std::string words() const;  ///< "room of bath", "supply", "firing time"
};

struct HouseLog {
  std::string file;
  std::vector<double> times;           ///< [s] since its first row, or the start that it counts from; rising
  std::optional<int> start_day;        ///< of the year, where the log says dates
  std::optional<double> start_clock;   ///< [s] since midnight; both or none
  std::vector<LogColumn> columns;

  double length() const { return times.empty() ? 0 : times.back(); }
  double spacing() const;  ///< [s] the median of its steps
  LogColumn const* find(LogColumn::What) const;
};

/// Adds the burner's starts as a column of their own, where rows are near enough to show each: 2 min at most.
void count_starts(HouseLog&);

/// Reads a log.
///
///   time, bath [degF], kitchen [degF], supply [degF], return [degF], outdoors [degF], burner, fire [%]
///
/// Shape   `time` is 2026-01-24 06:10 or 2026-01-24T06:10:30; `time [min]` (or s, h, d) counts from the scenario's start. A room's heading
///         is its zone's name. An empty cell is a gap. Columns in any order; at least one of rooms, supply, return, burner and fire.
/// Errors  BadInput: E301, E302, E304, E305 as for all tables, E385 to E391.
HouseLog parse_log(std::string_view text, std::string const& file, std::span<std::string const> zones);
HouseLog read_log(std::string const& file, std::span<std::string const> zones);

}  // namespace steadyfire
