#pragma once
/// Values of fields as readers see them, each in the unit that its field is stated in.

#include "sim/core/schema.hpp"

namespace steadyfire {

/// "8 gpm", "0.1234 Cv": a value of a piece or table in words; "" where there is none.
std::string words_of(Field const&, Value const&, UnitSystem);
/// "12.5 gpm".
std::string words_of(AnyUnit const&, double si);
/// A field's own unit, or the one of the reader's system in its stead.
AnyUnit unit_for(Field const&, UnitSystem);

}  // namespace steadyfire
