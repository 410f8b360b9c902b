#pragma once
/// What gauges should show, and what they did show: the same readings by the same names.

#include "tools/review/start_up_sections.hpp"
#include "tools/review/steady_burn.hpp"
#include "sim/scenario/reader.hpp"

#include <cmath>

namespace steadyfire {

/// One gauge's reading. SI; pressures of water and gas are gauge pressures.
struct GaugeValue {
  std::string id;  ///< "supply", "zone/bath/return", "piece/boiler/circulator/difference"
  std::string what, where;
  Measure measure = measure::plain;
  double value = 0;
  double spread = 0;  ///< standard deviation by which it swings or is unknown by itself
};
GaugeValue const* find_gauge(std::vector<GaugeValue> const&, std::string_view id);

/// What no flow or temperature tells: pressures of water and gas, where they are known; NaN where not.
struct StaticReadings {
  double cold_pressure, hot_pressure, gas_static, gas_running;  ///< gas_running: at `gas_input`, the boiler alone
  double carbon_dioxide_share = 1, carbon_dioxide_share_low = 1;  ///< the manual's CO2 over that of chemistry, at full and least fire
  double gas_supply = NAN, gas_input = NAN;  ///< [Pa] after the meter, [W]; known of a gas line that is stated
};

/// Running gas pressure at an input [W] [Pa], by the gas pipe's law where the line is known: drop ∝ input^(1/0.541); else as stated.
double gas_running_at(StaticReadings const&, double input);

/// Readings of a burn, in the order in which they are taken: at the boiler, then zone by zone, then circulators and the like.
///
/// Shape   temperatures of a zone without flow are told with a spread, as they hang on how long it stood; no reading of the
///         flue where nothing burns. Differences of pressure are told of circulators and of what can clog.
std::vector<GaugeValue> gauges_of(Installation const&, SteadyBurn const&, BurnConditions const&, StaticReadings const&);

/// One standard deviation of a gauge that shows a value.
double gauge_error(GaugeValue const&, GaugesSection const&);

/// A file of readings.
struct ReadingsFile {
  Document document;
  BurnConditions conditions;       ///< with the scenario's where the file says nothing
  std::vector<GaugeValue> values;  ///< what was read; `where` and `what` as the expected ones have them
  GaugesSection gauges{};
};
Catalog readings_catalog();
/// Errors  adds to `faults` all that is wrong with the file, names that the installation does not have among it (E298).
ReadingsFile read_readings(std::string file, std::string text, Installation const&, BurnConditions const& scenario, Diagnostics& faults);

}  // namespace steadyfire
