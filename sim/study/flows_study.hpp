#pragma once
/// Steady flows for the combinations of calls, and what they mean for the rooms.

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
};

/// Solves each state at design: water at its design temperature, outdoors at design.
///
/// Shape   every combination of calling zones but none; over 64 of them each zone alone, all
///         together, and each pair of neighbours in the file. A network without zones has one state.
/// Errors  Stopped where no flows can be found; InternalError for a zone that does not exist.
FlowsRecord study_flows(Installation const&, FlowsOptions const&);

}  // namespace steadyfire
