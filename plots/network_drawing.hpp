#pragma once
/// The piping schematic.

#include <string>

#include "sim/record/record.hpp"

namespace steadyfire {

/// The piping schematic as one SVG, to stand alone or inside a page. Every piece is one
/// <g id="piece:…">; its pipes are <path class="pipe">, straight from joint to joint.
///
/// With a moment, pipes take the colour of their water, carry its temperature and flow in
/// words, and are dashed where less flows than the smallest flow shown.
///
/// Shape   `moment` has one flow and one temperature a limb, or is null: no water.
/// Errors  InternalError if a moment's lengths differ from the drawing's.
std::string draw_network(Drawing const&, Moment const* moment, UnitSystem);

}  // namespace steadyfire
