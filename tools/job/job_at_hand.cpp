#include "tools/job/job_at_hand.hpp"

#include "tools/job/catalog.hpp"

namespace steadyfire {
namespace {

Project assembled(Document const& changed) {
  Diagnostics faults;
  auto project = make_project(changed, catalog(), faults);
  if (!faults.empty() || !project.file_faults.empty())
    throw BadInput(faults.render(changed.file, changed.text) + project.file_faults.rendered);
  return project;
}

FlowsRecord flows_of(Project const& project) { return study_flows(project.installation, flows_options_of(project)); }

Record run_of(Project const& project, RunWatch const& watch) {
  auto result = run_house(project, options_of(project), watch);
  if (result.stopped) throw *result.stopped;
  return std::move(result.record);
}
/// With what a trembling stop point would do to it.
Record judged_run_of(Project const& project, RunWatch const& watch, bool at_edges) {
  auto run = run_of(project, watch);
  if (at_edges) add_stop_point(run, project, options_of(project), watch.interrupted);
  return run;
}

}  // namespace

JobAtHand::JobAtHand(Document const& document, Project const& project, JobWatch watch, bool at_edges)
    : watch_{std::move(watch)}, flows_{flows_of(project)}, run_{judged_run_of(project, watch_(), at_edges)},
      job_{document,
           catalog(),
           project,
           flows_,
           run_,
           [](Document const& changed) { return flows_of(assembled(changed)); },
           [this](Document const& changed) { return run_of(assembled(changed), watch_()); }} {}

std::optional<ReviewRecord> JobAtHand::review(std::function<void(ReviewPart const&)> const& heard) const {
  auto const interrupted = [ask = watch_().interrupted] { return ask && ask(); };
  ReviewRecord review;
  review.title = job_.project.installation.title, review.program_version = STEADYFIRE_VERSION;
  review.assumptions = job_.project.installation.assumptions, review.cautions = {caution};
  if (auto open = findings_of_site(job_.project); !open.empty()) {
    ReviewPart& site = review.parts.emplace_back();
    site.id = "site", site.title = "Site", site.findings = std::move(open);
  }
  for (auto const reviewer : reviewers()) {
    if (interrupted()) return {};
    review.parts.push_back(reviewer(job_));
    if (interrupted()) return {};
    if (heard) heard(review.parts.back());
  }
  return review;
}

}  // namespace steadyfire
