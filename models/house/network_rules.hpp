#pragma once
/// What a bare network must obey to have a meaning.

#include "sim/network/installation.hpp"

namespace steadyfire {

/// Errors  E237 an island whose inflows do not sum to zero and which has no head;
///         E238 a joint with a given head or inflow that nothing meets.
void check_network(Installation const&, Diagnostics& faults);

/// Errors  E238 an end of a piece that the file adds to a house, where nothing else is joined.
void check_added_pieces(Installation const&, std::vector<Entry> const& tables, Diagnostics& faults);

/// A reference is read by the place and mode of what it names: another sort has none.
///
/// Errors  E231 a piece that is of another sort than its key wants; a name that nothing has is Builder::finish's fault.
void check_references(Installation const&, Diagnostics& faults);

/// A joint met once, with the nearest name of another: usually a slip of the pen.
std::vector<Finding> lonely_joints(Installation const&);

/// Thermostats set to more than twice the cycles per hour that their emitter can follow.
std::vector<Finding> hurried_thermostats(Installation const&);

/// The islands that have no given head, by the joint that is taken as 0 m.
std::vector<std::string> assumed_references(Installation const&);

}  // namespace steadyfire
