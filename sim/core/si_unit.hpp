#pragma once
/// What a reader of SI sees of a quantity that is declared in another unit.

#include "sim/core/quantity.hpp"

namespace steadyfire {

/// "gpm" → "L/s": the last of the usual units; one that both systems use stays as it is.
AnyUnit si_unit(AnyUnit const& declared);

}  // namespace steadyfire
