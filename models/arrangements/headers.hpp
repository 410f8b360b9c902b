#pragma once
/// Ready-made mains from which zones are taken off, as ordinary pieces.

#include "models/arrangements/near_boiler.hpp"

namespace steadyfire {

/// Adds the mains behind the headers, and says where each zone is taken off.
///
///   direct return    supply and return mains side by side: the first zone has the shortest way
///   reverse return   the return main runs on in the direction of the supply and then back: all ways are alike long
///   manifold         all at one point, each zone with actuator and balancing valve
///   single pipe      one main; past each zone a diverter tee whose loss drives the zone
///
/// Pieces are named after the zone: "headers/to bath" leads to its take-off, "headers/from bath" leads its return
/// on, "headers/past bath" is its diverter tee; "headers/back" the run from the last take-off back.
///
/// Shape   one pair of joints a zone, in the order of the file.
std::vector<Headers> add_headers(Builder&, HeadersSection const&, Headers const& ends, std::vector<std::string> const& zones,
                                 std::string const& size);

/// Whether zones that state no mover get a zone valve (an actuator) instead of a circulator.
inline bool zones_have_actuators(HeadersSection const& h) {
  return h.arrangement == HeadersSection::manifold || h.arrangement == HeadersSection::single_pipe;
}

}  // namespace steadyfire
