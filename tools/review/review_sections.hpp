#pragma once
/// Every table of a scenario that only the review looks at: gas, vent, safety devices, wiring, sizes to compare.

#include "sim/component/kind.hpp"

namespace steadyfire {
Catalog review_sections();
}  // namespace steadyfire
