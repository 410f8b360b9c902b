// What modulates flow, against the energy balance of mixing and other closed forms.

#include <gtest/gtest.h>

#include <cmath>

#include "tests/models/loop_stand.hpp"

namespace steadyfire {
namespace {

double fahrenheit(double f) { return unit::degF.to_si(f); }
double constexpr degF_change = 5 / 9.;

/// Solves in a day after it has settled: a motor a hair outside its neutral zone creeps for long until its 1 % is full. What hunts
/// asks for hundreds.
int constexpr last_creep = 2;

/// circulator → back; through a hot and a cold bath to the valve; mixed water to the circulator.
void around(LoopStand& loop, std::string_view valve, std::vector<Setting> settings) {
  loop.add(valve, "mixing", {"hot", "mixed", "cold", "mixed"}, std::move(settings));
  loop.add("circulator", "circulator", {"mixed", "back"})
      .add("bath", "hot bath", {"back", "hot"})
      .add("bath", "cold bath", {"back", "cold"});
}
double hot_share(LoopStand& loop) { return loop.flow("mixing", 0) / (loop.flow("mixing", 0) + loop.flow("mixing", 1)); }

// Hot share = (T_mixed − T_cold)/(T_hot − T_cold): 120 and 50 °F to 105 °F want a share of 55/70 = 0.7857 hot.
TEST(MotorisedMixing, TakesTheHotShareOfTheEnergyBalance) {
  LoopStand loop;
  around(loop, "motorised mixing valve", {{"setting", fahrenheit(105)}});
  loop.march(fahrenheit(80));
  loop.bath("hot bath", fahrenheit(120)), loop.bath("cold bath", fahrenheit(50));
  loop.run(3600);
  double const neutral = 1;  // °F to either side
  EXPECT_NEAR(loop.joint("mixed"), fahrenheit(105), neutral * degF_change + 0.02);
  EXPECT_NEAR(hot_share(loop), 0.7857, neutral / 70 + 1e-3);
  EXPECT_NEAR(hot_share(loop), (loop.joint("mixed") - fahrenheit(50)) / (fahrenheit(120) - fahrenheit(50)), 1e-4);
  EXPECT_NEAR(loop.own("mixing"), hot_share(loop), 0.01 + 1e-3);  // both ways see the same pressures; flows are 1 % behind at most
}

TEST(MotorisedMixing, HoldsWithinItsNeutralZoneWhateverTheHotWaterDoesAndThenRests) {
  LoopStand loop;
  around(loop, "motorised mixing valve", {{"setting", fahrenheit(100)}});
  loop.march(fahrenheit(80));
  loop.bath("cold bath", fahrenheit(90));
  for (double const hot : {120., 180., 110., 150.}) {
    loop.bath("hot bath", fahrenheit(hot));
    loop.run(1800);
    EXPECT_NEAR(loop.joint("mixed"), fahrenheit(100), degF_change + 0.02) << hot;
    long const solves = loop.solves();
    loop.run(86400);
    EXPECT_LE(loop.solves(), solves + last_creep) << "hunts at " << hot;
  }
}

TEST(MotorisedMixing, GivesWayWhereTheBoilersReturnIsCold) {
  for (double const least : {120., 0.}) {
    LoopStand loop;
    std::vector<Setting> settings{{"setting", fahrenheit(110)}};
    if (least > 0) settings.insert(settings.end(), {{"least_return", fahrenheit(least)}, {"return_sensor", "sensor"}});
    loop.add("motorised mixing valve", "mixing", {"hot", "mixed", "cold", "mixed"}, settings);
    loop.add("circulator", "circulator", {"mixed", "back"}).add("supply sensor", "sensor", {"back", "sensed"});
    loop.add("bath", "hot bath", {"sensed", "hot"}).add("bath", "cold bath", {"back", "cold"});
    loop.march(fahrenheit(100));
    loop.bath("hot bath", fahrenheit(150)), loop.bath("cold bath", fahrenheit(90));
    loop.run(3600);
    // the return is the mixed water itself, which cannot reach 120 °F without opening: so it stays shut
    if (least > 0) EXPECT_LT(loop.own("mixing"), 0.01);
    else EXPECT_NEAR(loop.joint("mixed"), fahrenheit(110), degF_change);
  }
}

// At rest p = (S + b/2 − T)/b and T = T_cold + p·(T_hot − T_cold), so T = (b·T_cold + (S + b/2)·Δ)/(b + Δ).
TEST(ThermostaticMixing, DroopsAsItsBandAndTheEnergyOfMixingSay) {
  LoopStand loop;
  double const S = fahrenheit(110), b = 10 * degF_change, friction = 1 * degF_change;
  around(loop, "thermostatic mixing valve", {{"setting", S}});
  loop.march(fahrenheit(80));
  for (auto const& [hot, cold] : {std::pair{140., 60.}, {180., 60.}, {125., 95.}, {140., 60.}}) {
    loop.bath("hot bath", fahrenheit(hot)), loop.bath("cold bath", fahrenheit(cold));
    loop.run(1800);
    double const span = (hot - cold) * degF_change, T = (b * fahrenheit(cold) + (S + b / 2) * span) / (b + span);
    EXPECT_NEAR(loop.joint("mixed"), T, friction * span / (b + span) + 0.02) << hot;
    long const solves = loop.solves();
    loop.run(86400);
    EXPECT_LE(loop.solves(), solves + last_creep) << "hunts at " << hot;
  }
}

// Load, flow and drop hang together: m = Q/(cp·ΔT). The circulator is given the drop and must find the flow.
TEST(DifferenceCirculator, BringsTheFlowThatLoadOverDropSays) {
  for (double const load : {6e3, 9e3, 12e3}) {
    LoopStand loop;
    loop.add("circulator", "circulator", {"hot", "led"},
             {{"regulation", 4.}, {"sensor", "sensor"}, {"setting_difference", 10.}});
    loop.add("valve", "valve", {"led", "in"}, {{"kv", 2.}}).add("heat draw", "draw", {"in", "out"}, {{"power", load}});
    loop.add("supply sensor", "sensor", {"out", "back"}).add("bath", "hot bath", {"back", "hot"});
    loop.march(333.15);
    loop.run(4 * 3600);
    double const neutral = 0.5;
    EXPECT_NEAR(loop.joint("hot") - loop.joint("out"), 10, neutral + 0.02) << load;
    EXPECT_GT(loop.flow("circulator"), load / (loop.heat_capacity() * (10 + neutral + 0.02)));
    EXPECT_LT(loop.flow("circulator"), load / (loop.heat_capacity() * (10 - neutral - 0.02)));
    long const solves = loop.solves();
    loop.run(86400);
    EXPECT_LE(loop.solves(), solves + last_creep) << "hunts at " << load;
  }
}

// A room of one loss, a radiator of one conductance, a valve whose lift the room sets:
//   UA·(T − T_out) = m·cp·(1 − e^(−G/(m·cp)))·(T_hot − T)     m = l·Kv·√(ρ·999·Δp/1 bar)     l = (S + b − T)/b
TEST(RadiatorValve, LiftsAsTheHeatBalanceOfItsRoomWants) {
  double const S = fahrenheit(70), b = 2, hysteresis = 0.4, UA = 60, G = 60, hot = 343.15, head = 0.8, cv = 0.3;
  for (double const outdoors : {263.15, 275.15, 283.15}) {
    LoopStand loop;
    loop.add("room", "room", {}, {{"heat_loss", UA}, {"floor_area", 20.}});
    loop.add("circulator", "circulator", {"hot", "led"}, {{"regulation", 1.}, {"setting_head", head}});
    loop.add("radiator valve", "valve", {"led", "in"},
             {{"cv", cv}, {"setting", S}, {"band", b}, {"hysteresis", hysteresis}, {"room", "room"}});
    loop.add("linear emitter", "radiator", {"in", "out"},
             {{"conductance", G}, {"rated_head_loss", 1e-6}, {"room", "room"}, {"cells", 40.}});
    loop.add("bath", "hot bath", {"out", "hot"});
    loop.march(hot, outdoors);
    loop.run(20 * 86400);

    double const pressure = 9.80665 * head * Water{}.at(323.15).density, cp = loop.heat_capacity();
    auto const surplus = [&](double T) {
      double const l = std::clamp((S + b - T) / b, 0.001, 1.0), rho = loop.local("valve").density,
                   m = l * kv_per_cv * cv / 3600 * std::sqrt(pressure / 1e5 * 999 * rho);
      return m * cp * -std::expm1(-G / (m * cp)) * (hot - T) - UA * (T - outdoors);
    };
    double low = 250, high = 320;
    for (int i = 0; i < 60; ++i) (surplus((low + high) / 2) > 0 ? low : high) = (low + high) / 2;
    EXPECT_NEAR(loop.own("room"), low, hysteresis / 2 + 0.03) << outdoors;
    EXPECT_NEAR(loop.own("valve"), std::clamp((S + b - low) / b, 0.0, 1.0), hysteresis / 2 / b + 0.02) << outdoors;
  }
}

// What is injected carries the load of an emitter of conductance G in a loop of flow m:
//   T_back = T_room + (T_mixed − T_room)·e^(−G/(m·cp))     m_injected·(T_hot − T_back) = m·(T_mixed − T_back)
TEST(Injection, HoldsTheLoopAndInjectsWhatTheLoadWants) {
  for (double const hot : {160., 130., 180.}) {
    LoopStand loop;
    double const G = 450, room = fahrenheit(70);
    loop.add("injection circulator", "mixing", {"hot", "mixed"}, {{"setting", fahrenheit(100)}, {"greatest_flow", 2e-4}});
    loop.add("circulator", "circulator", {"mixed", "in"}, {{"power_to_water", 0.}});
    loop.add("linear emitter", "emitter", {"in", "back"}, {{"conductance", G}, {"around", room}, {"cells", 10.}});
    loop.add("valve", "gap", {"back", "mixed"}, {{"kv", 50.}}).add("bath", "hot bath", {"back", "hot"});
    loop.march(fahrenheit(100));
    loop.bath("hot bath", fahrenheit(hot));
    loop.run(3600);
    EXPECT_NEAR(loop.joint("mixed"), fahrenheit(100), degF_change + 0.02) << hot;
    double const mixed = loop.joint("mixed"), m = loop.flow("circulator"),
                 back = room + (mixed - room) * std::exp(-G / (m * loop.heat_capacity()));
    EXPECT_NEAR(loop.joint("back"), back, 0.02);
    double const injected = m * (mixed - back) / (fahrenheit(hot) - back);
    EXPECT_NEAR(loop.flow("mixing"), injected, 5e-3 * injected);
    long const solves = loop.solves();
    loop.run(86400);
    EXPECT_LE(loop.solves(), solves + last_creep) << "hunts at " << hot;
  }
}

}  // namespace
}  // namespace steadyfire
