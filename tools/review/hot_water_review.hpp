#pragma once
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Hot water for the taps that may run at once, and how the draws of the run went.
ReviewPart review_hot_water(Job const&);

}  // namespace steadyfire
