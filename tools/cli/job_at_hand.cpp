#include "tools/cli/job_at_hand.hpp"

#include "models/catalog.hpp"
#include "models/review/hot_water_answer.hpp"
#include "sim/study/flows_study.hpp"
#include "tools/cli/band_words.hpp"
#include "tools/cli/running.hpp"

namespace steadyfire::cli {
namespace {

Project assembled(Document const& changed) {
  Diagnostics faults;
  auto project = make_project(changed, catalog(), faults);
  if (!faults.empty() || !project.weather_faults.empty())
    throw BadInput(faults.render(changed.file, changed.text) + project.weather_faults);
  return project;
}

FlowsRecord flows_of(Project const& project) { return study_flows(project.installation, flows_options_of(project)); }

Record run_of(Project const& project, UnitSystem units) {
  Progress progress;
  auto result = run_study(project.installation, options_of(project, units), RunWeather{project}, std::ref(progress), was_interrupted);
  if (result.stopped) throw *result.stopped;
  answer_hot_water(result.record, project, units);
  return result.record;
}

}  // namespace

JobAtHand::JobAtHand(Document const& document, Project const& project, UnitSystem units)
    : flows_{flows_of(project)}, run_{run_of(project, units)},
      job_{document, catalog(), project, flows_, run_, units, [](Document const& changed) { return flows_of(assembled(changed)); },
           [units](Document const& changed) { return run_of(assembled(changed), units); }} {}

std::optional<ReviewRecord> JobAtHand::review() const {
  ReviewRecord review;
  review.title = job_.project.installation.title, review.program_version = STEADYFIRE_VERSION;
  review.assumptions = job_.project.installation.assumptions, review.cautions = {caution};
  for (auto const reviewer : reviewers()) {
    if (was_interrupted()) return {};
    review.parts.push_back(reviewer(job_));
  }
  if (was_interrupted()) return {};
  return review;
}

}  // namespace steadyfire::cli
