#pragma once
/// What would help draws that failed.

#include "models/house/hot_water_failures.hpp"
#include "sim/scenario/edit.hpp"

namespace steadyfire {

/// In the order of effort: what is opened or set, then what is added, then another boiler.
///
/// Shape   each with its effect at the worst moment; what has none there is left out.
/// Valid   of a combi boiler; nothing where a tank feeds the taps.
/// Errors  calculated at full fire and steady: what draws need while the burner starts is not in it.
std::vector<HotWaterRemedy> hot_water_remedies(Project const&, Record const&, FailedDraws const&);

/// Whether it is of any use against a failure: each goes with its causes.
bool helps(HotWaterRemedy const&, DrawFailure const&);

/// It in the scenario's text, so that it can be run.
std::vector<Edit> edits_of(HotWaterRemedy const&, Document const&);

}  // namespace steadyfire
