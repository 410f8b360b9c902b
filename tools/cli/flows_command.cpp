#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "models/house/network_rules.hpp"
#include "sim/record/record_json.hpp"
#include "sim/study/flows_study.hpp"
#include "tools/cli/band_words.hpp"
#include "tools/job/house_run.hpp"

namespace steadyfire::cli {
namespace {

std::string state_words(FlowState const& s, UnitSystem system, bool all_edges) {
  std::string text;
  auto const tell = [&](double si, Measure const& m) { return show(si, m, system); };
  if (!s.calls.empty())
    text += fmt::format("\n{} calling: boiler {}, zones {}; {} leaves the boiler, {} reaches the zones\n", fmt::join(s.calls, ", "),
                        tell(s.boiler_flow, measure::flow), tell(s.zones_flow, measure::flow), tell(s.boiler_supply, measure::temperature),
                        tell(s.system_supply, measure::temperature));
  if (!s.zones.empty()) {
    text += fmt::format("  {:<14}{:>10}{:>10}{:>10}{:>10}{:>8}{:>12}\n", "zone", "wanted", "gets", "drop", "head", "heat", "room");
    for (auto const& z : s.zones)
      text += fmt::format("  {:<14}{:>10}{:>10}{:>10}{:>10}{:>8}{:>12}\n", z.name, tell(z.wanted, measure::flow),
                          tell(z.got, measure::flow), tell(z.drop, measure::temperature_change), tell(z.head, measure::head),
                          tell(z.heat_share, measure::share), tell(z.room, measure::temperature));
  }
  for (auto const& c : s.circulators)
    if (c.power > 0 || s.calls.empty())
      text += fmt::format("  circulator {}: {} at {}, {}\n", c.name, tell(c.flow, measure::flow), tell(c.head, measure::head),
                          tell(c.power, measure::electric_power));
  if (!s.pressures.empty()) {
    auto const by_pressure = [](auto const& a, auto const& b) { return a.second < b.second; };
    auto const [low, high] = std::minmax_element(s.pressures.begin(), s.pressures.end(), by_pressure);
    double constexpr atmosphere = 101325;
    text += fmt::format("  pressure: from {} gauge at '{}' to {} at '{}'\n", tell(low->second - atmosphere, measure::pressure), low->first,
                        tell(high->second - atmosphere, measure::pressure), high->first);
  }
  if (all_edges) {
    text += fmt::format("  {:<20}{:>12}{:>12}{:>12}{:>10}{:>16}\n", "branch", "flow", "head loss", "velocity", "Reynolds", "head loss per");
    for (auto const& e : s.edges)
      text += fmt::format("  {:<20}{:>12}{:>12}{:>12}{:>10}{:>16}\n", e.name, tell(e.flow, measure::flow), tell(e.head_loss, measure::head),
                          e.velocity ? tell(*e.velocity, measure::velocity) : "", e.reynolds ? fmt::format("{:.0f}", *e.reynolds) : "",
                          e.head_gradient ? tell(*e.head_gradient, measure::head_gradient) : "");
  }
  return text;
}

std::vector<std::vector<std::string>> read_calls(std::vector<std::string> const& words, Installation const& in) {
  std::vector<std::vector<std::string>> calls;
  std::vector<std::string> known;
  for (auto const& z : in.zones) known.push_back(z.name);
  for (auto const& word : words) {
    std::vector<std::string> zones;
    std::istringstream list{word};
    for (std::string name; std::getline(list, name, ',');) {
      if (std::find(known.begin(), known.end(), name) == known.end()) {
        if (known.empty()) throw BadInput(fmt::format("error[{}]: --calls: a bare network has no zones that could call\n", "E240"));
        auto const near = nearest(name, known);
        throw BadInput(fmt::format("error[{}]: --calls: no zone is called '{}'\n  expected  names of zones, joined by commas: {}\n{}",
                                   "E240", name, fmt::join(known, ", "), near.empty() ? "" : "  hint      did you mean '" + near + "'?\n"));
      }
      zones.push_back(name);
    }
    calls.push_back(zones);
  }
  return calls;
}

}  // namespace

int flows(Common const& common, std::vector<std::string> const& calls) {
  Document document;
  Project const project = load(common.scenario, document);
  auto const& in = project.installation;
  if (!project.is_house)
    for (auto const& name : assumed_references(in)) std::cerr << "no joint of this network has a head: '" << name << "' is taken as 0 m\n";
  auto options = flows_options_of(project);
  options.calls = read_calls(calls, in);
  auto record = study_flows(in, options);
  add_flow_band(record, supposing(project, document, common.system()));
  if (!project.is_house)
    for (auto& f : lonely_joints(in)) record.findings.insert(record.findings.begin(), f);
  if (!common.json.empty()) write_file(common.json, flows_to_json(record, common.system()).dump(1) + "\n");
  if (!common.silent()) {
    std::string text = record.title + "\n\n" + to_words(record.findings, common.system());
    if (!record.sample.empty()) text += "  note: " + record.sample + "\n";
    for (auto const& s : record.states) text += state_words(s, common.system(), !project.is_house || record.states.size() == 1);
    text += band_words(record, common.system());
    if (!record.assumptions.empty())
      text += fmt::format("\n{} values were not stated and are taken from the middle of a usual range; --json lists them.\n",
                          record.assumptions.size());
    std::cout << text;
  }
  return done;
}

}  // namespace steadyfire::cli
