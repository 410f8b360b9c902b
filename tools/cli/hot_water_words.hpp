#pragma once
/// Hot water in the summary of a run.

#include "sim/core/measure.hpp"
#include "sim/record/hot_water_record.hpp"

namespace steadyfire::cli {

std::string hot_water_words(HotWaterRecord const&, UnitSystem);

}  // namespace steadyfire::cli
