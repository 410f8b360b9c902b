#include "models/review/reviewer.hpp"

namespace steadyfire {

std::vector<Reviewer> reviewers() { return {}; }

}  // namespace steadyfire
