#pragma once
/// A zone that mixes its own water, as ordinary pieces.

#include "models/arrangements/near_boiler.hpp"

namespace steadyfire {

/// Where the zone's circulator draws, and where its return ends; what mixes.
struct MixedZone {
  std::string mixed, returned;
  int device = -1;
};

/// What the mixing device of a zone is called.
std::string mixing_name(std::string const& zone);

/// Adds "<zone>/mixing", "<zone>/mixing bypass" and "<zone>/mixing return" between the headers and a zone.
///
///   mixing valve   header → hot way → mixed, and from the zone's return through the bypass → cold way → mixed
///   injection      header → injection circulator → mixed, and from the zone's return through the bypass → mixed
///
/// Shape   the bypass and the pipe to the return header are 1 ft long each, without elbows.
MixedZone add_mixing(Builder&, Entry const& stated, std::string const& zone, Headers const&, std::string const& size,
                     std::vector<Setting> wired);

}  // namespace steadyfire
