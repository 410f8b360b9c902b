#pragma once
/// Charts as tables: what plots/charts draws. They know units, no physics.

#include <nlohmann/json.hpp>

#include "sim/record/record.hpp"

namespace steadyfire::chart {

/// A track as panels over one time axis, one for each group of channels that has any:
/// fire, calls, water, rooms, outdoors. Bins are merged until at most `most_numbers` remain.
nlohmann::json over_time(Track const&, UnitSystem, size_t most_numbers);

/// How many burns were how long.
nlohmann::json burn_lengths(std::vector<float> const& burns);

/// The reset curves, and where the water really was while firing and at rest.
nlohmann::json resets(std::vector<ResetRecord> const&, std::vector<OperatingPoint> const&, UnitSystem);

/// Heat that each zone's emitter gave to its room.
nlohmann::json zone_heat(std::vector<ZoneRecord> const&, UnitSystem);

/// Bins merged in groups of `by`: lowest of the lowest, mean of the means, highest of the highest.
Track thinned(Track const&, size_t by);

}  // namespace steadyfire::chart
