// Mixing devices and radiator valves, piece by piece.

#include <gtest/gtest.h>

#include "models/boiler.hpp"
#include "models/building/room.hpp"
#include "models/circulator.hpp"
#include "models/building/thermostats.hpp"
#include "models/controls.hpp"
#include "models/mixing/injection_circulator.hpp"
#include "models/mixing/mixing_valve.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"
#include "models/radiator_valve.hpp"
#include "models/supply_sensor.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

Kind const kinds[]{kind<MixingValve>(),   kind<ThermostaticMixingValve>(), kind<InjectionCirculator>(), kind<RadiatorValve>(), kind<Room>(),
                   kind<SupplySensor>(), kind<Thermostat>(),              kind<OutdoorReset>(),        kind<Circulator>()};
double constexpr degF_change = 5 / 9.;

double rate(Stand& stand, std::string const& piece, int own = 0) { return stand.settle(), stand.rates()[stand.own(piece, own)]; }
double loss(Stand& stand, int branch) {
  std::vector<WithSlope> all(stand.plan.branches.size());
  for (auto const& b : stand.plan.batches) b->losses(stand.state.now(stand.plan), all.data());
  return all[branch].value;
}

Stand mixer(std::vector<Setting> settings = {}) {
  settings.push_back({"setting", fahrenheit(100)});
  auto stand = StandBuilder{kinds}.add("motorised mixing valve", "valve", {"hot", "mixed", "cold", "mixed"}, std::move(settings)).build();
  stand.mode("valve", mixing_works);
  stand[stand.own("valve", 0)] = 0.5;
  return stand;
}

TEST(MixingValve, MotorStandsStillInItsNeutralZoneAndRunsInProportionBeyond) {
  auto stand = mixer();
  auto const at = [&](double below) { return stand[stand.own("valve", 2)] = fahrenheit(100) - below * degF_change, rate(stand, "valve"); };
  for (double const inside : {-0.99, -0.5, 0., 0.5, 0.99}) EXPECT_EQ(at(inside), 0) << inside;
  EXPECT_NEAR(at(19), 0.5 / 120, 1e-9);  // 18 °F beyond the zone, half of the 36 °F at full speed
  EXPECT_NEAR(at(-19), -0.5 / 120, 1e-9);
  EXPECT_NEAR(at(90), 1 / 120., 1e-9);
}

TEST(MixingValve, MotorStandsStillWhileNobodyCallsAndAtItsEnds) {
  auto stand = mixer();
  stand[stand.own("valve", 2)] = fahrenheit(60);
  stand[stand.own("valve", 0)] = 1;
  EXPECT_EQ(rate(stand, "valve"), 0);
  stand[stand.own("valve", 0)] = 0.5;
  EXPECT_GT(rate(stand, "valve"), 0);
  stand.mode("valve", mixing_rests);
  EXPECT_EQ(rate(stand, "valve"), 0);
}

TEST(MixingValve, WaysLoseHeadByTheirShareOfTheCv) {
  auto stand = mixer({{"cv", 4.}});
  stand.state.flow = {0.1, 0.1};
  stand[stand.own("valve", 0)] = 0.25;
  Fluid const water = stand.plan.fluid;
  EXPECT_NEAR(loss(stand, 0), cv_to_loss(0.1, 1., water), 1e-6);
  EXPECT_NEAR(loss(stand, 1), cv_to_loss(0.1, 3., water), 1e-6);
  stand[stand.own("valve", 0)] = 0;
  EXPECT_NEAR(loss(stand, 0), cv_to_loss(0.1, 0.004, water), 1e-3);  // the leak
}

TEST(MixingValve, AsksTheBoilerForItsCurveAndAMargin) {
  auto stand = StandBuilder{kinds}
                   .add("outdoor reset", "curve", {}, {{"cold_outdoors", 260.}, {"cold_supply", 315.}, {"mild_supply", 300.}})
                   .add("motorised mixing valve", "valve", {"hot", "mixed", "cold", "mixed"}, {{"reset", "curve"}, {"margin", 8.}})
                   .build();
  stand[stand.own("curve", 1)] = 311;
  stand[stand.own("valve", 1)] = 319;
  EXPECT_NEAR(rate(stand, "valve", 1), 0, 1e-12);
  stand[stand.own("valve", 1)] = 309;
  EXPECT_NEAR(rate(stand, "valve", 1), 10 / 20., 1e-12);
}

TEST(MixingValve, GivesWayByTheErrorOfTheReturnWhereThatIsTheLesser) {
  auto stand = StandBuilder{kinds}
                   .add("supply sensor", "sensor", {"a", "b"}, {})
                   .add("motorised mixing valve", "valve", {"hot", "mixed", "cold", "mixed"},
                        {{"setting", fahrenheit(100)}, {"least_return", fahrenheit(130)}, {"return_sensor", "sensor"}})
                   .build();
  stand.mode("valve", mixing_works);
  stand[stand.own("valve", 0)] = 0.5, stand[stand.own("valve", 2)] = fahrenheit(81);
  stand[stand.own("sensor")] = fahrenheit(150);
  EXPECT_NEAR(rate(stand, "valve"), 0.5 / 120, 1e-9);
  stand[stand.own("sensor")] = fahrenheit(111);
  EXPECT_NEAR(rate(stand, "valve"), -0.5 / 120, 1e-9);
}

TEST(ThermostaticMixingValve, HoldsItsSettingAtMidPosition) {
  auto stand = StandBuilder{kinds}
                   .add("thermostatic mixing valve", "valve", {"hot", "mixed", "cold", "mixed"}, {{"setting", fahrenheit(110)}})
                   .build();
  stand[stand.own("valve", 0)] = 0.5;
  stand[stand.joint("mixed")] = fahrenheit(110);
  EXPECT_EQ(rate(stand, "valve"), 0);
  stand[stand.joint("mixed")] = fahrenheit(107);  // 3 °F low, 1 °F of friction, band 10 °F, lag 15 s
  EXPECT_NEAR(rate(stand, "valve"), 2 / 10. / 15, 1e-9);
}

TEST(ThermostaticMixingValve, TellsWhenHotWaterIsTooNearToItsSetting) {
  auto stand = StandBuilder{kinds}
                   .add("thermostatic mixing valve", "valve", {"hot", "mixed", "cold", "mixed"}, {{"setting", fahrenheit(110)}})
                   .build();
  stand.mode("valve", mixing_works);
  stand.state.time = 2 * 3600, stand.state.flow = {0.1, 0.1};
  stand[stand.joint("mixed")] = fahrenheit(110);
  for (double const hot : {125., 135.}) {
    stand[stand.joint("hot")] = fahrenheit(hot);
    auto const found = stand.findings();
    EXPECT_EQ(std::count_if(found.begin(), found.end(), [](auto const& f) { return f.id == "mixing.small_difference"; }), hot < 130) << hot;
  }
}

TEST(InjectionCirculator, RisesWithTheSquareOfItsSpeed) {
  auto stand = StandBuilder{kinds}
                   .add("injection circulator", "pump", {"hot", "mixed"}, {{"shutoff_head", 4.}, {"greatest_flow", 1e-4}})
                   .build();
  stand.mode("pump", mixing_works);
  double const weight = stand.plan.fluid.density * 9.80665;
  for (double const speed : {1., 0.5, 0.1}) {
    stand[stand.own("pump")] = speed;
    stand.state.flow = {0};
    EXPECT_NEAR(loss(stand, 0), -weight * 4 * speed * speed, 1e-6);
    stand.state.flow = {speed * 1e-4 * stand.plan.fluid.density};
    EXPECT_NEAR(loss(stand, 0), 0, 1e-6);
  }
}

TEST(DifferenceCirculator, ItsSpeedStandsStillNearItsSettingAndKeepsBetweenItsEnds) {
  auto stand = StandBuilder{kinds}
                   .add("supply sensor", "sensor", {"c", "d"}, {})
                   .add("circulator", "pump", {"a", "b"}, {{"regulation", 4.}, {"sensor", "sensor"}, {"setting_difference", 10.}})
                   .build();
  stand.mode("pump", Circulator::running);
  stand[stand.own("sensor")] = 320;
  auto const at = [&](double speed, double water) {
    return stand[stand.own("pump")] = speed, stand[stand.joint("b")] = water, rate(stand, "pump");
  };
  EXPECT_EQ(at(0.5, 330.4), 0);
  EXPECT_EQ(at(0.5, 309.6), 0);             // a circulator in the return sees the difference too
  EXPECT_NEAR(at(0.5, 335.5), 0.5 / 600, 1e-9);  // 5 K beyond, of 10 K at full speed, 10 min
  EXPECT_NEAR(at(0.5, 324.5), -0.5 / 600, 1e-9);
  EXPECT_NEAR(at(0.2, 320), 0, 1e-9);
  EXPECT_NEAR(at(1, 350), 0, 1e-9);
}

TEST(RadiatorValve, ShutsABandAboveItsSetting) {
  auto stand =
      StandBuilder{kinds}
          .add("room", "room", {}, {{"heat_loss", 50.}, {"floor_area", 20.}})
          .add("radiator valve", "valve", {"a", "b"}, {{"cv", 1.}, {"setting", 293.}, {"band", 2.}, {"hysteresis", 0.4}, {"room", "room"}})
          .build();
  auto const at = [&](double lift, double air) {
    return stand[stand.own("valve")] = lift, stand[stand.own("room")] = air, rate(stand, "valve");
  };
  EXPECT_EQ(at(0.5, 294.1), 0);  // within the hysteresis
  EXPECT_EQ(at(0.5, 293.9), 0);
  EXPECT_NEAR(at(0.5, 295.2), -0.5 / 1200, 1e-9);  // 1 K beyond, of a band of 2 K, 20 min
  EXPECT_NEAR(at(0, 295.5), 0, 1e-12);
  EXPECT_NEAR(at(1, 290), 0, 1e-12);
  stand.state.flow = {0.05};
  stand[stand.own("valve")] = 0.5;
  EXPECT_NEAR(loss(stand, 0), cv_to_loss(0.05, 0.5, stand.plan.fluid), 1e-6);
}

}  // namespace
}  // namespace steadyfire
