#pragma once
/// Readings typed back in: ranked causes, each with the reading that would confirm it.

#include "tools/review/readings.hpp"
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Which fault, if any, explains what was read (tools/review/diagnosis.hpp).
///
/// Shape   tables "causes", those that hold a hundredth of all explanations at least, and "readings".
ReviewPart review_readings(Job const&, ReadingsFile const&);

}  // namespace steadyfire
