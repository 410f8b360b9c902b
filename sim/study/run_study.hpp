#pragma once
/// A run through time, from an installation to its record.

#include <functional>
#include <iosfwd>

#include "sim/core/diagnostic.hpp"
#include "sim/march/forcing.hpp"
#include "sim/network/installation.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

struct RunOptions {
  std::string title;                      ///< the installation's if empty
  double duration = 86400, clock = 0;     ///< [s]; time of day at the start
  double start_water = 300;               ///< [K]
  double ground = 284, unheated = 289;    ///< [K]
  double tolerance = 5e-3;                ///< [K] local error a step
  double guarded_tolerance = 1e-3, flow_refresh = 4;  ///< [K] see MarchOptions
  double short_burn = 300, note_burn = 600;  ///< [s] see ReasonFigures
  int starts_limit = 6;
  std::optional<double> fuel_price, electricity_price;  ///< [money/J]
  double carbon_per_joule = 0;            ///< [kg/J] of fuel; 0: not told
  std::string weather_source;
  /// Whether flue gas condenses, from the water entering the boiler [K] and its fire (share of input).
  std::function<bool(double entering, double fire)> condensing;
  std::optional<FlueGasRecord> flue_gas;
  /// Hears of each percent too, and may ask for what has been seen until then.
  std::function<void(double share, std::function<Track()> const& so_far)> picture;
  /// Without what is only shown: tracks, events, moments, operating points, and findings of pieces. Every figure is the same.
  bool figures_only = false;
  std::ostream* plan = nullptr;           ///< where the equations go, see PlanWriter; null: nowhere
};

struct RunResult {
  Record record;
  std::optional<Stopped> stopped;  ///< why the run could not go on; the record reaches up to there
};

/// Runs it. `progress` hears the share done, at each percent; `interrupted` is asked now and then.
/// Either may be empty.
///
/// Shape   weather statistics are of the run's own outdoors at the middle of each of its hours; the
///         shares of fuel and heat in reasons use the run's mean efficiency, 1 − flue/fuel.
///         Cost counts what has its price: electricity is left out without one.
/// Errors  InternalError for an installation without a boiler.
RunResult run_study(Installation const&, RunOptions const&, Forcing const&, std::function<void(double share)> progress,
                    std::function<bool()> interrupted);

}  // namespace steadyfire
