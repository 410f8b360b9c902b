#pragma once
/// What a gauge would show at every joint, from the point where an expansion tank holds it.

#include "sim/network/plan.hpp"

namespace steadyfire {

/// Absolute pressure by joint [Pa]; NaN in parts of the network that no expansion tank joins.
///
///   p = p_tank + (P − P_tank) − ρ·g·(z − z_tank)
///
/// Shape   `state.pressure` is that of solved flows; ρ is the fluid's at the temperature stated for the circuit.
/// Valid   sea level, 101.325 kPa of air; local density is left out but in what drives the flow (1 % of the height).
std::vector<double> absolute_pressures(Plan const&, State const&);

/// Suction of a running circulator below the vapour pressure of its water; any joint below the atmosphere.
void add_pressure_findings(Plan const&, State const&, std::vector<Finding>&);

}  // namespace steadyfire
