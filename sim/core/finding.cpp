#include "sim/core/finding.hpp"

#include <algorithm>

namespace steadyfire {

bool graver(Finding const& a, Finding const& b) { return a.severity != b.severity ? a.severity < b.severity : a.order > b.order; }

bool any_serious(std::vector<Finding> const& all) {
  return std::any_of(all.begin(), all.end(), [](auto const& f) { return f.severity == Severity::serious; });
}

}  // namespace steadyfire
