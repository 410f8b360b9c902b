#pragma once
/// What a picture of a study shows, in a sentence: reckoned from its numbers.

#include <string>

#include "plots/study_grid.hpp"

namespace steadyfire {

/// "Most in one hour: at most 3 wherever minimum fire is 12 kBtu/h or less, whatever the smallest zone; up to 11 elsewhere".
///
/// What is said with "at most" and "at least" holds of each mean shown, as the numbers are printed. The stretch that is told is the
/// largest from an end (a corner) of the axes in which no mean is further than a third of the way from the best to the worst; than half
/// of it where that is less than a tenth of all places. It is told where it has a third of the places that are as good; else lowest and
/// highest are.
std::string title_of(StudyGrid const&);

}  // namespace steadyfire
