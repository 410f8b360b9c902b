#pragma once
/// Pieces that cannot serve each other, whatever flows.

#include "sim/network/installation.hpp"
#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// Each fault names both places.
///
/// Errors  E252 the vessel of an air or dirt separator is no wider than a pipe that meets it;
///         E253 a limiter is set to more than its circulator's curve ends at;
///         E254 a bypass that no circulator shared by all zones can open;
///         E255 a bypass is set to at least the head which the shared circulators have at no flow.
void check_contradictions(Installation const&, Document const&, Diagnostics& faults);

}  // namespace steadyfire
