#pragma once
/// The numbers behind the words on why the burner cycles.

#include <string>

namespace steadyfire {

/// Share of the design load beyond which a boiler is called oversized. Source: ANSI/ACCA 3, edition not checked.
inline constexpr double oversized = 1.4;

/// What the reasons are computed from. SI.
struct ReasonFigures {
  double output_least = 0, output_most = 0;  ///< [W] into the water, at minimum and at full fire
  double input_least = 0;                    ///< [W] of fuel at minimum fire
  double design_load = 0;                    ///< [W] all zones
  std::string smallest_zone;                 ///< the zone of least design load
  double smallest_design_load = 0;           ///< [W]
  double smallest_load = 0;                  ///< [W] that its emitter took while it called; its mean load if it never did
  double water = 0;                          ///< [m³] in the boiler and the circuit that flows for the smallest zone
  double heat_capacity = 0;                  ///< [J/K] of that water and its wetted metal
  double differential = 0;                   ///< [K] between the burner's start and stop points
  double minimum_off = 0;                    ///< [s] rest from the end of a burn to the next start
  double flow = 0, capacity_rate = 0;        ///< [m³/s], [W/K] through the boiler while firing, mean
  long starts = 0, burns = 0;                ///< burns: finished ones
  long ended_hot = 0, ended_uncalled = 0;    ///< burns that ended at the stop point; with the last call
  int starts_per_hour_worst = 0;
  double burn_median = 0;                    ///< [s]
  double duration = 0;                       ///< [s]
  double short_burn = 300, note_burn = 600;  ///< [s] a median burn below is too short, is noted
  int starts_limit = 6;                      ///< in any hour
};

}  // namespace steadyfire
