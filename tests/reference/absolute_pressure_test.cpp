// Pressures from an expansion tank against columns and vapour pressures of IAPWS-IF97.

#include <gtest/gtest.h>

#include <cmath>

#include "models/circulator.hpp"
#include "models/expansion_tank.hpp"
#include "models/fluid/water.hpp"
#include "models/pipe.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/hydraulics/flows.hpp"
#include "sim/network/builder.hpp"
#include "sim/study/pressures.hpp"

namespace steadyfire {
namespace {

Kind const kinds[]{kind<Pipe>(), kind<Circulator>(), kind<ExpansionTank>()};
constexpr double psi = 6894.757, air = 101325, foot = 0.3048;

/// A loop of two risers under a circulator, with an expansion tank on either side of it.
struct Loop {
  Plan plan;
  State state;
  static Installation pieces(double celsius, char const* tank_at, double fill_psi, double setting_head) {
    Builder b{kinds};
    b.installation.fluid = std::make_shared<Water>();
    b.installation.fluid_temperature = celsius + 273.15;
    b.add("circulator", "pump", {"suction", "pumped"}, {{"regulation", 1.0}, {"setting_head", setting_head}, {"duty", 2.0}});
    b.add("pipe", "up", {"pumped", "top"}, {{"length", 20 * foot}, {"diameter", 0.012}});
    b.add("pipe", "down", {"top", "suction"}, {{"length", 20 * foot}, {"diameter", 0.012}});
    b.add("expansion tank", "tank", {tank_at, "inside"}, {{"fill_pressure", fill_psi * psi}});
    b.installation.heights["top"] = 20 * foot;
    Diagnostics faults;
    return b.finish(faults);
  }
  Loop(double celsius, char const* tank_at, double fill_psi, double setting_head, bool runs)
      : plan{lay_out(pieces(celsius, tank_at, fill_psi, setting_head), celsius + 273.15)}, state{plan} {
    state.mode[0] = runs;
    refresh_local_fluid(plan, state);
    FlowSolver{plan}.solve(state);
  }
  double at(char const* joint) const { return absolute_pressures(plan, state)[plan.joint_named(joint)]; }
  std::vector<Finding> findings() const {
    std::vector<Finding> list;
    add_pressure_findings(plan, state, list);
    return list;
  }
};

// 0.4328 psi a foot at 20 °C, 0.4263 at 60, 0.4213 at 80, computed with python3-iapws (density times standard gravity).
TEST(AbsolutePressure, FallsByTheWeightOfTheColumnAtRest) {
  struct { double celsius, psi_per_foot; } const rows[]{{20, 0.4328}, {60, 0.4263}, {80, 0.4213}};
  for (auto const& row : rows) {
    Loop const loop{row.celsius, "suction", 12, 3, false};
    EXPECT_NEAR((loop.at("suction") - air) / psi, 12, 1e-6);
    EXPECT_NEAR((loop.at("suction") - loop.at("top")) / psi, 20 * row.psi_per_foot, 20 * 1e-4) << row.celsius;
  }
}

// The trade's rule that a circulator should pump away from the tank: common practice, no source. The vapour pressure of water at
// 82.22 °C (180 °F) is 7.52 psia, computed with python3-iapws: −7.18 psi by a gauge at sea level.
TEST(AbsolutePressure, ACirculatorThatPumpsTowardsTheTankCanBoilItsWater) {
  for (double const fill : {2.0, 4.0}) {
    Loop const towards{82.22, "pumped", fill, 22 * foot, true};  // 22 ft of it are 9.27 psi at this temperature
    double const suction = (towards.at("suction") - air) / psi;
    EXPECT_NEAR(suction, fill - 22 * 0.4207, 0.02);
    bool boils = false;
    for (auto const& f : towards.findings()) boils |= f.id == "circulator.boils";
    EXPECT_EQ(boils, suction + air / psi < 7.52) << fill;
    Loop const away{82.22, "suction", fill, 22 * foot, true};
    EXPECT_NEAR((away.at("suction") - air) / psi, fill, 1e-6);
    for (auto const& f : away.findings()) EXPECT_NE(f.id, "circulator.boils");
  }
}

}  // namespace
}  // namespace steadyfire
