// Flow by the weight of warm and cool water alone.

#include <gtest/gtest.h>

#include <cmath>

#include "models/fluid/water.hpp"
#include "models/pipe.hpp"
#include "models/valve.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/hydraulics/flows.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {
namespace {

Kind const kinds[]{kind<Pipe>(), kind<Valve>()};

// (ρ_cold − ρ_hot)·g·h with densities of IAPWS-IF97, computed with python3-iapws. A valve of Kv 1 takes up all of it:
// its pressure difference is (Q/Kv)² bar, Q in m³/h (IEC 60534-2-1); two risers of 4 in bore lose next to nothing.
TEST(Thermosiphon, DrivesTheWeightOfTheColumns) {
  struct { double hot, cold, height, pressure; } const rows[]{{70, 50, 3, 302.1}, {80, 60, 2.5, 279.7}, {60, 20, 3, 441.2}};
  for (auto const& row : rows) {
    SCOPED_TRACE(row.hot);
    Builder builder{kinds};
    builder.installation.fluid = std::make_shared<Water>();
    for (auto const& [name, from, to] : {std::tuple{"rise", "low", "high"}, std::tuple{"fall", "high", "end"}})
      builder.add("pipe", name, {from, to}, {{"length", row.height}, {"diameter", 0.1}});
    builder.add("valve", "valve", {"end", "low"}, {{"kv", 1.0}});
    builder.installation.heights["high"] = row.height;
    Diagnostics faults;
    Plan plan = lay_out(builder.finish(faults));
    State state{plan};
    for (auto const& run : plan.branches)
      for (int i = 0; i < run.cells; ++i)
        state.x[run.first_cell + i] = 273.15 + (plan.pieces[run.piece].name == "rise" ? row.hot : row.cold);
    for (int j = 0; j < plan.joints; ++j) state.x[plan.first_joint + j] = 273.15 + row.cold;
    refresh_local_fluid(plan, state);
    FlowSolver{plan}.solve(state);
    int const valve = plan.first_branch[2];
    double const Q = state.flow[valve] / state.local[valve].density * 3600;
    EXPECT_NEAR(Q * Q * 1e5 * state.local[valve].density / 1000, row.pressure, 0.005 * row.pressure);
  }
}

}  // namespace
}  // namespace steadyfire
