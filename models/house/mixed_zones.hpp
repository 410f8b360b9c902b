#pragma once
/// What zones with mixing devices and radiator valves are told by the house, and what contradicts itself there.

#include <optional>

#include "models/house/sections.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {

/// What wires a mixing device: its call, the zone's curve, the sensor in a guarded return, the flow that an injection needs.
std::vector<Setting> mixing_settings(Entry const& mixing, ZoneParts const&, Builder&, std::string const& call);

/// The temperature at which a thermostatic mixing valve holds the zone, if it has one [K]; NaN where nobody says it.
/// Errors  adds E262 where the zone states a curve too, E222 where it states another supply temperature.
std::optional<double> held_by_wax(Entry const& zone, Diagnostics&);

/// Errors  adds E263 where the emitter heats no room.
void refuse_radiator_valve(Entry const& zone, Diagnostics&);

/// Errors  adds E260 for zones whose mixed water is above what the boiler holds, or asks for more than its limit.
///
/// Shape   the tables of zones, in the order of the installation's.
void refuse_mixed_above_boiler(std::vector<Entry const*> const& zones, Installation const&, Diagnostics&);

}  // namespace steadyfire
