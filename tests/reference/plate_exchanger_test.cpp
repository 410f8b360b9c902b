/// The plate exchanger against the closed form of counterflow.

#include <gtest/gtest.h>

#include "models/plate_exchanger.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

double constexpr cp_hot = 4187, cp_cold = 4184, hot = 0.25, cold = 0.15;

/// UA = 2500 W/K at 0.25 and 0.15 kg/s, where the rated flow is 0.2 kg/s on both sides.
double rated_conductance() { return 2500 / 2 * (std::pow(hot / 0.2, -0.7) + std::pow(cold / 0.2, -0.7)); }

Stand stand(double scaling) {
  static Kind const kinds[]{kind<PlateExchanger>()};
  StandBuilder b{kinds};
  auto const water = Water{}.at(celsius(40));
  b.add("plate exchanger", "plates", {"a", "b", "c", "d"},
        {{"rated_conductance", rated_conductance()}, {"rated_flow", 0.2 / water.density}, {"rated_head_loss", 1.0}, {"scaling", scaling}});
  Stand s = b.build();
  s.hold(s.joint("a"), celsius(70)), s.hold(s.joint("c"), celsius(10));
  s.state.flow = {hot, cold};
  return s;
}

/// Kays and London by Incropera's formulas, computed outside: NTU 3.98343, C .59957, ε .90750, Q 34 173 W, outlets 37.353 and
/// 64.450 °C. There each side has its own heat capacity (4187, 4184); here one holds for a circuit, 4179 at 40 °C: 0.2 %.
TEST(PlateExchanger, CounterflowAsInTheBooks) {
  auto s = stand(0);
  s.steady();
  double const cp = s.plan.fluid.heat_capacity, Q = cold * cp * (s[s.joint("d")] - celsius(10));
  EXPECT_NEAR(Q, 34173, 0.003 * 34173);
  EXPECT_NEAR(s[s.joint("b")], celsius(37.353), 0.05);
  EXPECT_NEAR(s[s.joint("d")], celsius(64.450), 0.05);
}

/// Scale adds its resistance: 1/UA = 1/2500 + 0.5/rated, and the exchanger gives what that UA gives in the formula.
TEST(PlateExchanger, ScaleAddsItsResistance) {
  auto s = stand(0.5);
  s.steady();
  double const cp = s.plan.fluid.heat_capacity, UA = 1 / (1 / 2500. + 0.5 / rated_conductance()), C = cold / hot, N = UA / (cold * cp),
               e = std::exp(-N * (1 - C)), epsilon = (1 - e) / (1 - C * e);
  EXPECT_NEAR(s[s.joint("d")] - celsius(10), epsilon * 60, 1e-6);
}

}  // namespace
}  // namespace steadyfire
