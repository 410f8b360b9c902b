#pragma once
/// Where everything stands in the piping schematic. Supply runs along the top, return
/// along the bottom; boilers and zones stand upright between them, the boiler leftmost.

#include <string>
#include <vector>

#include "sim/record/record.hpp"

namespace steadyfire {

struct Spot {
  double x = 0, y = 0;
};  ///< [px], y downwards

/// One limb: a straight run of pipe with its symbol on it.
struct LimbPlace {
  Spot start, symbol, end;  ///< at its inlet joint, in the middle, at its outlet joint
  bool upright = false;
};
/// Plain pipe that belongs to a joint: it widens the joint so that more limbs can meet there.
struct JointPipe {
  int joint;
  Spot near, far;
  std::vector<int> beyond;    ///< limbs that hang on its far end …
  std::vector<bool> leaving;  ///< … and whether the joint is their inlet
};
struct ZonePlace {
  std::string name;
  Spot top_left, bottom_right;
};

struct PipingLayout {
  std::vector<LimbPlace> limbs;  ///< in the order of the drawing
  std::vector<JointPipe> joint_pipes;
  std::vector<Spot> tees;  ///< where three or more pipes meet
  std::vector<ZonePlace> zones;
  double width = 0, height = 0;
};

/// Lays a drawing out. Rows and columns come from the piping; Graphviz finds the order
/// that avoids crossings and the positions.
///
/// Valid   any graph; crossings are avoided where supply and return do not interleave.
///         One caller at a time lays out, others wait: Graphviz is not thread safe.
/// Errors  InternalError if Graphviz has no layout named dot.
/// Source  Gansner, Koutsofios, North, Vo, A Technique for Drawing Directed Graphs, 1993.
PipingLayout lay_out(Drawing const&);

/// How often pipes cross or run over each other; ends that only meet do not count.
int crossings(PipingLayout const&);

/// Space that a limb's words may fill beside or above its symbol [px].
inline constexpr double words_width = 128;

}  // namespace steadyfire
