#pragma once
/// Where else a circulator could run in the circuit as it stands.

#include "sim/network/plan.hpp"

namespace steadyfire {

/// Flows [kg/s] other than the solved one at which a running circulator's head meets what the rest
/// of the network asks for: there are some only where its curve has a hump.
///
///   gain(q) = p_outlet − p_inlet of the rest of the network, with q taken out at its inlet and brought
///   in at its outlet
///
/// Shape   none for a curve that falls all the way, found by asking for its gain alone.
/// Valid   roots farther apart than 1/60 of the flow at which the curve has no head left.
std::vector<double> other_operating_points(Installation const&, Plan const&, State const& solved, int circulator);

/// A finding for each circulator that has such a flow.
void add_operating_points(Installation const&, Plan const&, State const& solved, std::vector<Finding>&);

}  // namespace steadyfire
