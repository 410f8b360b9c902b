#pragma once
/// The page of a house fitted to its log.

#include <string>

#include "sim/record/fit_record.hpp"

namespace steadyfire {

/// One HTML page with everything inside it: answer, unknowns, and each channel as logged, as fitted, and what is between them.
///
/// Valid   any record; channels of the same times share one axis. Long logs are thinned by means of neighbours until the page's
///         numbers fit (120 000).
/// Errors  none.
std::string make_fit_report(FitRecord const&, UnitSystem);

}  // namespace steadyfire
