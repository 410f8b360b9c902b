#include <gtest/gtest.h>

#include "models/emitters/fan_coil.hpp"
#include "tests/scenarios/whole_run.hpp"

namespace steadyfire {
namespace {

/// What fans and snow do over a day of scenarios/many_emitters.toml.
class Onlooker final : public Watcher {
 public:
  Onlooker(Plan const& plan, Installation const& in) : plan_{plan}, in_{in} {}
  void stepped(double, std::vector<double> const&, State const& s) override {
    bool const garage = mode(s, "garage/emitter") == UnitHeater::fan_on, kitchen = mode(s, "kitchen/emitter") == KickSpaceConvector::fan_on;
    garage_blows += garage, unasked += garage && mode(s, "garage/thermostat") % 2 == 0;
    kitchen_after_its_call += kitchen && mode(s, "kitchen/thermostat") % 2 == 0;
    most_snow = std::max(most_snow, s.x[snow()]), last_snow = s.x[snow()];
  }
  void tripped(std::vector<Trip> const&, State const&) override {}
  long garage_blows = 0, unasked = 0, kitchen_after_its_call = 0;
  double most_snow = 0, last_snow = 0;  // [kg/m²]

 private:
  int mode(State const& s, std::string_view piece) const { return s.mode[in_.find(piece)]; }
  Place snow() const { return Place(std::find(plan_.names.begin(), plan_.names.end(), "drive/emitter snow") - plan_.names.begin()); }
  Plan const& plan_;
  Installation const& in_;
};

TEST(ManyEmitters, FansRunByTheirThermostatOrTheirWaterAndTheDriveMeltsItsSnow) {
  auto const project = whole_run::shipped("many_emitters");
  Plan plan = lay_out(project.installation, *project.run.start_water);
  RunWeather const weather{project};
  March march{plan, weather, {}};
  Onlooker seen{plan, project.installation};
  march.watch(seen);
  State& s = march.state();
  s.x[given::outdoors] = weather.at(0), s.x[given::ground] = project.ground, s.x[given::unheated] = project.unheated;
  for (auto const& b : plan.batches) b->begin(s.now(plan), s.x.data());
  march.run(86400);
  EXPECT_GT(seen.garage_blows, 0);
  EXPECT_EQ(seen.unasked, 0);
  EXPECT_GT(seen.kitchen_after_its_call, 0);
  EXPECT_GT(seen.most_snow, 0.2);  // it lies before the slab is warm
  EXPECT_LT(seen.most_snow, 5);    // of 13 kg/m² that fall
  EXPECT_LT(seen.last_snow, 0.05);
}

TEST(ManyEmitters, AZoneWhoseEmitterCallsByItselfHasNoRoom) {
  auto const in = whole_run::shipped("many_emitters").installation;
  for (auto const& z : in.zones) EXPECT_EQ(z.room < 0, z.name == "drive") << z.name;
  EXPECT_LT(in.find("drive/thermostat"), 0);
}

TEST(ManyEmitters, AStatedDesignTemperatureOfARoomIsThatOfItsZone) {
  for (auto const& z : whole_run::shipped("many_emitters").installation.zones)
    if (z.name == "garage") EXPECT_NEAR(z.design_room, unit::degF.to_si(55), 1e-9);
}

}  // namespace
}  // namespace steadyfire
