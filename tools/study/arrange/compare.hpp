#pragma once
/// Which piping arrangement, and zone valves or circulators: all of them in one house, and the simplest that works.

#include "sim/record/arrangements_record.hpp"
#include "tools/study/case.hpp"

namespace steadyfire {

/// Lays the house out in every way that a file can say (layout.hpp), solves each on the design day with every zone calling, and runs each
/// through the scenario's own days.
///
/// What is wrong with one is what `advise` finds wrong (trouble.hpp), but for rooms too warm: sun and people do that, not the piping.
/// One works where nothing is wrong with it that is its own doing:
///
///   cycling, flow, other  where any arrangement is free of it; else where it is more than 0.25 above the least (about 1 is plainly wrong)
///   rooms too cold        where any arrangement is free of it, and beyond 0.5: half a kelvin, or a kelvin-hour a day; a room that is cold
///                         in all of them lacks emitter or hot water, not piping
///
/// Of those that work the simplest is chosen: direct, tees, separator, buffer tank on two, three, four pipes. Of its two distributions the
/// one that takes over 10 % less electricity, else the one that the house has now, else the one of fewer circulators.
///
/// Shape   the house as it is now first; what comes to the same text is not run twice. Runs: one for each row. `jobs` threads, 0 for
///         each processor one; the same with any number. `progress` hears the share of rows done.
/// Valid   what is chosen here is generic: compare circulators with the maker's curve. A trouble near its limit may decide between two
///         arrangements that hardly differ; the table shows how near. Other days than the scenario's are not looked at: a mild day
///         cycles more.
/// Errors  none: what cannot be solved or run is told by its row's `reason`. Where that is the house as it is now, it is the only row.
ArrangementsRecord compare_arrangements(Case const&, unsigned jobs, std::function<void(double)> const& progress,
                                        std::function<bool()> const& interrupted);

}  // namespace steadyfire
