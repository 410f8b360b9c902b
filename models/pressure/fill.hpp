#pragma once
/// Columns of water, and what a pump's suction has left above boiling.

namespace steadyfire {

/// Pressure of a column [Pa]: 0.433 psi a foot of cold water.
///
///   p = ρ·g·h
inline double column(double density, double height) { return density * 9.80665 * height; }

/// Pressure that keeps air out at the top of a filled system [Pa]: 4 to 5 psi, 0.3 bar; common practice, no source.
inline constexpr double least_at_top = 4 * 6894.757293168, usual_at_top = 5 * 6894.757293168;

/// Least cold fill that is usual, however low the house [Pa]: 12 psi; boilers are rated for it. Common practice, no source.
inline constexpr double least_usual_fill = 12 * 6894.757293168;

/// Net positive suction head available [m], losses before the suction being in its pressure.
///
///   NPSH = (p − p_v)/(ρ·g)
///
/// Shape   absolute pressure and vapour pressure [Pa].
/// Source  ANSI/HI 9.6.1 (from memory).
inline double suction_head(double pressure, double vapour_pressure, double density) {
  return (pressure - vapour_pressure) / (density * 9.80665);
}

}  // namespace steadyfire
