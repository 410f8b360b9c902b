#pragma once
/// Amounts as hot water's sentences have them.

#include "sim/core/words.hpp"

namespace steadyfire::dhw {

inline Words temperature(double kelvin) { return Amount{kelvin, measure::temperature}; }
inline Words flow(double of) { return Amount{of, measure::flow}; }
/// With the digits that start flows and minimum fires differ in.
inline Words fine_flow(double of) { return Amount{of, Measure{unit::gpm, unit::litre_per_second, 2, 3}}; }
inline Words power(double watts) { return Amount{watts, measure::power}; }
inline Words share(double of) { return Amount{of, measure::share}; }

}  // namespace steadyfire::dhw
