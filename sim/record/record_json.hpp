#pragma once
/// Records as JSON, for programs: SI, the unit a suffix on the leaf or on its group;
/// all keys stand in run.schema.json and flows.schema.json;
/// fractions and counts have none. A _ divides but in the usual Pa_s: "Ks" is K·s.
/// Temperatures are in degC, differences in K.

#include <nlohmann/json_fwd.hpp>

#include "sim/record/flows_record.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// Everything in the record, sentences in one system of units. Numbers that do not exist (the median of no burns) are null.
nlohmann::ordered_json run_to_json(Record const&, UnitSystem);

/// Velocity, Reynolds number and friction factor are absent where a branch has no round bore.
nlohmann::ordered_json flows_to_json(FlowsRecord const&, UnitSystem);

}  // namespace steadyfire
