#pragma once
/// Where all temperatures come to rest.

#include "sim/heat/balance.hpp"

namespace steadyfire {

/// Solves rates(x) = 0 for all places but the accounts, the given ones and those held, by Newton's method; where that turns in
/// circles, at the kinks of melting snow and the like, by implicit Euler steps from where it began, which grow until they are
/// Newton's own.
///
/// Shape   starts from and writes `state.x`; flows and modes stay; `balance` must be settled.
///         Water that stands still with nothing to exchange heat with keeps its temperature.
///         Where there are several places to rest, the one that time leads to from the start, or one that Newton finds first.
/// Errors  false if it does not converge to 1e-6 K.
/// Source  pseudo-transient continuation: Kelley and Keyes (1998), from memory; each step here solved to the end.
bool rest(Plan const&, Balance const&, State&, std::vector<Place> const& held);

}  // namespace steadyfire
