#pragma once
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Glycol against the coldest that its circuit meets, what it costs in flow and heat, and pipes in which water may stand in the cold.
///
/// Valid   the coldest met is the air of a circuit's cold runs, and outdoors where it heats pavement or has no cold run.
/// Source  models/fluid/glycol.hpp, models/piping/standing_pipe.hpp.
ReviewPart review_frost(Job const&);

}  // namespace steadyfire
