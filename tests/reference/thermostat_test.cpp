// Thermostats set in cycles an hour, against the published relation of cycle rate and run-time fraction, through whole runs.
//
//   N = 4·Nmax·X·(1 − X)
//
// NEMA DC 3, residential controls; H. I. Henderson and others, Measuring thermostat and air conditioner performance in
// Florida homes, FSEC-RR-24-91, 1991; both from memory.

#include <gtest/gtest.h>

#include "tests/project_of.hpp"

namespace steadyfire {
namespace {

struct Cycling { double rate = 0, fraction = 0; long cycles = 0; };

/// A room of 14 kBtu/h at 0 °F, its boiler large enough and its water always hot; whole cycles after the first hours.
Cycling cycling(std::string const& emitter, std::string const& thermostat, double outdoors, double from, double until) {
  std::string const text = R"(format = 1
title = "One room"
[site]
outdoor_design = "0 degF"
indoor_design = "70 degF"
weather = { kind = "constant", outdoors = ")" + std::to_string(outdoors) + R"( degF" }
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "8 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
[[zone]]
name = "room"
design_load = "14 kBtu/h"
floor_area = "600 ft2"
)" + emitter + "\nthermostat = " + thermostat + "\ncirculator = { duty = \"small\" }\n";
  auto const r = run_for(project_of(text), until * 3600).record;
  Cycling c;
  double first = -1, last = 0, called = 0, on = 0;
  for (auto const& e : r.events) {
    if (e.place != "room/thermostat" || e.time < from * 3600) continue;
    if (e.what == "calling") {
      if (first < 0) first = e.time;
      else ++c.cycles, on = called;
      last = e.time;
    } else if (first >= 0) {
      called += e.time - last;
    }
  }
  c.rate = double(c.cycles) / (last - first) * 3600, c.fraction = on / (last - first);
  return c;
}

struct Emitter {
  std::string name, words;  ///< sized so that it calls half the time at 35 °F
  double hours;             ///< after which the room has forgotten how it began
};
std::vector<Emitter> const& emitters() {
  static std::vector<Emitter> const all{
      {"fin_tube", R"(emitter = { kind = "fin-tube baseboard", length = "24 ft" }
supply_temperature = "180 degF")", 8},
      {"panel_radiator", R"(emitter = { kind = "panel radiator", output = "14 kBtu/h" }
supply_temperature = "150 degF")", 8},
      {"column_radiator", R"(emitter = { kind = "column radiator", output = "14 kBtu/h" }
supply_temperature = "150 degF")", 8},
      {"air_handler", R"(emitter = { kind = "air handler", output = "14 kBtu/h", rated_water = "150 degF", rated_air = "70 degF", )"
                      R"(rated_flow = "2 gpm", air_flow = "500 cfm" }
supply_temperature = "150 degF")", 8},
      {"radiant_ceiling", R"(emitter = { kind = "radiant ceiling", area = "450 ft2" }
supply_temperature = "125 degF")", 12},
      {"radiant_slab", R"(emitter = { kind = "radiant slab", covering = "0.1 ft2*h*degF/Btu" }
supply_temperature = "110 degF")", 48},
  };
  return all;
}

class CycleRate : public testing::TestWithParam<std::tuple<int, double>> {};

TEST_P(CycleRate, IsMetAtHalfLoadAndFollowsThePublishedRelation) {
  auto const& emitter = emitters()[std::get<0>(GetParam())];
  double const most = std::get<1>(GetParam());
  int seen = 0, at_half = 0;
  for (double const outdoors : {50., 40., 30., 20., 10., 0., -10.}) {
    auto const c = cycling(emitter.words, "{ cycles_per_hour = \"" + std::to_string(most) + " 1/h\" }", outdoors, emitter.hours,
                           emitter.hours + 16);
    double const X = c.fraction, published = 4 * most * X * (1 - X);
    if (c.cycles < 4 || X < 0.15 || X > 0.85) continue;
    bool const half = std::abs(X - 0.5) < 0.12;
    ++seen, at_half += half;
    EXPECT_NEAR(c.rate, published, (half ? 0.15 : 0.2) * published) << outdoors << " °F, X " << X;
  }
  EXPECT_GE(seen, 2);
  EXPECT_GE(at_half, 1);
}
INSTANTIATE_TEST_SUITE_P(Emitters, CycleRate, testing::Combine(testing::Range(0, 6), testing::Values(1., 3., 6.)), [](auto const& info) {
  return emitters()[std::get<0>(info.param)].name + "_" + std::to_string(int(std::get<1>(info.param)));
});

// Between the two temperatures that it is told, whatever the room does.
TEST(DifferentialThermostat, CallsHalfADegreeBelowAndRestsHalfADegreeAbove) {
  auto const c = cycling(emitters()[1].words, "{ kind = \"differential thermostat\", differential = \"1 degF\" }", 35, 8, 24);
  EXPECT_GT(c.cycles, 5);
}

}  // namespace
}  // namespace steadyfire
