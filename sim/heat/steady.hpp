#pragma once
/// Where all temperatures come to rest.

#include "sim/heat/balance.hpp"

namespace steadyfire {

/// Solves rates(x) = 0 for all places but the accounts, the given ones and those held.
///
/// Shape   starts from and writes `state.x`; flows and modes stay; `balance` must be settled.
///         Water that stands still with nothing to exchange heat with keeps its temperature.
/// Errors  false if it does not converge to 1e-6 K in 60 Newton steps.
bool rest(Plan const&, Balance const&, State&, std::vector<Place> const& held);

}  // namespace steadyfire
