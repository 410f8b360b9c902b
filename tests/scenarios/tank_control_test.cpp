#include <gtest/gtest.h>

#include "models/tank_control.hpp"
#include "tests/project_of.hpp"
#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

/// Looks whether the burner burns while no zone calls, and at which tank temperatures charging begins and ends.
class Looks final : public Watcher {
 public:
  explicit Looks(Installation const& in, Plan const& plan) : in_{in}, plan_{plan} {}
  void stepped(double, std::vector<double> const&, State const& now) override {
    auto const& boiler = *plan_.pieces[in_.boiler].kind;
    burns_alone |= now.mode[in_.relay] == 0 && boiler.modes[now.mode[in_.boiler]] == "modulating";
  }
  void tripped(std::vector<Trip> const& trips, State const& now) override {
    for (auto const& t : trips)
      if (t.piece == in_.tank_control) {
        double const below = now.x[plan_.own[in_.relay]] - now.x[plan_.own[in_.find("tank")]];
        (t.to == 1 ? begins : ends).push_back(below);
      }
  }
  bool burns_alone = false;
  std::vector<double> begins, ends;  // [K] tank below what is wanted

 private:
  Installation const& in_;
  Plan const& plan_;
};

TEST(TankControl, ChargesTheTankWhetherZonesCallOrNot) {
  auto const project = whole_run::shipped("buffer_two_pipes");
  Plan plan = lay_out(project.installation, *project.run.start_water);
  RunWeather const weather{project};
  March march{plan, weather, {}};
  Looks looks{project.installation, plan};
  march.watch(looks);
  march.run(12 * 3600);
  EXPECT_TRUE(looks.burns_alone);
  ASSERT_GT(looks.begins.size(), 5u);
  for (std::size_t i = 1; i < looks.begins.size(); ++i) EXPECT_NEAR(looks.begins[i], 20 / 1.8, 0.01);  // call_below = "20 degF"
  for (double const below : looks.ends) EXPECT_NEAR(below, 2 / 1.8, 0.01);  // 2 degF if not given
}

TEST(TankControl, IsPermittedByTheCurvesOfMixedZonesToo) {
  auto const with = [](std::string const& mixing) {
    return project_of(R"(
format = 1
title = "A floor beside a tank with its own control"
[boiler]
heating_input = "60 kBtu/h"
minimum_input = "12 kBtu/h"
[near_boiler]
arrangement = "buffer tank"
circulator = { duty = "medium" }
tank_control = {}
[[zone]]
name = "floor"
design_load = "20 kBtu/h"
floor_area = "900 ft2"
emitter = { kind = "radiant slab" }
mixing = { kind = ")" + mixing + R"(" }
circulator = {}
[[zone]]
name = "rooms"
design_load = "15 kBtu/h"
floor_area = "700 ft2"
emitter = { kind = "panel radiator", output = "20 kBtu/h" }
circulator = {}
)");
  };
  for (auto const* mixing : {"motorised mixing valve", "thermostatic mixing valve", "injection circulator"}) {
    auto const project = with(mixing);
    auto const& in = project.installation;
    auto const permits = value_of<&TankControl::permits>(in.pieces[std::size_t(in.tank_control)]).numbers;
    ASSERT_EQ(permits.size(), 2u) << mixing;
    for (std::size_t z = 0; z < 2; ++z) EXPECT_EQ(int(permits[z]), in.zones[z].reset) << mixing;
    auto const record = run_for(project, 6 * 3600).record;
    EXPECT_GT(record.burner.starts, 0) << mixing;
  }
}

}  // namespace
}  // namespace steadyfire
