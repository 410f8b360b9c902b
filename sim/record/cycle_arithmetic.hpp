#pragma once
/// The calculation behind short cycling, told step by step with a run's own numbers.

#include "sim/core/measure.hpp"
#include "sim/record/reason_figures.hpp"

#include <vector>

namespace steadyfire {

/// A burner at its lowest on one zone that takes a steady heat, between its start and stop points:
///
///   surplus = P − Q      rest = max(C·Δ/Q, minimum off)      burn = rest·Q/(P − Q)      starts an hour = 3600/(burn + rest)
///
/// where the minimum off time does not count, burn = C·Δ/(P − Q);
///
/// with P the least output, Q what the zone takes, C the heat capacity of water and wetted metal that flow for it, Δ the differential.
///
/// Shape   W, J/K, K in; s and 1/h out. Without a surplus it never has to stop: burn is infinite and starts are 0.
/// Valid   P, Q, C, Δ > 0; all of C at one temperature, which is short where one pass through the boiler raises the water by much
///         of Δ; nothing else calls.
/// Source  the closed form of physics.md's constant load, own derivation.
struct Cycle {
  double surplus = 0;          ///< [W]
  double burn = 0, rest = 0;   ///< [s]
  double starts_per_hour = 0;
  bool stops() const { return surplus > 0; }
};
Cycle cycle_of(double least_output, double taken, double heat_capacity, double differential, double minimum_off = 0);

/// What would make each burn last `wanted` seconds, each by itself; NaN where it cannot.
///
///   P = Q + C·Δ/t      C' = t·(P − Q)/Δ      Δ' = t·(P − Q)/C      Q' = P − C·Δ/t
struct CycleRemedies {
  double least_output;   ///< [W] of the burner at its lowest
  double more_capacity;  ///< [J/K] of water beside what is there
  double differential;   ///< [K]
  double taken;          ///< [W] by zones that call together
};
CycleRemedies remedies_of(double least_output, double taken, double heat_capacity, double differential, double wanted);

struct WhyStep {
  std::string title, words;
  std::string sum;  ///< "38.0 kBtu/h − 4.1 kBtu/h = 33.9 kBtu/h"; "" where nothing is calculated
};
/// "Why does it short-cycle?" from the figures of a run; it says so where it does not. Results are computed from the numbers as they
/// are printed, so that a reader with a pencil gets the same digits.
std::vector<WhyStep> why_it_cycles(ReasonFigures const&, UnitSystem);

}  // namespace steadyfire
