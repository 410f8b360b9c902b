#pragma once
/// The rows and columns of a schematic, before limbs that end nowhere are hung on them.

#include "plots/piping_layout.hpp"

namespace steadyfire {

inline constexpr double margin = 28;  ///< [px] around a schematic

/// Lays out limbs that all lead somewhere; errors and source as `lay_out`.
PipingLayout in_rows_and_columns(Drawing const&);

/// Moves everything.
void shift(PipingLayout&, Spot by);

}  // namespace steadyfire
