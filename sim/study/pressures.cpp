#include "sim/study/pressures.hpp"

#include <cmath>

#include "sim/core/gravity.hpp"
#include "sim/network/topology.hpp"

namespace steadyfire {
namespace {

double constexpr atmosphere = 101325;

bool is_expansion_tank(Piece const& piece) { return piece.kind->role == Role::expansion; }

/// As a gauge shows it, and as the law of its water has it.
Words gauge(double absolute) { return say("{} gauge", Amount{absolute - atmosphere, measure::pressure}); }
Measure constexpr absolute_pressure{Unit<Pressure::dimension>{"psi absolute", unit::psi.scale},
                                    Unit<Pressure::dimension>{"kPa absolute", 1000}};

}  // namespace

std::vector<double> absolute_pressures(Plan const& plan, State const& state) {
  std::vector<double> absolute(plan.joints, Field::none);
  std::vector<int> island;
  for (auto const& run : plan.branches) {
    auto const& piece = plan.pieces[run.piece];
    if (!is_expansion_tank(piece)) continue;
    if (island.empty()) island = study_topology(plan).island;
    int const at = run.inlet - plan.first_joint;
    double const held = value_of(piece, FieldRole::held_pressure).numbers.at(0) + atmosphere;
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
    list.push_back({.id = "pressure.below_atmosphere",
                    .place = plan.names[plan.first_joint + lowest].substr(6),
                    .severity = Severity::serious,
                    .figures = {{"pressure", absolute[lowest], absolute_pressure}},
                    .limit = Figure{"atmosphere", atmosphere, absolute_pressure},
                    .whose = "atmosphere at sea level",
                    .words = say("pressure {}, minimum {}. Air is drawn in through vents and packings.", gauge(absolute[lowest]),
                                 gauge(atmosphere)),
                    .order = 65,
                    .fix = "raise the fill pressure, or pump away from the expansion tank."});
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    auto const& run = plan.branches[b];
    auto const& piece = plan.pieces[run.piece];
    if (piece.kind->role != Role::circulator || !(state.flow[b] > 1e-6)) continue;
    double const suction = absolute[run.inlet - plan.first_joint], water = state.x[run.inlet],
                 boils = plan.fluid_laws[b]->vapour_pressure(water);
    if (!(suction < boils)) continue;
    list.push_back({.id = "circulator.boils",
                    .place = piece.name,
                    .severity = Severity::serious,
                    .figures = {{"suction", suction, absolute_pressure}, {"water", water, measure::temperature}},
                    .limit = Figure{"vapour_pressure", boils, absolute_pressure},
                    .whose = "vapor pressure of the fluid",
                    .words = say("suction pressure {}; water at {} boils below {}. The circulator cavitates and stops pumping.",
                                 gauge(suction), Amount{water, measure::temperature}, gauge(boils)),
                    .order = 75,
                    .fix = "raise the fill pressure, or pump away from the expansion tank."});
  }
}

}  // namespace steadyfire
