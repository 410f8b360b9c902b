#pragma once
/// The page to take home.

#include <string>

#include "sim/record/record.hpp"

namespace steadyfire {

/// One HTML page with everything inside it: answer, findings, schematic, charts and
/// tables. It opens without a network, prints, and is readable on a phone.
///
/// Valid   any record; tracks are thinned until the page's numbers fit (`most_numbers`).
/// Errors  none.
std::string make_report(Record const&, UnitSystem);

}  // namespace steadyfire
