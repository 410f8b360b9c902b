#pragma once
/// What the assumptions do to an answer: told, and where the cases come from.

#include "sim/study/band.hpp"
#include "tools/cli/command.hpp"

namespace steadyfire::cli {

/// The scenario with one assumption at another value.
Suppose supposing(Project const&, Document const&, UnitSystem);

std::string band_words(Record const&, UnitSystem);
std::string band_words(FlowsRecord const&, UnitSystem);

}  // namespace steadyfire::cli
