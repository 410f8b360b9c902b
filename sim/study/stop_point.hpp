#pragma once
/// Whether what a run says of its burner stands on a knife edge.

#include "sim/study/run_study.hpp"

namespace steadyfire {

/// Whether a verdict may hang on the boiler's stop point: its water came near it and burned on, or a figure lies near the limit
/// that it is judged by.
bool may_hang_on_stop_point(Record const&);

/// Runs once more with the lead boiler's stop point lower, and higher, by what its sensor may be off by; both at a time.
///
/// Shape   `low` and `high` of the band are those runs; its value is the off differential. The finding tells where the three
///         runs say different things of the burner; none where they agree.
/// Valid   an off differential below twice `sensor_error` is halved, not lowered by all of it.
/// Errors  one perturbation of many: an edge that nothing of this kind moves is not seen.
Band study_stop_point(Installation const&, RunOptions, Forcing const& outdoors, std::function<bool()> interrupted);
std::optional<Finding> knife_edge(Record const&);

}  // namespace steadyfire
