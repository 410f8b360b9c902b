#pragma once
/// Hot water on the report.

#include <functional>

#include <nlohmann/json.hpp>

#include "plots/page_parts.hpp"
#include "sim/record/hot_water_record.hpp"

namespace steadyfire {

/// Places a chart of a kind and gives its HTML: see plots/report.ts.
using PlaceChart = std::function<std::string(std::string_view kind, nlohmann::json table, std::string_view caption)>;

/// How the taps fared, the draws that fell short first, what was delivered, and what can be.
std::string hot_water_section(HotWaterRecord const&, UnitSystem, PlaceChart const&);

}  // namespace steadyfire
