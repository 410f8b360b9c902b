#pragma once
#include "sim/network/installation.hpp"
#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// Names in the side data of the water side. Errors: adds E296 for a joint or a pipe that the installation does not have.
void check_water_names(Installation const&, Document const&, Diagnostics& faults);

}  // namespace steadyfire
