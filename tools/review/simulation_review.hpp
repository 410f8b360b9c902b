#pragma once
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// What flows and run have found, so that a review has everything in one list.
ReviewPart review_simulation(Job const&);

}  // namespace steadyfire
