#pragma once

namespace steadyfire {

/// Pressure with which warm water rises past cool [Pa].
///
///   Δp = (ρ_cool − ρ_warm)·g·h
///
/// Source  hydrostatics. A flow check takes about 0.5 psi to open: common practice, no source.
inline double thermosiphon(double cool_density, double warm_density, double height) {
  return (cool_density - warm_density) * 9.80665 * height;
}

}  // namespace steadyfire
