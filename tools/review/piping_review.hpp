#pragma once
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Flow through the boiler, circulators against the expansion tank, tees, air and dirt, zones that warm by themselves, valves,
/// buffer and condensate.
///
/// Valid   flows and pressures of the combinations of calls that were solved, at design; sea level.
/// Source  models/pressure/fill.hpp, models/piping/*.hpp; each judgement names its own.
ReviewPart review_piping(Job const&);

}  // namespace steadyfire
