#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <iostream>
#include <sstream>

#include "models/house/network_rules.hpp"
#include "sim/record/json_parts.hpp"
#include "sim/record/record_json.hpp"
#include "sim/study/flows_study.hpp"
#include "tools/cli/band_words.hpp"
#include "tools/cli/running.hpp"
#include "tools/job/house_run.hpp"

namespace steadyfire::cli {
namespace {

/// What is printed of a study, in one system of units.
class FlowsWords {
 public:
  FlowsWords(FlowsRecord const& record, UnitSystem system) : record_{record}, system_{system} {}

  /// One state in full: of a bare network, or where it was asked for alone, with every branch.
  std::string in_full(FlowState const& s, bool with_branches) const {
    std::string text;
    if (!s.calls.empty()) text += fmt::format("\n{} calling: {}\n", names(s), boiler_words(s));
    text += zone_table(s.zones);
    for (auto const& c : s.circulators)
      if (c.power > 0 || s.calls.empty())
        text += fmt::format("  circulator {}: {} at {} head, {}\n", c.name, tell(c.flow, measure::flow), tell(c.head, measure::head),
                            tell(c.power, measure::electric_power));
    return text + pressure_words(s) + (with_branches ? branch_table(s) : "");
  }

  /// Every zone calling, each alone, and the worst of all combinations.
  std::string in_short() const {
    auto const& states = record_.states;
    auto const by_calls = [](auto const& a, auto const& b) { return a.calls.size() < b.calls.size(); };
    auto const& all = *std::max_element(states.begin(), states.end(), by_calls);
    auto text = in_full(all, false);
    std::vector<ZoneFlow> alone;
    for (auto const& s : states)
      if (s.calls.size() == 1) alone.push_back(s.zones.front());
    if (all.calls.size() > 1) text += "\nEach zone alone\n" + zone_table(alone);
    return text + worst_words(all);
  }

  /// One line a state.
  std::string as_table() const {
    std::size_t width = 7;
    for (auto const& s : record_.states) width = std::max(width, names(s).size());
    auto const row = [&](auto const&... cells) { return fmt::format("  {:<{}}{:>10}{:>10}{:>12}{:>12}  {}\n", cells...); };
    auto text = "\n" + row("calling", width, "boiler", "zones", "supply", "at zones", "lowest flow, of the flow needed");
    for (auto const& s : record_.states) {
      auto const low = lowest(s);
      text += row(names(s), width, tell(s.boiler_flow, measure::flow), tell(s.zones_flow, measure::flow),
                  tell(s.boiler_supply, measure::temperature), tell(s.system_supply, measure::temperature),
                  low ? fmt::format("{} {}", tell(share(*low), measure::share), low->name) : "-");
    }
    return text;
  }

 private:
  std::string tell(double si, Measure const& m) const { return show(si, m, system_); }
  static std::string const& names(FlowState const& s) { return s.calling; }
  static double share(ZoneFlow const& z) { return z.got / z.wanted; }
  /// The zone that has the least of the flow that it needs; null where none needs any.
  static ZoneFlow const* lowest(FlowState const& s) {
    ZoneFlow const* low = nullptr;
    for (auto const& z : s.zones)
      if (z.wanted > 0 && (!low || share(z) < share(*low))) low = &z;
    return low;
  }

  std::string boiler_words(FlowState const& s) const {
    return fmt::format("{} through the boiler, {} to the zones; supply {} at the boiler, {} at the zones",
                       tell(s.boiler_flow, measure::flow), tell(s.zones_flow, measure::flow), tell(s.boiler_supply, measure::temperature),
                       tell(s.system_supply, measure::temperature));
  }

  std::string zone_table(std::vector<ZoneFlow> const& zones) const {
    if (zones.empty()) return "";
    auto const row = [](auto const&... cells) {
      return fmt::format("  {:<14}{:>12}{:>10}{:>11}{:>14}{:>14}{:>14}{:>10}\n", cells...);
    };
    auto text = row("zone", "flow needed", "flow", "temp drop", "emitter head", "heat", "design load", "room");
    for (auto const& z : zones)
      text += row(z.name, tell(z.wanted, measure::flow), tell(z.got, measure::flow), tell(z.drop, measure::temperature_change),
                  tell(z.head, measure::head), tell(z.heat, measure::power), tell(z.design_load, measure::power),
                  tell(z.room, measure::temperature));
    return text;
  }

  std::string pressure_words(FlowState const& s) const {
    if (s.pressures.empty()) return "";
    auto const by_pressure = [](auto const& a, auto const& b) { return a.second < b.second; };
    auto const [low, high] = std::minmax_element(s.pressures.begin(), s.pressures.end(), by_pressure);
    double constexpr atmosphere = 101325;
    return fmt::format("  pressure (gauge): lowest {} at '{}', highest {} at '{}'\n", tell(low->second - atmosphere, measure::pressure),
                       low->first, tell(high->second - atmosphere, measure::pressure), high->first);
  }

  std::string branch_table(FlowState const& s) const {
    auto const per = system_ == UnitSystem::us ? "per 100 ft" : "per 100 m";
    auto const row = [](auto const&... cells) { return fmt::format("  {:<20}{:>12}{:>12}{:>12}{:>10}{:>16}\n", cells...); };
    auto text = row("branch", "flow", "head loss", "velocity", "Reynolds", per);
    for (auto const& e : s.edges)
      text += row(e.name, tell(e.flow, measure::flow), tell(e.head_loss, measure::head),
                  e.velocity ? tell(*e.velocity, measure::velocity) : "", e.reynolds ? fmt::format("{:.0f}", *e.reynolds) : "",
                  e.head_gradient ? tell(*e.head_gradient, measure::head_gradient) : "");
    return text;
  }

  /// The state in which a zone has the least of the flow that it needs, and why it is the worst.
  std::string worst_words(FlowState const& all) const {
    FlowState const* worst = nullptr;
    ZoneFlow const* low = nullptr;
    for (auto const& s : record_.states)
      if (auto const* z = lowest(s); z && (!low || share(*z) <= share(*low))) worst = &s, low = z;
    if (!worst || record_.states.size() < 2) return "";
    auto const reason = fmt::format("{} has the lowest flow of any combination, {} of {} needed ({})", low->name,
                                    tell(low->got, measure::flow), tell(low->wanted, measure::flow), tell(share(*low), measure::share));
    if (worst == &all) return fmt::format("\nWorst combination: all zones calling; {}.\n", reason);
    if (worst->calls.size() == 1) return fmt::format("\nWorst combination: {} alone; {}.\n", names(*worst), reason);
    return fmt::format("\nWorst combination: {} calling; {}.\n", names(*worst), reason) + zone_table(worst->zones);
  }

  FlowsRecord const& record_;
  UnitSystem system_;
};

/// `--calls all`, where no zone has that name.
bool asks_for_all(std::vector<std::string> const& words, Installation const& in) {
  bool const is_zone = std::any_of(in.zones.begin(), in.zones.end(), [](auto const& z) { return z.name == "all"; });
  bool const all = !is_zone && !in.zones.empty() && std::find(words.begin(), words.end(), "all") != words.end();
  if (all && words.size() > 1)
    throw BadInput(fmt::format("error[{}]: --calls: 'all' with other zone names\n  expected  'all' alone, or zone names\n", "E240"));
  return all;
}

std::vector<std::vector<std::string>> read_calls(std::vector<std::string> const& words, Installation const& in) {
  std::vector<std::vector<std::string>> calls;
  std::vector<std::string> known;
  for (auto const& z : in.zones) known.push_back(z.name);
  for (auto const& word : words) {
    std::vector<std::string> zones;
    std::istringstream list{word};
    for (std::string name; std::getline(list, name, ',');) {
      auto const from = name.find_first_not_of(' ');
      name = from == name.npos ? "" : name.substr(from, name.find_last_not_of(' ') - from + 1);
      if (std::find(known.begin(), known.end(), name) == known.end()) {
        if (known.empty()) throw BadInput(fmt::format("error[{}]: --calls: a piping network has no zones to call\n", "E240"));
        auto const near = nearest(name, known);
        throw BadInput(fmt::format("error[{}]: --calls: no zone is named '{}'\n  expected  zone names joined by commas: {}\n{}",
                                   "E240", name, fmt::join(known, ", "), near.empty() ? "" : "  hint      did you mean '" + near + "'?\n"));
      }
      zones.push_back(name);
    }
    calls.push_back(zones);
  }
  return calls;
}

}  // namespace

int flows(Outputs& outputs, Common const& common, std::vector<std::string> const& calls) {
  Document document;
  Project const project = load(common.scenario, document);
  auto const& in = project.installation;
  if (!project.is_house) {
    constexpr std::size_t most_told = 50;
    auto const names = assumed_references(in);
    for (std::size_t i = 0; i < std::min(names.size(), most_told); ++i)
      std::cerr << fmt::format("no joint has a head; assumed {} at '{}'\n", show(0, measure::head, common.system()), names[i]);
    if (names.size() > most_told) std::cerr << fmt::format("and at {} more\n", names.size() - most_told);
  }
  auto options = flows_options_of(project);
  bool const as_table = asks_for_all(calls, in);
  if (!as_table) options.calls = read_calls(calls, in);
  outputs.begin();
  auto record = [&] {
    Progress progress;
    options.progress = std::ref(progress);
    return study_flows(in, options);
  }();
  {
    Progress progress;
    add_flow_band(record, in, supposing(project, document, common.system()), std::ref(progress));
  }
  for (auto& f : project.is_house ? hurried_thermostats(in) : lonely_joints(in)) record.findings.push_back(f);
  for (auto& f : findings_of_site(project)) record.findings.push_back(f);
  std::stable_sort(record.findings.begin(), record.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
  if (!common.silent()) {
    FlowsWords const words{record, common.system()};
    std::string text = record.title + "\n\n" + to_words(record.findings, common.system());
    for (auto const& f : record.passed) text += fmt::format("  ok       {}: {}\n", f.place, f.words.in(common.system()));
    if (!record.sample.empty()) text += "  note: " + record.sample + "\n";
    if (as_table) text += words.as_table();
    else if (!project.is_house || !options.calls.empty())
      for (auto const& s : record.states) text += words.in_full(s, record.states.size() == 1);
    else text += words.in_short();
    text += band_words(record, common.system());
    if (!as_table && options.calls.empty() && record.states.size() > 2)
      text += fmt::format("\n{} combinations of calling zones solved; --calls all lists each in one line.\n", record.states.size());
    if (!record.assumptions.empty())
      text += fmt::format("\n{} values are assumed (middle of the usual range); --json lists them.\n", record.assumptions.size());
    std::cout << text;
  }
  outputs.write(common.json, [&] { return json_text(flows_to_json(record, common.system())); });
  outputs.commit();
  return done;
}

}  // namespace steadyfire::cli
