#pragma once
/// What steady flows mean, in words.

#include "sim/network/installation.hpp"
#include "sim/record/flows_record.hpp"

namespace steadyfire {

/// Adds what is worth telling of one state: zones short of flow, mixing at the tees, speeds.
void add_flow_findings(FlowState const&, Installation const&, std::vector<Finding>&);

/// Joins findings of one state into those of all: of the same id and place the worst is
/// kept, with the calls at which it shows.
void merge_findings(std::vector<Finding>& all, std::vector<Finding> const& of_state, std::vector<std::string> const& calls,
                    std::size_t states);

}  // namespace steadyfire
