#pragma once
/// Readings typed back in: ranked causes, each with the reading that would confirm it.

#include "models/review/readings.hpp"
#include "models/review/reviewer.hpp"

namespace steadyfire {

/// Which fault, if any, explains what was read (models/review/diagnosis.hpp).
///
/// Shape   tables "causes", those that hold a hundredth of all explanations at least, and "readings".
ReviewPart review_readings(Job const&, ReadingsFile const&);

}  // namespace steadyfire
