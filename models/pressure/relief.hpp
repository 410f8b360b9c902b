#pragma once
/// What a boiler's relief valve has to let off.

#include "sim/core/quantity.hpp"

namespace steadyfire {

/// Steam that carries off an output [kg/s]: one pound an hour for every 1000 Btu/h.
///
/// Source  state boiler codes following ASME BPVC section IV.
inline double relief_steam(double output) { return output / (1e3 * unit::Btu) * 0.45359237; }
inline double relief_output(double steam) { return steam / 0.45359237 * 1e3 * unit::Btu; }

/// Least nominal size of its inlet [m]: 3/4 in, or 1/2 in up to 15 000 Btu/h.
///
/// Source  state boiler codes following ASME BPVC section IV.
inline double least_relief_size(double output) {
  return (output <= 15e3 * unit::Btu_per_hour.scale * (1 + 1e-9) ? 0.5 : 0.75) * unit::inch.scale;
}

/// The system stays below this share of the valve's setting, or it weeps: common practice, no source.
inline constexpr double relief_share = 0.9;

}  // namespace steadyfire
