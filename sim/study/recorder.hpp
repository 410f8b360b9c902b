#pragma once
/// Watches a march and makes its record, in bounded memory.

#include <functional>

#include "sim/march/march.hpp"
#include "sim/record/bins.hpp"

namespace steadyfire {

struct RecorderOptions {
  /// Whether flue gas condenses, from the water entering the boiler [K] and its fire (share of input).
  std::function<bool(double entering, double fire)> condensing;
  double whole_step = 10;             ///< [s] first bins of the whole run
  std::size_t whole_bins = 3000, events = 100'000, burns = 200'000, points = 2000;
  bool figures_only = false;          ///< tracks, events and points stay empty
  double closeup_step = 20;           ///< [s]
  double settled_from = 0;            ///< [s] rooms are judged from then on
  double band = 0.5;                  ///< [K] beyond the thermostat's differential, to either side of its setting
};

/// From steps and trips to a Record.
///
///   heat of an emitter = ∫ W·(T_entering − T_leaving) dt over its branch      W: capacity rate
///   useful = envelope + process − gains          to_rooms = useful + what rooms store more than at the start
///   from_boiler = fuel − flue − jacket
///   closure = (in − useful − losses − stored)/in     in = fuel + electricity
///
/// Shape   burns are counted from a mode that ignites to the end of burning; an unfinished burn is no burn yet.
///         A zone's overshoot is its room above setting + differential + `band`, integrated.
///         `useful` is what kept rooms warm beyond their gains, and drew off; heat gone into their
///         mass is in `stored`. Pipes inside rooms heat them: that is useful. `losses` are flue, jacket,
///         piping, floor_down and motor, the electricity that warms no water.
/// Valid   a piece burns, ignites, calls or is set back in modes with these traits.
/// Errors  integrals take steps as straight lines: energy of accounts is exact, heat of emitters,
///         means and overshoot are off by the curvature within a step. Heat of an emitter is what the
///         water leaves there: its own metal keeps some, and a slab loses some downwards.
class Recorder final : public Watcher {
 public:
  Recorder(Plan const&, Installation const&, RecorderOptions = {});
  ~Recorder() override;
  void stepped(double from, std::vector<double> const& before, State const& now) override;
  void tripped(std::vector<Trip> const& trips, State const& now) override;
  /// Everything that watching tells; title, weather, drawing, reasons and findings are left empty.
  Record record(State const& now) const;
  Track so_far() const;                     ///< the whole run until now
  double mean_outdoors() const;             ///< [K] over the time seen
  double mean_boiler_flow() const;          ///< [m³/s] while firing; 0 if it never did

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace steadyfire
