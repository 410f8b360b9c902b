#pragma once
/// What a comparison of piping arrangements in one house leaves behind, as plain data. SI.

#include <limits>
#include <string>
#include <vector>

#include "sim/record/record.hpp"

namespace steadyfire {

/// One arrangement with one distribution, solved on the design day with every zone calling, and run through the scenario's own days.
struct ArrangementRow {
  std::string arrangement;         ///< "closely spaced tees", "buffer tank, two pipes"
  std::string distribution;        ///< "circulators", "zone valves"
  bool is_as_now = false;          ///< the house as its file has it
  bool works = false;              ///< nothing is wrong with it that another arrangement does better
  Words reason{};                  ///< why it is not built or cannot be solved; the numbers below then say nothing

  double boiler_flow = 0;          ///< [m³/s]
  std::string lowest_zone;         ///< the zone with the least of its needed flow; "" where no zone needs any
  double lowest_flow = 0, lowest_needed = 0;  ///< [m³/s] of that zone
  std::string coldest_zone;        ///< the zone whose room falls furthest below its setting; "" without rooms
  double coldest_room = 0, coldest_setting = 0;  ///< [K] of that zone, on the design day
  long starts = 0;
  int starts_per_hour_worst = 0;
  double burn_median = 0;          ///< [s] 0 where no burn ended
  double electricity = 0, fuel = 0;  ///< [J]
  std::vector<Words> parts{};      ///< what it has more or less than the house as it is now: "adds 2 zone valve, for 3/4 in copper M"
  std::vector<Words> troubles{};   ///< what is wrong with it, the gravest first
  Drawing drawing{};

  bool is_solved() const { return reason.empty(); }
  double lowest_share() const { return lowest_needed > 0 ? lowest_flow / lowest_needed : std::numeric_limits<double>::quiet_NaN(); }
};

struct ArrangementsRecord {
  std::string title, scenario, program_version;
  std::vector<Words> answer;         ///< two to five sentences: the simplest that works, and why the others are no better
  std::vector<ArrangementRow> rows;  ///< the house as it is now, then the others, the simplest first
  int chosen = -1;                   ///< the row that the answer names; −1 where none works
  std::vector<std::string> cautions;
};

}  // namespace steadyfire
