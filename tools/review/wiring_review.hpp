#pragma once
/// The wiring list: what needs a terminal, where it hangs, and which conflicts there are.

#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Holds [[output]] against [board] and the graph; without [[output]] it proposes a list.
///
/// Shape   table "wiring": output, role, serves, zone, mains power, 24 V power.
/// Valid   watts against amperes times volts: a motor's power factor makes its current larger than that.
ReviewPart review_wiring(Job const&);

}  // namespace steadyfire
