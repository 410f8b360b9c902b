#pragma once
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Longest fire at its lowest that still burns for `wanted` on a load, from the stop point's differential.
///
///   P = L + C·D/t      turned round from t = C·D/(P − L), short cycling's closed form
///
/// Shape   [W] into the water, from load [W], heat capacity [J/K], differential [K], wanted burn [s].
/// Valid   water and metal at one temperature, load constant.
double highest_minimum_fire(double load, double heat_capacity, double differential, double wanted_burn);

/// How long it burns at that fire; infinite where the load takes it all.
double burn_length(double fire, double load, double heat_capacity, double differential);

/// The boiler's size against the design load and the smallest zone, and every `[[candidate]]`, each simulated.
ReviewPart review_size(Job const&);

}  // namespace steadyfire
