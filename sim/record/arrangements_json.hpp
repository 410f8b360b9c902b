#pragma once
/// A comparison of piping arrangements as JSON: sim/record/arrangements.schema.json.

#include <nlohmann/json.hpp>

#include "sim/record/arrangements_record.hpp"

namespace steadyfire {

/// Numbers in SI; words in the reader's units.
nlohmann::ordered_json arrangements_to_json(ArrangementsRecord const&, UnitSystem);

}  // namespace steadyfire
