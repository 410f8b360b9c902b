#pragma once
/// The page of a review, to print and to sign.

#include "sim/record/review_record.hpp"

namespace steadyfire {

/// One HTML page without scripts: findings first, then each subject with what holds, its tables and what it leaves open.
std::string make_review_page(ReviewRecord const&, UnitSystem);

}  // namespace steadyfire
