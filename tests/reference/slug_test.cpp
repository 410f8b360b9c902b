// Slugs of hot water: a pipe against plug flow, and whole runs against the same house in ever finer cells.

#include <gtest/gtest.h>

#include "tests/project_of.hpp"

namespace steadyfire {
namespace {

struct Burns { double starts = 0, median = 0; };

/// A small zone piped straight through: one pass at minimum fire raises its water by more than the differential.
Burns straight_through(std::string const& cells, int of_emitter) {
  std::string const text = R"(format = 1
title = "Small zone straight through"
[site]
outdoor_design = "0 degF"
weather = { kind = "constant", outdoors = "20 degF" }
[boiler]
heating_input = "100 kBtu/h"
minimum_input = "24 kBtu/h"
)" + std::string(cells.empty() ? "" : "cells = 64") + R"(
[near_boiler]
arrangement = "direct"
circulator = { duty = "small", regulation = "fixed flow", setting_flow = "1.5 gpm" }
[[zone]]
name = "bath"
design_load = "9 kBtu/h"
floor_area = "250 ft2"
emitter = { kind = "fin-tube baseboard", length = "20 ft")" + (of_emitter ? ", cells = " + std::to_string(of_emitter) : "") + R"( }
zone_valve = { cv = 3.5 }
supply_temperature = "160 degF"
)" + cells;
  auto const r = run_for(project_of(text), 86400).record;
  return {double(r.burner.starts), r.burner.burn_median};
}

TEST(Slug, ASmallZoneStraightThroughCyclesAsInFineCells) {
  std::string fine;
  for (auto const* pipe : {"bath/supply", "bath/return"}) fine += "[[pipe]]\nname = \"" + std::string(pipe) + "\"\ncells = 48\n";
  auto const usual = straight_through("", 0), converged = straight_through(fine, 48);
  EXPECT_NEAR(usual.starts, converged.starts, 0.1 * converged.starts);
  EXPECT_NEAR(usual.median, converged.median, 0.1 * converged.median);
}

}  // namespace
}  // namespace steadyfire
