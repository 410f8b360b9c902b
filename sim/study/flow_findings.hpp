#pragma once
/// What steady flows mean, in words.

#include "sim/network/installation.hpp"
#include "sim/record/flows_record.hpp"

namespace steadyfire {

/// Whether a zone gets less than 90 % of its flow.
bool is_short_of_flow(ZoneFlow const&);

/// Adds what is worth telling of one state: zones short of flow or over-pumped, mixing at the tees, speeds.
void add_flow_findings(FlowState const&, Installation const&, std::vector<Finding>&);

/// Runs in which air stays: water that falls in them, or that cannot be purged from them, is too slow
/// to carry bubbles along in every one of the states. A run where nothing flows is not told.
void add_slow_runs(std::vector<FlowState> const&, std::vector<Finding>&);

/// Joins findings of one state into those of all: of the same id and place the worst is
/// kept, with the calls at which it shows.
void merge_findings(std::vector<Finding>& all, std::vector<Finding> const& of_state, std::string const& calling,
                    std::size_t states);

}  // namespace steadyfire
