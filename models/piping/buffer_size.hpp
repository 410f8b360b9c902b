#pragma once

namespace steadyfire {

/// Water that lets a burner burn as long as wanted [m³].
///
///   V = t·(P_least − load)/(ρ·cp·ΔT)      in the trade: t(min)·(Btu/h)/(500·ΔT) gal
///
/// Shape   wanted burn t [s], least output and load [W], ρ·cp [J/(m³·K)], swing of the water ΔT [K]. 0 where the load takes it all.
/// Source  heat balance of mixed water; widely printed in the trade with 500 (1.7 % more at 140 °F).
inline double buffer_size(double burn, double least_output, double load, double heat_per_volume, double swing) {
  return least_output > load ? burn * (least_output - load) / (heat_per_volume * swing) : 0;
}

}  // namespace steadyfire
