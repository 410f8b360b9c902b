#include "tools/review/simulation_review.hpp"

#include <algorithm>

#include "sim/record/reasons.hpp"

namespace steadyfire {

namespace {

/// Warmest floors of the run beside what both sides of the ocean allow.
///
/// Source  EN 1264-2; ASHRAE 55 (66 to 84 °F, people with shoes), from memory; the last column is common practice, no source.
ReviewTable floors(Job const& job) {
  ReviewTable t{"floor_limits",
                "Floor surface (at the supply end), and its limits in Europe and North America",
                {"zone", "use", "warmest in the run", "EN 1264-2", "ASHRAE 55, with shoes", "usual in North America", "wood floor"},
                {}};
  auto const& in = job.project.installation;
  struct Limits { char const* use; double european, american; };
  Limits const limits[]{{"occupied", unit::degC.to_si(29), unit::degF.to_si(85)},
                        {"bathroom", unit::degC.to_si(33), unit::degF.to_si(90)},
                        {"perimeter", unit::degC.to_si(35), unit::degF.to_si(92)}};
  for (auto const& z : in.zones) {
    auto const& emitter = in.pieces[std::size_t(z.emitter)];
    auto const field = std::find_if(emitter.kind->fields.begin(), emitter.kind->fields.end(), [](auto const& f) { return f.key == "use"; });
    auto const channel = std::find_if(job.run.whole.channels.begin(), job.run.whole.channels.end(),
                                      [&](auto const& c) { return c.id == "zone/" + z.name + "/floor"; });
    if (channel == job.run.whole.channels.end() || channel->most.empty()) continue;
    bool const says_use = field != emitter.kind->fields.end();
    auto const& use = limits[says_use ? std::size_t(emitter.values[std::size_t(field - emitter.kind->fields.begin())].numbers.at(0)) : 0];
    t.rows.push_back({z.name, use.use,
                      {double(*std::max_element(channel->most.begin(), channel->most.end())), measure::fine_temperature},
                      {use.european, measure::temperature},
                      {unit::degC.to_si(29), measure::temperature},
                      {use.american, measure::temperature},
                      say("{} to {}, by its maker", Amount{unit::degF.to_si(80), measure::temperature},
                          Amount{unit::degF.to_si(85), measure::temperature})});
  }
  return t;
}

}  // namespace

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
  if (auto t = floors(job); !t.rows.empty()) part.tables.push_back(std::move(t));
  part.not_covered = {"noise, and pipe wear beyond the velocity findings"};
  return part;
}

}  // namespace steadyfire
