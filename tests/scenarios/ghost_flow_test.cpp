#include <gtest/gtest.h>

#include "sim/study/flows_study.hpp"
#include "tests/paths.hpp"
#include "tests/project_of.hpp"

namespace steadyfire {
namespace {

/// The shipped scenario, with or without a flow check in the upper circulator.
Project upper_floor(bool check) {
  std::string const file = in_source("/scenarios/ghost_flow.toml");
  auto text = read_text(file);
  std::string const without = "check_valve = false";
  text.replace(text.find(without), without.size(), check ? "check_valve = true" : without);
  return project_of(text, file);
}

double through_the_resting_circulator(bool check, bool& found) {
  FlowsOptions options;
  options.calls = {{"ground floor"}};
  auto const record = study_flows(upper_floor(check).installation, options);
  found = false;
  for (auto const& f : record.findings) found |= f.id == "circulator.ghost_flow" && f.place == "upper floor/circulator";
  for (auto const& e : record.states[0].edges)
    if (e.name == "upper floor/circulator") return e.flow;
  return 0;
}

TEST(GhostFlow, RunsThroughARestingCirculatorAndStopsWithAFlowCheck) {
  bool found = false;
  EXPECT_LT(through_the_resting_circulator(false, found), -3e-6);
  EXPECT_TRUE(found);
  EXPECT_EQ(through_the_resting_circulator(true, found), 0);
  EXPECT_FALSE(found);
}

}  // namespace
}  // namespace steadyfire
