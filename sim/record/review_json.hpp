#pragma once
/// A review as JSON, sentences in one system of units; keys stand in review.schema.json.

#include <nlohmann/json_fwd.hpp>

#include "sim/record/review_record.hpp"

namespace steadyfire {

nlohmann::ordered_json review_to_json(ReviewRecord const&, UnitSystem);

}  // namespace steadyfire
