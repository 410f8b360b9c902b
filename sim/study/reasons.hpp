#pragma once
/// Why the burner cycles as it does, in words.

#include "sim/core/finding.hpp"
#include "sim/record/reason_figures.hpp"

namespace steadyfire {

struct Reasons {
  std::vector<std::string> words;
  std::vector<Finding> findings;
};

/// Sentences that hold by the numbers printed in them: each result is computed from its
/// figures as shown, rounded, so that a reader with a pencil gets the same digits.
///
///   warm-up time = C·differential/(least output − load)    one-pass rise = least output/(ṁ·cp)
///
/// Shape   findings burner.short_burns, burner.many_starts, burner.burns_noted, burner.one_pass.
/// Errors  the warm-up takes water and metal at one temperature, and what the zone takes as constant.
Reasons explain(ReasonFigures const&, UnitSystem);

}  // namespace steadyfire
