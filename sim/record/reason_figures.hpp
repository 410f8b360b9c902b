#pragma once
/// The numbers behind the words on why the burner cycles.

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace steadyfire {

/// Why a burn ended, as a fitter asks: at the stop point while its target stood; at the stop point because the target dropped, as a
/// zone that wants hotter water was satisfied; at the high limit; with the last call, which was a thermostat's, of one that went
/// into setback, a tank's, recirculation's, a tap's, a snow-melt slab's, or forbidden by warm weather; by lost flow.
enum class BurnEnd {
  stop_point,
  target_dropped,
  high_limit,
  thermostat,
  setback,
  tank,
  recirculation,
  tap,
  snow,
  warm_weather,
  flow_lost,
  other,
  count
};
/// In the order of BurnEnd. Stable: JSON holds them.
inline constexpr std::array<std::string_view, std::size_t(BurnEnd::count)> burn_end_names{
    "stop_point", "target_dropped", "high_limit",   "thermostat", "setback", "tank", "recirculation",
    "tap",        "snow",           "warm_weather", "flow_lost",  "other"};
constexpr std::string_view name_of(BurnEnd e) { return burn_end_names[std::size_t(e)]; }

/// Burns that ended alike. `who`: at stop point and limit, and where flow was lost, who called then, "bath, living"; of a dropped
/// target and of a call, whose call ended last.
struct BurnEnds {
  BurnEnd why;
  std::string who;
  long count = 0;
};

/// Share of the design load beyond which a boiler is called oversized. Source: ANSI/ACCA 3, edition not checked.
inline constexpr double oversized = 1.4;

/// What the reasons are computed from. SI.
struct ReasonFigures {
  double output_least = 0, output_most = 0;  ///< [W] into the water, at minimum and at full fire
  double input_least = 0;                    ///< [W] of fuel at minimum fire
  double design_load = 0;                    ///< [W] all zones
  std::string smallest_zone;                 ///< the zone of least design load
  double smallest_design_load = 0;           ///< [W]
  double smallest_load = 0;                  ///< [W] that its emitter gives to the room, steadily, with the water of this run
  double smallest_water = 0;                 ///< [K] that water, where it leaves the boiler
  double water = 0;                          ///< [m³] in the boiler and the circuit that flows for the smallest zone
  double heat_capacity = 0;                  ///< [J/K] of that water and its wetted metal
  double differential = 0;                   ///< [K] between the burner's start and stop points
  double minimum_off = 0;                    ///< [s] rest from the end of a burn to the next start
  double flow = 0, capacity_rate = 0;        ///< [m³/s], [W/K] through the boiler while that zone calls alone
  long starts = 0, burns = 0;                ///< burns: finished ones
  std::vector<BurnEnds> ends;                ///< finished burns by why they ended, the most first
  int starts_per_hour_worst = 0;
  double burn_median = 0;                    ///< [s]
  double duration = 0;                       ///< [s]
  double short_burn = 300, note_burn = 600;  ///< [s] a median burn below is too short, is noted
  int starts_limit = 6;                      ///< in any hour

  /// By how much one pass through the boiler at minimum fire warms the water while the smallest zone calls alone [K].
  double one_pass() const { return capacity_rate > 0 ? output_least / capacity_rate : 0; }
  /// Whether the burner then stops before the loop is warm: beyond half the differential. Rule of thumb, no source.
  bool one_pass_decides() const { return differential > 0 && one_pass() > differential / 2; }
  /// Burns that ended so.
  long ended(BurnEnd why) const {
    long sum = 0;
    for (auto const& e : ends) sum += e.why == why ? e.count : 0;
    return sum;
  }
};

}  // namespace steadyfire
