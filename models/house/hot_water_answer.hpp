#pragma once
/// What follows from a run with taps: what could be delivered in other seasons, which draws failed and why, what would help, and what
/// can hurt.

#include "models/house/house.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// The table of flows that can be delivered, and its sentences.
///
///   output = η(T_return + approach)·input, T_return from the plates at full fire; or η by the maker's rating
///   least steady flow = η·minimum input/(ρ·∫cp dT) from cold to the tap's temperature
///   heating = Σ design load·(T_room − T_out)/(T_room − T_design)
///   beside heating: min(output, boiler's output − heating)
///
/// Shape   seasons of the cold inlet: coldest at the outdoor design temperature, mean at the weather's mean, warmest at its
///         warmest month where it is a year, else without heating; one row where the inlet is constant.
/// Errors  plates' boiler water flows as on the mean of the run, or at their rated flow if none was drawn; the boiler's water
///         may be up to 9 K below its high limit at full fire.
DeliverableRecord deliverable_of(Project const&, HotWaterRecord const&);

/// Scald and legionella, with their published figures beside those of the run.
std::vector<Words> hot_water_cautions(HotWaterRecord const&);

/// All of it into the record of a house with taps, with its findings; nothing without.
void answer_hot_water(Record&, Project const&);

}  // namespace steadyfire
