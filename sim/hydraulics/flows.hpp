#pragma once
/// Steady flows and pressures of a network.

#include <memory>

#include "sim/network/plan.hpp"

namespace steadyfire {

/// Solves  Σ flow into each joint = its outflow,  p_inlet − p_outlet = loss(flow) + (ρ − ρ_ref)·g·rise
/// for all branches, the last term being what drives a thermosiphon: unknowns are the mass
/// flow of each branch [kg/s] and the piezometric pressure of each joint [Pa] (head is pressure
/// over ρ·g at the reference density).
///
/// Shape   reads `state.mode`, `state.local`; starts from `state.flow`; writes `state.flow` and
///         `state.pressure`. A branch that is shut, or a check held shut, carries exactly 0.
///         Each island without a given head holds its first joint at 0.
/// Errors  Stopped E410 with the place of the largest residual if it does not converge.
class FlowSolver {
 public:
  explicit FlowSolver(Plan const&);
  ~FlowSolver();
  /// Returns the Newton steps taken.
  int solve(State&);
  /// The same after water has warmed or cooled a little: one step from the flows in `state`, whose error is the square of the
  /// relative change (1e-4 for 1%), unless a flow moves by more than 2% of the largest or a check does.
  int follow(State&);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// Refreshes `state.local` from the water temperature in each branch.
void refresh_local_fluid(Plan const&, State&);

}  // namespace steadyfire
