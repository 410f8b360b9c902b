#pragma once
/// What the assumptions do to the answer.

#include "sim/study/flows_study.hpp"
#include "sim/study/run_study.hpp"

namespace steadyfire {

/// The installation with one assumption at another value, ready to run or to solve.
struct SupposedCase {
  Installation installation;
  RunOptions run;
  FlowsOptions flows;
  std::string fault;  ///< "" or why the value does not go with the others
};
using Suppose = std::function<SupposedCase(Assumption const&, double value)>;

/// Runs once more for each end of each assumption's range, the others in the middle.
///
/// Shape   one band for each assumption with a range, in their order; `middle` is the run as it is, taken where
///         an end is the value taken. Two runs at a time; the order in which they end changes nothing.
///         `suppose` is asked by one thread at a time. `progress` hears the share of runs done.
/// Errors  effects of several assumptions together are not their sum, and are not computed. Days of short cycling
///         scatter by 5 % of their starts for any reason at all: no less can be told apart.
std::vector<Band> study_band(Record const& middle, Suppose const&, Forcing const& outdoors, std::function<void(double share)> progress,
                             std::function<bool()> interrupted);

/// The same for steady flows, in the state with most zones calling: sets `band`, `band_state` and `band_zones`.
///
/// Shape   of more zones than six, the assumptions that all share and those of the four zones worst off: the cost grows as the zones do.
void add_flow_band(FlowsRecord&, Installation const&, Suppose const&, std::function<void(double share)> progress = {});

}  // namespace steadyfire
