/// What is found in the shipped scenarios is told in the reader's units alone: words, whose limit, and fix.

#include <gtest/gtest.h>

#include <filesystem>
#include <regex>
#include <set>

#include "models/house/network_rules.hpp"
#include "tests/paths.hpp"
#include "tests/project_of.hpp"

namespace steadyfire {
namespace {

/// A number with a unit of the other system behind it.
std::regex const us_units{R"([0-9] ?(gpm|ft|ft/s|psi|°F|°F·h|kBtu/h|kBtu|Btu/h|Btu/°F|therm|gal|in|in\. w\.c\.)(?![A-Za-z0-9/°]))"};
std::regex const si_units{R"([0-9] ?(L/s|L|m/s|m|mm|Pa|kPa|mbar|°C|°C·h|kW|kWh|kJ/°C)(?![A-Za-z0-9/°]))"};

TEST(UnitsOfWords, AreSeenByTheTestItself) {
  for (auto const* told : {"flow 1.7 gpm, needs", "velocity 4.2 ft/s", "at 158 °F.", "5.1 ft drop", "5 in)"})
    EXPECT_TRUE(std::regex_search(told, us_units) && !std::regex_search(told, si_units)) << told;
  for (auto const* told : {"flow 0.107 L/s, needs", "velocity 1.28 m/s", "at 70.0 °C.", "4.05 m (", "20.75 kW"})
    EXPECT_TRUE(std::regex_search(told, si_units) && !std::regex_search(told, us_units)) << told;
}

void expect_units(Words const& words, std::string const& of) {
  auto const us = words.in(UnitSystem::us), si = words.in(UnitSystem::si);
  EXPECT_FALSE(std::regex_search(us, si_units)) << of << ": " << us;
  EXPECT_FALSE(std::regex_search(si, us_units)) << of << ": " << si;
  EXPECT_EQ(us.find("degF"), std::string::npos) << of << ": " << us;
}

void expect_units(std::vector<Finding> const& all, std::string const& of, std::set<std::string>& seen) {
  for (auto const& f : all) {
    auto const where = of + ", " + f.id + " at " + f.place;
    expect_units(f.words, where + ", words"), expect_units(f.whose, where + ", whose"), expect_units(f.fix, where + ", fix");
    EXPECT_TRUE(f.fix.empty() || f.fix.in(UnitSystem::us).ends_with('.')) << where << ": " << f.fix.in(UnitSystem::us);
    if (f.words.in(UnitSystem::us) != f.words.in(UnitSystem::si)) seen.insert(f.id);
  }
}

/// Three hours of the morning, when a family wakes: enough that burners start and taps run.
std::string shortened(std::string text) {
  text = std::regex_replace(text, std::regex("(^|\n)(duration|start_clock) *=[^\n]*"), "$1");
  std::string const run = "[run]\nduration = \"3 h\"\nstart_clock = \"6:30\"\n";
  auto const at = ("\n" + text).find("\n[run]");
  return at == std::string::npos ? text + "\n" + run : text.replace(at, 5, run);
}

TEST(UnitsOfWords, AreTheReadersInAllThatFlowsAndRunsFind) {
  std::set<std::string> seen;
  for (auto const& entry : std::filesystem::directory_iterator(in_source("/scenarios"))) {
    if (entry.path().extension() != ".toml") continue;
    auto const file = entry.path().string(), name = entry.path().stem().string();
    auto text = read_text(file);
    if (text.find("\n[boiler]") != std::string::npos) text = shortened(text);
    auto const project = project_of(text, file);
    auto const& in = project.installation;
    auto const flows = study_flows(in, flows_options_of(project));
    expect_units(flows.findings, name, seen), expect_units(flows.passed, name, seen);
    expect_units(project.is_house ? hurried_thermostats(in) : lonely_joints(in), name, seen);
    if (project.is_house) expect_units(run_house(project, options_of(project), {}).record.findings, name, seen);
  }
  for (auto const* id : {"zone.short_of_flow", "zone.over_pumped", "pipe.slow", "tees.needed"})
    EXPECT_TRUE(seen.contains(id)) << id << " tells no number any more";
}

}  // namespace
}  // namespace steadyfire
