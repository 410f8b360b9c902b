#pragma once
/// What the first house of some answers is given where nobody chose: round sizes, emitters, pipes and heads that carry its load.
/// Common practice, no source, where nothing else is said.

#include <span>
#include <string>

#include "tools/counter/answer_sections.hpp"

namespace steadyfire::sizing {

/// Inputs to choose from [kBtu/h]: spread wide and round, so that they are no maker's range.
inline constexpr double heating_inputs[]{50, 75, 100, 150, 200, 300, 400}, hot_water_inputs[]{100, 150, 200, 300, 400};

/// The smallest of them that is enough, in the unit of the list; the largest where none is.
double smallest_of(std::span<double const>, double wanted);

/// Flow that a circuit really has over the flow that its load needs, by the circulators chosen here.
inline constexpr double with_excess = 1.3;

/// An emitter for a design load [W].
struct Chosen {
  std::string text;    ///< as the file has it
  std::string more{};  ///< what else the zone states for it, a line each
  double flow;         ///< [m³/s] that the load needs at the emitter's usual temperature drop
  double head;         ///< [m] that this flow takes in the emitter
};
/// Its usual design water.
Usual usual_of(int emitter);
/// Shape   heats the load with a tenth to spare at the emitter's usual design water, or at the `hottest` of the house [degF] if that
///         is hotter; a slab has the whole floor area [m²], loops of 200 ft and the water that its load wants.
Chosen emitter_for(int emitter, double load, double area, double hottest);

/// The smallest copper tube in which a flow [m³/s] stays below 4 ft/s: "3/4 in copper M"; 2 in where none is wide enough.
std::string tube_for(double flow, std::string_view smallest);
/// Head that a flow takes in a tube and its elbows, 2.5 ft of tube each [m].
double head_of_tube(std::string const& size, double flow, double length, int elbows);

/// The smallest steel pipe that carries inputs [W] over a length [m] with its elbows at a drop of 0.5 in. w.c.
/// Source  NFPA 54 / IFGC, low-pressure equation; the drop: common practice.
std::string gas_pipe_for(double input, double length, int elbows, bool is_propane);

}  // namespace steadyfire::sizing
