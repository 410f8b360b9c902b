#pragma once
/// Which tables go together: a house has a boiler and zones, a bare network has neither.

#include "sim/scenario/reader.hpp"

namespace steadyfire {

bool is_house(Document const&);

/// Errors  E233 a boiler without zones, zones without a boiler, or tables of a house without either;
///         E243 a joint in a house.
void check_tables(Document const&, Diagnostics& faults);

}  // namespace steadyfire
