#pragma once
/// The piping schematic.

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "plots/piping_layout.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// The piping schematic as one SVG, to stand alone or inside a page. Every piece is one
/// <g id="piece:…">; its pipes are <path class="pipe">, straight from joint to joint.
///
/// With a moment, pipes take the colour of their water, carry its temperature and flow in
/// words, and are dashed where less flows than the smallest flow shown.
///
/// Shape   `moment` has one flow and one temperature a limb, or is null: no water.
/// `others` are moments it may be repainted at: they widen the scale of temperatures.
///
/// Errors  InternalError if a moment's lengths differ from the drawing's.
std::string draw_network(Drawing const&, Moment const* moment, UnitSystem, std::vector<Moment> const& others = {});
/// The same of a drawing that is laid out already.
std::string draw_network(Drawing const&, PipingLayout const&, Moment const* moment, UnitSystem);

/// What plots/charts/piping.ts needs to repaint that SVG at each of `others`: by moment the colour of each stretch
/// ([data-stretch], negative where water stands still: -1 - colour), the figures and the way of each limb ([data-limb]).
nlohmann::json repaintings(Drawing const&, Moment const&, UnitSystem, std::vector<Moment> const& others);

/// The moments of a run that a reader can choose, the record's own among them: at most `most` limbs in all.
std::vector<Moment> moments_to_choose(Record const&, std::size_t most);

}  // namespace steadyfire
