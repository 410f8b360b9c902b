#include "sim/study/pressures.hpp"

#include <fmt/format.h>

#include <cmath>

#include "sim/core/gravity.hpp"
#include "sim/network/topology.hpp"

namespace steadyfire {
namespace {

double constexpr atmosphere = 101325;

bool is_expansion_tank(Piece const& piece) { return piece.kind->role == Role::expansion; }

std::string gauge(double absolute) { return show(absolute - atmosphere, measure::pressure, UnitSystem::us) + " gauge"; }

}  // namespace

std::vector<double> absolute_pressures(Plan const& plan, State const& state) {
  std::vector<double> absolute(plan.joints, Field::none);
  std::vector<int> island;
  for (auto const& run : plan.branches) {
    auto const& piece = plan.pieces[run.piece];
    if (!is_expansion_tank(piece)) continue;
    if (island.empty()) island = study_topology(plan).island;
    int const at = run.inlet - plan.first_joint;
    double const held = value_under(*piece.kind, piece.values, "fill_pressure").numbers.at(0) + atmosphere;
    double const weight = plan.fluids[&run - plan.branches.data()].density * gravity;
    for (int j = 0; j < plan.joints; ++j)
      if (island[j] == island[at])
        absolute[j] = held + state.pressure[j] - state.pressure[at] - weight * (plan.joint_height[j] - plan.joint_height[at]);
  }
  return absolute;
}

void add_pressure_findings(Plan const& plan, State const& state, std::vector<Finding>& list) {
  auto const absolute = absolute_pressures(plan, state);
  int lowest = -1;
  for (int j = 0; j < plan.joints; ++j)
    if (absolute[j] < atmosphere && (lowest < 0 || absolute[j] < absolute[lowest])) lowest = j;
  if (lowest >= 0)
    list.push_back(
        {"pressure.below_atmosphere",
         plan.names[plan.first_joint + lowest].substr(6),
         Severity::serious,
         {{"pressure", absolute[lowest], measure::pressure}},
         Figure{"atmosphere", atmosphere, measure::pressure},
         "atmospheric pressure at sea level",
         fmt::format("stands at {}: air is drawn in through vents and packings; fill to a higher pressure, or let the circulator "
                     "push away from the expansion tank",
                     gauge(absolute[lowest])),
         65});
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    auto const& run = plan.branches[b];
    auto const& piece = plan.pieces[run.piece];
    if (piece.kind->role != Role::circulator || !(state.flow[b] > 1e-6)) continue;
    double const suction = absolute[run.inlet - plan.first_joint], water = state.x[run.inlet],
                 boils = plan.fluid_laws[b]->vapour_pressure(water);
    if (!(suction < boils)) continue;
    list.push_back({"circulator.boils",
                    piece.name,
                    Severity::serious,
                    {{"suction", suction, measure::pressure}, {"water", water, measure::temperature}},
                    Figure{"vapour_pressure", boils, measure::pressure},
                    "vapour pressure of the fluid",
                    fmt::format("its suction stands at {}, and water of {} boils below {}: it will rattle and stop pumping",
                                gauge(suction), show(water, measure::temperature, UnitSystem::us), gauge(boils)),
                    75});
  }
}

}  // namespace steadyfire
