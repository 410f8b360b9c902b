#pragma once
/// The review of a job before pipe is cut: each subject has a reviewer, which reads the scenario
/// with its side data, computes, and judges.

#include <functional>

#include "models/house/house.hpp"
#include "sim/record/flows_record.hpp"
#include "sim/record/record.hpp"
#include "sim/record/review_record.hpp"

namespace steadyfire {

/// What reviewers look at.
struct Job {
  Document const& document;
  Catalog catalog;
  Project const& project;
  FlowsRecord const& flows;  ///< every combination of calls, at design
  Record const& run;         ///< of the scenario's own [run]
  /// The same questions asked of a changed scenario. Errors: BadInput where the change does not go with the rest.
  std::function<FlowsRecord(Document const&)> flows_with;
  std::function<Record(Document const&)> run_with;
};

/// Errors  none: what the file does not say goes to `missing`, what cannot be computed to `not_covered`.
using Reviewer = ReviewPart (*)(Job const&);

/// In the order in which they are told. To add one: its file, and a line in reviewers.cpp.
std::vector<Reviewer> reviewers();

}  // namespace steadyfire
