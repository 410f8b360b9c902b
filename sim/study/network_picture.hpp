#pragma once
/// A plan as pictures see it.

#include "sim/network/plan.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// Cold water's own way to taps and mixing valves is left out of pictures: it would cross everything else. So would the way
/// by which a store of hot water is charged.
bool is_drawn(Plan const&, Plan::Run const&);

/// "bath supply": what the piece "bath/supply" is called in pictures.
std::string label_of(std::string piece_name);

/// Joints, and the limbs that are drawn, in the order of the plan's joints and branches.
Drawing drawing_of(Plan const&);

}  // namespace steadyfire
