#pragma once
/// Every table of a scenario that is no piece and that a house is made from: site, zones, hot water, weather, run.

#include "sim/component/kind.hpp"

namespace steadyfire {
Catalog house_sections();
}  // namespace steadyfire
