#include "tools/job/house_run.hpp"

#include <algorithm>
#include <cmath>

#include "models/house/boiler_of.hpp"
#include "models/house/hot_water_answer.hpp"
#include "sim/study/stop_point.hpp"

namespace steadyfire {

char const* const caution =
    "Gas, flue gas, carbon monoxide, pressure, hot water and electricity can kill. These results help you decide. The local code, the "
    "appliance manual and a licensed contractor decide.";

RunOptions options_of(Project const& project) {
  auto const& run = project.run;
  RunOptions o;
  o.duration = *run.duration, o.clock = *run.clock, o.start_water = *run.start_water;
  o.ground = project.ground, o.unheated = project.unheated, o.tolerance = *run.tolerance;
  o.short_burn = *run.short_burn, o.note_burn = *run.note_burn, o.starts_limit = run.starts_limit;
  if (!std::isnan(*run.fuel_price)) o.fuel_price = *run.fuel_price;
  if (!std::isnan(*run.electricity_price)) o.electricity_price = *run.electricity_price;
  o.carbon_per_joule = std::isnan(*run.carbon) ? project.carbon_per_joule : *run.carbon;
  o.weather_source = project.weather.source;
  auto const gas = boiler_of(project.installation).chemistry;
  o.flue_gas = {gas.dry_oxygen, gas.dry_carbon_dioxide, gas.vapour_fraction, gas.dew_point, gas.pressure};
  o.condensing = [boiler = boiler_of(project.installation)](double entering, double fire) {
    return entering + boiler.approach(fire) < boiler.chemistry.dew_point;
  };
  return o;
}

RunOptions roughly(RunOptions o) {
  o.tolerance = std::max(o.tolerance, 0.05);
  o.guarded_tolerance = std::max(o.guarded_tolerance, 0.02), o.flow_refresh = std::max(o.flow_refresh, 12.0);
  return o;
}

FlowsOptions flows_options_of(Project const& project) {
  FlowsOptions options;
  options.ground = project.ground, options.unheated = project.unheated;
  return options;
}

RunWeather::RunWeather(Project const& project)
    : weather_{project.weather}, offset_{(project.run.start_day - 1) * 86400.0 + *project.run.clock} {}

RunResult run_house(Project const& project, RunOptions const& options, RunWatch const& watch) {
  auto result = run_study(project.installation, options, RunWeather{project}, watch.progress, watch.interrupted);
  result.record.cautions.insert(result.record.cautions.begin(), caution);
  answer_hot_water(result.record, project);
  return result;
}

void add_stop_point(Record& record, Project const& project, RunOptions const& options, std::function<bool()> const& interrupted) {
  if (!may_hang_on_stop_point(record) || options.duration > longest_stop_point_run) return;
  record.stop_point = study_stop_point(project.installation, options, RunWeather{project}, interrupted);
  if (auto edge = knife_edge(record)) record.findings.push_back(std::move(*edge));
  std::stable_sort(record.findings.begin(), record.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
}

void add_flow_findings(Record& record, Project const& project) try {
  for (auto const& f : findings_of_site(project)) record.findings.push_back(f);
  for (auto const& f : study_flows(project.installation, flows_options_of(project)).findings)
    if (auto const is_told = std::any_of(record.findings.begin(), record.findings.end(),
                                         [&](auto const& other) { return other.id == f.id && other.place == f.place; });
        (f.severity == Severity::serious || f.id == not_solved_id) && !is_told)
      record.findings.push_back(f);
  std::stable_sort(record.findings.begin(), record.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
} catch (Stopped const& e) {  // what the run found stands by itself
  record.findings.push_back({.id = "flows.not_solved",
                             .place = "",
                             .severity = Severity::minor,
                             .figures = {},
                             .limit = std::nullopt,
                             .whose = common_practice,
                             .words = say("steady flows of the design day not found ({}); rooms on that day were not checked.", e.message),
                             .order = 20,
                             .fix = "`flows` tells which zones call then."});
}

}  // namespace steadyfire
