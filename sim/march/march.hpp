#pragma once
/// Marches a plan through time, stopping exactly at every guard.

#include <functional>
#include <memory>

#include "sim/component/kind.hpp"
#include "sim/march/forcing.hpp"
#include "sim/network/plan.hpp"

namespace steadyfire {

class Balance;

/// What a run looks at while it marches; called in order of time.
class Watcher {
 public:
  virtual ~Watcher() = default;
  /// A step has ended: between `before` and the state now nothing jumped. `before` holds x by place.
  virtual void stepped(double from, std::vector<double> const& before, State const& now) = 0;
  /// Controllers have changed modes (and flows have been solved again).
  virtual void tripped(std::vector<Trip> const& trips, State const& now) = 0;
};

struct MarchOptions {
  double tolerance = 5e-3;        ///< [K] local error a step; see OwnState::tolerance for signals
  double guarded_tolerance = 1e-3;///< [K] for water at the boiler's outlet and signals that guards read
  double longest_step = 900;      ///< [s]
  double flow_refresh = 4;        ///< [K] of change in a branch's water after which its head loss is found anew
  bool by_cvode = false;          ///< the independent check: CVODE with KLU
};

struct MarchStatistics { long steps = 0, rhs = 0, newton = 0, factored = 0, events = 0, settled = 0, patterns = 0, flow_solves = 0; };

/// ARKODE's ESDIRK 3(2) with our own vector, Newton loop and sparse LU behind its interfaces.
///
/// Valid   the plan must outlive it and not be shared with another march.
/// Errors  Stopped E410 (no hydraulic solution), E411 (no convergence in time), E412 (controls loop);
///         the watcher has seen everything up to that time.
class March {
 public:
  March(Plan&, Forcing const&, MarchOptions = {});
  ~March();
  void watch(Watcher& w);
  /// Settles modes and flows at the start; called by run() if it wasn't.
  void begin();
  void run(double until);
  /// Asked now and then; true ends run() early at the present time.
  std::function<bool()> interrupted;

  State& state();
  Balance const& balance() const;  ///< the equations now in force
  MarchStatistics const& statistics() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace steadyfire
