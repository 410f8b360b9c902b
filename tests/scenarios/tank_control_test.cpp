#include <gtest/gtest.h>

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

}  // namespace
}  // namespace steadyfire
