#pragma once
/// Steady flows for the combinations of calls, and what they mean for the rooms.

#include <functional>

#include "sim/network/plan.hpp"
#include "sim/record/flows_record.hpp"

namespace steadyfire {

struct FlowsOptions {
  std::vector<std::vector<std::string>> calls;  ///< only these combinations of zones; empty: all, or a sample
  double ground = 284, unheated = 289;          ///< [K]
  std::optional<double> outdoors, supply;       ///< [K] else at design; the temperature that boilers hold at their outlet
  std::map<std::string, double> rooms;          ///< [K] by zone; those not named at design
  bool tell_findings = true;
  bool tell_rooms = false;  ///< what rooms come to, where findings are not told
  std::function<void(double share)> progress;  ///< hears the share of combinations solved
};

/// Solves each state at design: water at its design temperature, outdoors at design.
///
/// Shape   every combination of calling zones but none; over 64 of them each zone alone, all together, all but each of the twelve
///         that need the most flow, the two smallest loads, and the smaller and the larger half of the loads: their number grows
///         as the zones do. A network without zones has one state.
/// Errors  a state for which no flows can be found is told as unsolved; Stopped if that is so of all. InternalError for a zone
///         that does not exist.
FlowsRecord study_flows(Installation const&, FlowsOptions const&);

}  // namespace steadyfire
