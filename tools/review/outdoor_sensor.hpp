#pragma once
#include <algorithm>

#include "models/controls.hpp"
#include "sim/network/installation.hpp"

namespace steadyfire {

/// Whether a control of the installation measures outdoors: a reset curve that is not flat, or a warm-weather shutdown.
inline bool needs_outdoor_sensor(Installation const& in) {
  return std::any_of(in.pieces.begin(), in.pieces.end(), [](Piece const& p) {
    if (p.kind->name != OutdoorReset::kind) return false;
    double const cold = *get<&OutdoorReset::cold_supply>(p), mild = *get<&OutdoorReset::mild_supply>(p);
    return cold - mild > 1e-6 || !std::isnan(*get<&OutdoorReset::shut_down>(p));
  });
}

}  // namespace steadyfire
