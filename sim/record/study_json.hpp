#pragma once
/// A study's record as JSON: sim/record/study.schema.json.

#include <nlohmann/json.hpp>

#include "sim/record/study_record.hpp"

namespace steadyfire {

nlohmann::ordered_json study_to_json(StudyRecord const&);

}  // namespace steadyfire
