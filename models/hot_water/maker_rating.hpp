#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

struct BoilerData;

/// Share of a combi boiler's input that its maker rates as heat into hot water at full fire.
///
///   η = dhw_efficiency, or ρ·Q·∫cp dT/dhw_input of dhw_rated_flow through dhw_rated_rise
///
/// Shape   NaN where neither is stated. Valid: incoming water of the rating at 50 °F; at 40 or 60 °F it is 0.1 % another.
double rated_share(BoilerData const&);

/// Errors  adds E222 where both are stated, E205 where flow or rise stands alone, E259 where they take more heat than the input
///         has, or less than half of it.
void check_rating(Entry const& boiler, Diagnostics&);

/// A rating by flow and rise as the share that it is, so that other inputs keep it. Nothing where none is stated.
void rate_by_share(Entry& boiler);

}  // namespace steadyfire
