#pragma once
/// Where all temperatures come to rest.

#include <memory>

#include "sim/heat/balance.hpp"

namespace steadyfire {

/// Solves rates(x) = 0 for all places but the accounts, the given ones and those held, by Newton's method; where that turns in
/// circles, at the kinks of melting snow and the like, by implicit Euler steps from where it began, which grow until they are
/// Newton's own.
///
/// Valid   of one balance, which must outlive it and be settled at each call; flows and modes stay while it solves. The order of
///         elimination is kept from call to call while the balance keeps its pattern: to find it takes longer than to eliminate.
/// Source  pseudo-transient continuation: Kelley and Keyes (1998), from memory; each step here solved to the end.
class RestSolver {
 public:
  RestSolver(Plan const&, Balance const&);
  ~RestSolver();

  /// Shape   starts from and writes `state.x`.
  ///         Water that stands still with nothing to exchange heat with keeps its temperature.
  ///         Where there are several places to rest, the one that time leads to from the start, or one that Newton finds first.
  /// Errors  false if it does not converge to 1e-6 K.
  bool solve(State&, std::vector<Place> const& held);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace steadyfire
