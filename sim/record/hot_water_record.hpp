#pragma once
/// What a run tells of domestic hot water (DHW): each draw, the taps, and what could be made. SI.

#include <cmath>
#include <string>
#include <vector>

#include "sim/core/finding.hpp"

namespace steadyfire {

/// How a draw went. Water is hot once it has come within 2 K of what is wanted for 3 s.
///   on_target       hot at some time, on the mean of the rest within 2 K, and at least 95 % of the flow wanted
///   never_hot       it ended, or its whole volume had run, before the water was hot
///   cooled          on the mean colder than that after it had been hot
///   short_of_flow   hot, but less flowed
enum class DrawEnd { on_target, never_hot, cooled, short_of_flow };

struct DrawRecord {
  int tap = 0;                                    ///< number in HotWaterRecord::taps
  double start = 0, duration = 0;                 ///< [s]
  double volume = 0, volume_wanted = 0;           ///< [m³] mixed, at the tap
  double flow = 0, flow_wanted = 0;               ///< [m³/s], mean
  double wanted = 0;                              ///< [K]
  double delivered = 0;                           ///< [K] mean of all that ran
  double after_hot = NAN, lowest_after_hot = NAN; ///< [K] mean and lowest from when it was hot; NaN if it never was
  double time_to_hot = NAN;                       ///< [s]
  double run_off = 0;                             ///< [m³] that ran until it was hot; all of it if it never was
  double energy = 0;                              ///< [J] above cold water
  double energy_short = 0;                        ///< [J] wanted and not delivered
  bool fired = false;                             ///< a burner burned for hot water meanwhile
  bool had_turn = false;                          ///< heating had its turn meanwhile, and the water ran cold
  double cold = 0;                                ///< [K] of the main as it ended
  DrawEnd end = DrawEnd::on_target;
  bool was_hot() const { return !std::isnan(time_to_hot); }
};

/// Draws of one tap, or of all.
struct TapRecord {
  std::string name;
  long draws = 0, on_target = 0, never_hot = 0, cooled = 0, short_of_flow = 0, not_fired = 0;
  double volume = 0, run_off = 0;                 ///< [m³]
  double energy = 0, energy_short = 0;            ///< [J]
  double wait_sum = 0, wait_longest = 0;          ///< [s] until hot, of those that became hot
  long waited = 0;                                ///< how many became hot
  double flow_wanted = 0, wanted = 0;             ///< [m³/s], [K] the most that is asked of it at once
  double pipe_water = 0;                          ///< [m³] in the pipes from where hot water is made
  double mean_wait() const { return waited > 0 ? wait_sum / double(waited) : NAN; }
};

/// Why a draw failed: the first that holds, in this order.
///   start_flow     too small a flow to start the burner
///   pipes          the draw had ended before hot water could come: no fault of what makes it
///   set_point      hotter than the water that is made, or as hot
///   heating_turn   heating had waited for so long that it had its turn
///   burner, plates, flow_limiter   what all open taps need at once is more than that gives
///   heating        the same beside what heating takes, under shared operation
///   minimum_fire   less heat than minimum fire gives
///   pressure       too little flow where nothing else holds it
///   other          none of these
enum class DrawCause { start_flow, pipes, set_point, heating_turn, burner, plates, flow_limiter, heating, minimum_fire, pressure, other };

/// Draws of one tap that failed for one cause.
struct DrawFailure {
  int tap = 0;                                    ///< number in HotWaterRecord::taps
  DrawCause cause = DrawCause::other;
  Severity severity = Severity::note;             ///< serious where a good part of a draw was missed
  long draws = 0, of = 0;                         ///< failed for this cause; all of the tap that were looked at
  double temperature = 0, wanted = 0;             ///< [K] mean of what came (once hot, if it ever was), and what was needed
  double flow_share = 0;                          ///< mean of what came
  double flow_wanted = 0;                         ///< [m³/s]
  double volume = 0;                              ///< [m³] mean of what was drawn
  double lasted = 0;                              ///< [s] the longest of them
  double heat_wanted = 0, heat_given = 0;         ///< [W] of all taps open at the worst moment
  int open = 1;                                   ///< how many were open then
};

/// What would help draws that failed.
struct HotWaterRemedy {
  enum Kind { tap_flow, flow_limit, set_point, priority, longest_wait, storage, second_heater, input, minimum_input, start_flow };
  Kind kind;
  double value = 0;                               ///< what the key would be [SI]
  int tap = -1;                                   ///< whose flow, as a number in HotWaterRecord::taps; −1: of all above that flow
  Words what;                                     ///< "shower heads and taps of 1.5 gpm at most"
  Words effect;                                   ///< calculated for the worst moment
};

/// A room that cooled while hot water went first.
struct RoomDip {
  std::string zone;
  double before = 0, lowest = 0;                  ///< [K] mean before (over about an hour), lowest meanwhile
  double at = 0;                                  ///< [s]
  double waited = 0;                              ///< [s] that its call had waited for hot water by then
};

/// A row of the table of what can be delivered.
struct DeliverableRow {
  std::string season;                             ///< "coldest incoming water", "average …", "warmest …", or "" for all year
  double cold = 0, outdoors = 0;                  ///< [K]
  double heating = 0;                             ///< [W] into the house's design load at that outdoor temperature
  double wanted = 0;                              ///< [K]
  double alone = 0, beside_heating = 0;           ///< [m³/s] of water as wanted
  double least_steady = 0;                        ///< [m³/s] of it from which the burner runs without stopping
  std::string bound, bound_beside;                ///< "burner", "plates", "flow limiter", "set point"
};
struct DeliverableRecord {
  double output = 0;                              ///< [W] into hot water at full fire
  double output_of_boiler = 0;                    ///< [W] of the boiler at its larger input
  double efficiency = 0;
  bool takes_turns = false;                       ///< heating waits while hot water is made: priority
  double least_output = 0;                        ///< [W] at minimum fire
  double start_flow = 0;                          ///< [m³/s] below which a tap never starts the burner
  double upper_flow = NAN;                        ///< [m³/s] of the flow limiter; NaN without one
  std::vector<DeliverableRow> rows;
  std::vector<std::pair<double, double>> by_rise; ///< [K], [m³/s] by the burner alone, from the coldest inlet
  std::vector<Words> words;
};

struct HotWaterRecord {
  std::vector<TapRecord> taps;
  TapRecord all;
  std::vector<DrawRecord> draws;                  ///< the first 5 000 that ended
  long draws_left_out = 0;                        ///< later ones; they are in the totals
  double set_point = 0;                           ///< [K]
  long burner_starts = 0;                         ///< for hot water
  double time_serving = 0;                        ///< [s] of its control
  double hottest_at_taps = 0;                     ///< [K] hot water reaching a tap while it ran
  double cold_least = 0, cold_most = 0;           ///< [K] of the main
  double plates_flow = 0;                         ///< [m³/s] of boiler water through the plates while hot water was made, mean
  std::vector<RoomDip> dips;                      ///< the deepest of each zone, deepest first
  double largest_met = 0, largest_met_at = 0;     ///< [m³/s] [s]: most drawn at once with all of it on target
  std::vector<std::string> largest_met_taps;
  DeliverableRecord deliverable;
  std::vector<DrawFailure> failures;              ///< the gravest first
  std::vector<HotWaterRemedy> remedies;           ///< in the order of effort
  /// Draws that missed a good part of what was needed.
  long failed() const {
    long sum = 0;
    for (auto const& f : failures) sum += f.severity == Severity::serious ? f.draws : 0;
    return sum;
  }
};

}  // namespace steadyfire
