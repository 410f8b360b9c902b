#pragma once
/// The shape of a network by Boost.Graph: islands, dead legs, loops.

#include "sim/network/plan.hpp"

namespace steadyfire {

struct Topology {
  std::vector<int> island;       ///< by joint
  int islands = 0;
  std::vector<bool> dead_leg;    ///< by branch: a bridge, on no loop, so that it can carry no circulating flow
  int loops = 0;                 ///< independent loops
  std::vector<bool> lonely;      ///< by joint: met by one branch end only
};

/// `open` by branch, or empty for all open.
Topology study_topology(Plan const&, std::vector<bool> const& open = {});

/// The installation as text, one line a branch, for eyes and tests.
std::string network_text(Plan const&);

}  // namespace steadyfire
