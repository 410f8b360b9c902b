#pragma once
/// Domestic hot water as JSON.

#include "sim/record/hot_water_record.hpp"
#include "sim/record/json_parts.hpp"

namespace steadyfire {

/// "on target", "never hot", "cooled off", "short of flow".
std::string_view word_for(DrawEnd);

Json hot_water_to_json(HotWaterRecord const&, UnitSystem);

}  // namespace steadyfire
