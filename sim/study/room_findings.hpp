#pragma once
/// What a house does to its rooms, as findings: too cold, too warm, and why.

#include "sim/network/installation.hpp"
#include "sim/record/flows_record.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// Of a run: rooms that were off their setpoint after warm-up, setbacks that take long to come back from, and zones that called
/// without a break though it was no design day.
///
/// Shape   `clock` is the time of day at which the run began [s].
/// Valid   causes are told from means over the time that the room was off: which weighs most is named, others may join in.
/// Errors  the lift of the water is that of a straight emitter: a few degrees too much for a large one.
std::vector<Finding> room_findings(Record const&, Installation const&, double clock);

/// Of steady flows: rooms that stay below their setpoint on the design day though their flow is right, and zones without reserve.
///
/// Shape   `warmer` are the zones of the state with most calls, with the water `lift` [K] warmer; empty where that was not solved.
void add_room_findings(FlowsRecord&, Installation const&, std::vector<ZoneFlow> const& warmer, double lift);

/// "on day 2 at 06:40, 12 °F outdoors": run time [s], clock at its begin [s], [K].
Words occasion(double time, double clock, double outdoors);

/// A floor that takes the hot water of its neighbours unmixed is told to get a mixing valve before anything else.
void tell_mixing_first(Installation const&, std::vector<Finding>&);

/// The setpoint that a zone's thermostat holds, at least the room of the design load [K].
double setpoint_of(Installation const&, ZoneParts const&);

}  // namespace steadyfire
