#pragma once
/// A plan as pictures see it.

#include "sim/network/plan.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// Joints and limbs in the order of the plan's joints and branches.
Drawing drawing_of(Plan const&);

}  // namespace steadyfire
