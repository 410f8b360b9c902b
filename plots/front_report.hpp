#pragma once
/// The page of two figures weighed against each other.

#include <string>

#include "sim/record/front_record.hpp"

namespace steadyfire {

/// One HTML page with everything inside it: answer, the picture of the front with the marked points, and tables of both.
///
/// Valid   any record; the front is drawn whole, of the other points 3000 spread evenly over the record.
/// Errors  none.
std::string make_front_report(FrontRecord const&, UnitSystem);

}  // namespace steadyfire
