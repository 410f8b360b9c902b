#pragma once
/// The start-up sheet: what gauges should show, beside blanks for what they do show.

#include "tools/review/faults.hpp"
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// What holds at design, all zones calling.
BurnConditions conditions_of(Project const&);

/// The job as designed, under these conditions.
///
/// Shape   pressures of water from the expansion tank (hot: its cushion by Boyle's law), of gas from [start_up] or
///         from [[gas_pipe]], as far as these say them.
Stand stand_of(Job const&, BurnConditions);

/// Standard deviation of each reading by what nobody stated: each value with a usual range at its ends, the others in the middle.
///
///   σ² = Σ (shown_high − shown_low)²/12      as if every value in a range were as likely
///
/// Errors  values whose ends do not go with the others, or with which no flows can be found, are left out.
std::map<std::string, double> unstated_deviation(Job const&, Stand const&);

/// Expected readings with their ranges: two standard deviations of gauge and of what nobody stated together.
///
/// Shape   a table for the cold system, one for each fire, one by zone, one by circulator, one for other days; the column
///         "read" is blank.
ReviewPart review_start_up(Job const&);

}  // namespace steadyfire
