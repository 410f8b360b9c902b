#pragma once
/// How long a vent is to the fan that pushes through it.

namespace steadyfire {

/// What a run is made of; each fitting counts as so much straight pipe.
struct VentFittings {
  int elbows = 0, short_elbows = 0, long_elbows = 0, elbows_45 = 0, terminations = 0;
};
/// [m] of one fitting.
struct VentEquivalents { double elbow, short_elbow, long_elbow, elbow_45, termination; };

/// Equivalent length [m]: straight pipe plus that of each fitting; couplings count as nothing.
///
/// Source  common practice; the fittings' lengths stand in the appliance's manual.
inline double vent_equivalent_length(double straight, VentFittings const& n, VentEquivalents const& each) {
  return straight + n.elbows * each.elbow + n.short_elbows * each.short_elbow + n.long_elbows * each.long_elbow +
         n.elbows_45 * each.elbow_45 + n.terminations * each.termination;
}

/// Longest run by trade practice, less its fittings [m]; 0 where no rule of thumb is known.
///
///   2 in: 75 ft    3 in: 160 ft
///
/// Source  common practice, no source.
inline double usual_longest_vent(double diameter) {
  double constexpr inch = 0.0254, foot = 0.3048;
  if (diameter > 1.9 * inch && diameter < 2.5 * inch) return 75 * foot;
  if (diameter > 2.9 * inch && diameter < 3.5 * inch) return 160 * foot;
  return 0;
}

}  // namespace steadyfire
