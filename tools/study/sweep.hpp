#pragma once
/// Runs the points of a study that its store lacks.

#include "tools/study/store.hpp"

namespace steadyfire {

/// What a worker does with a point, by its number: the same wherever it works. `stop` ends a run midway.
std::function<Outcome(std::size_t)> work_of(Study const&, Points const&, std::function<bool()> const& stop = {});

/// Has the workers run what is missing, and keeps it; at the end, and where it is stopped, all that was handed over is committed.
///
/// Shape   `progress` is told the share of the missing points that are done.
/// Errors  of the store and of the workers; what was committed before stays.
void sweep(Study const&, Points const&, Store&, Workers&, std::function<void(double)> const& progress, std::function<bool()> const& stop);

}  // namespace steadyfire
