#pragma once
/// The gas line, judged by the longest-length method and pipe by pipe.

#include "tools/review/assumed_ends.hpp"

namespace steadyfire {

/// Shape  tables "gas_pipes" and "gas_appliances"; nothing is judged without a [[gas_pipe]].
/// Valid  low pressure, below 1.5 psi, without diversity: every appliance fires at once.
/// Source 2018 IFGC 402.4 (models/gas/gas_flow.hpp).
ReviewPart review_gas(Job const&);

/// Gas pressure at the boiler's inlet while it alone fires at an input [W] [Pa], gauge; NaN where the file does not tell.
double gas_left_at_boiler(Job const&, double input);

/// Heating value, specific gravity and allowed drop, as far as nobody stated them.
std::vector<AssumedValue> assumed_gas(Job const&);

}  // namespace steadyfire
