#pragma once
/// Why the burner cycles as it does.

#include "sim/core/finding.hpp"
#include "sim/record/reason_figures.hpp"

namespace steadyfire {

/// Sentences that hold by the numbers printed in them: each result is computed from its
/// figures as shown, rounded, so that a reader with a pencil gets the same digits.
///
///   length of a burn = C·differential/(minimum fire output − load)
///
/// Errors  water and metal are taken at one temperature, and what the zone takes as constant.
std::vector<Words> reasons(ReasonFigures const&);

/// What is wrong with the burner's run.
///
///   one-pass rise = minimum fire output/(ṁ·cp)
///
/// Shape   findings burner.short_burns, burner.many_starts, burner.burns_noted, burner.one_pass; their place is left empty.
std::vector<Finding> burner_findings(ReasonFigures const&);

}  // namespace steadyfire
