#pragma once
/// The page of piping arrangements compared in one house.

#include <string>

#include "sim/record/arrangements_record.hpp"

namespace steadyfire {

/// One HTML page without scripts: the answer, the table, and the schematic of each arrangement that could be solved.
///
/// Valid   any record.
/// Errors  none.
std::string make_arrangements_page(ArrangementsRecord const&, UnitSystem);

}  // namespace steadyfire
