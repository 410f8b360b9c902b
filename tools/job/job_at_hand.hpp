#pragma once
/// A house as reviewers ask for it.

#include "tools/review/reviewer.hpp"
#include "tools/job/house_run.hpp"

namespace steadyfire {

/// Who watches each run of a job as it begins.
using JobWatch = std::function<RunWatch()>;

/// Solves and runs the house once, then answers reviewers; document and project must outlive it.
///
/// Errors  Stopped where flows or run cannot go on; BadInput for a change that does not go with the rest.
class JobAtHand {
 public:
  /// `at_edges`: with the runs that tell whether its verdict stands on a knife edge.
  JobAtHand(Document const&, Project const&, JobWatch, bool at_edges = true);
  JobAtHand(JobAtHand const&) = delete;
  Job const& job() const { return job_; }
  /// All reviewers asked; nothing where the user interrupted. `heard` is told each part as it comes.
  std::optional<ReviewRecord> review(std::function<void(ReviewPart const&)> const& heard = {}) const;

 private:
  JobWatch const watch_;
  FlowsRecord const flows_;
  Record const run_;
  Job const job_;
};

}  // namespace steadyfire
