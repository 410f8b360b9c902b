#pragma once
/// All that a scenario may say, for every command alike.

#include "sim/component/kind.hpp"

namespace steadyfire {

/// Tables of the house, then those of the review, then kinds of pieces: each layer lists its own. Every command reads all of
/// them, so that a file for one is a file for the others.
Catalog catalog();

}  // namespace steadyfire
