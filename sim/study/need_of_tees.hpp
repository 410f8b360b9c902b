#pragma once
/// Whether boiler and zones need to be decoupled at all.

#include "sim/network/plan.hpp"

namespace steadyfire {

/// Where tees, a separator or a tank part boiler and zones, adds a finding if they are not needed, else what has passed:
/// could the boiler's own circulator alone, without them and without other circulators, move the wanted flow through every zone?
///
///   needed = most of all zones of Σ loss on its way at the wanted flows, the boiler's own loss aside
///   left   = head of the boiler's circulator at the sum of the wanted flows − the boiler's own loss
///
/// Shape   `state` has modes with every zone calling, and fluids; the other zones are taken as throttled to
///         what they want. A limiter takes its least difference.
/// Valid   one boiler, and piping in which the wanted flows fix all others: nothing is said of a single pipe or of
///         cross connections; the lift of warm water is left out.
void add_need_of_tees(Plan const&, Installation const&, State const&, std::vector<Finding>& findings, std::vector<Finding>& passed);

}  // namespace steadyfire
