#include "tools/review/simulation_review.hpp"

#include "sim/record/reasons.hpp"

namespace steadyfire {

ReviewPart review_simulation(Job const& job) {
  ReviewPart part;
  part.id = "simulation", part.title = "Flows and simulated days";
  part.sentences = reasons(job.run.why);
  part.findings = job.run.findings;
  for (auto const& f : job.flows.findings)
    if (f.severity != Severity::note) part.findings.push_back(f);
  ReviewTable zones{"zones",
                    "",
                    {"zone", "design load", "flow needed", "lowest flow", "room on the design day (heat always on)", "coldest in the run"},
                    {}};
  for (auto const& z : job.project.installation.zones) {
    double wanted = 0, least = Field::none, room = Field::none;
    for (auto const& state : job.flows.states)
      for (auto const& f : state.zones)
        if (f.name == z.name) wanted = f.wanted, least = std::fmin(least, f.got), room = std::fmin(room, f.room);
    double coldest = Field::none;
    for (auto const& r : job.run.zones)
      if (r.name == z.name) coldest = r.room_min;
    zones.rows.push_back({z.name, {z.design_load, measure::power}, {wanted, measure::flow}, {least, measure::flow},
                          {room, measure::temperature}, {coldest, measure::fine_temperature}});
  }
  part.tables.push_back(std::move(zones));
  part.not_covered = {"noise, and pipe wear beyond the velocity findings"};
  return part;
}

}  // namespace steadyfire
