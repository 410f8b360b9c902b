#pragma once
#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Expansion tank, fill, relief and safety devices of every closed circuit.
///
///   hottest state: the mean water of the circuit at the hottest that design or run sends out of the boiler
///
/// Valid   sea level (101.325 kPa of air); one expansion tank a circuit; the whole circuit at one temperature.
/// Source  models/pressure/expansion.hpp, fill.hpp, relief.hpp.
ReviewPart review_pressure(Job const&);

/// The hottest water that leaves the boiler, at design or in the run [K].
double hottest_water(Job const&);

}  // namespace steadyfire
