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

/// What manuals of condensing boilers allow by nominal diameter [in] [ft]: for orientation, never a limit.
///
/// Source  rule of thumb without a source, spread wide on purpose: the same pipe is allowed two and three times as long by another manual.
struct VentOrientation {
  double diameter, least, most;
};
inline constexpr VentOrientation usual_vent_limits[]{{2, 30, 100}, {3, 60, 200}, {4, 100, 350}};

}  // namespace steadyfire
