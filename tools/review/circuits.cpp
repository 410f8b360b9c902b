#include "tools/review/circuits.hpp"

#include <algorithm>
#include <numeric>

#include "models/fluid/glycol.hpp"
#include "sim/network/topology.hpp"

namespace steadyfire {

double Circuit::water() const {
  return std::accumulate(parts.begin(), parts.end(), 0.0, [](double sum, auto const& part) { return sum + part.second; });
}

bool Circuit::holds(std::string const& joint) const { return std::find(joints.begin(), joints.end(), joint) != joints.end(); }

std::vector<Circuit> circuits_of(Installation const& in) {
  Plan const plan = lay_out(in);
  auto const topology = study_topology(plan);
  std::vector<Circuit> all(topology.islands);
  auto const joint = [&](int place) { return place - plan.first_joint; };
  for (int j = 0; j < plan.joints; ++j) {
    auto& c = all[topology.island[j]];
    c.joints.push_back(plan.names[plan.first_joint + j].substr(6));
    if (c.joints.size() == 1 || plan.joint_height[j] > c.height) c.height = plan.joint_height[j], c.top = c.joints.back();
  }
  std::vector<bool> counts(all.size());
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    auto const& run = plan.branches[b];
    auto const& piece = plan.pieces[run.piece];
    int const island = topology.island[joint(run.inlet)];
    auto& c = all[island];
    auto const shape = plan.batches[plan.batch_of[run.piece]]->shape(plan.seat_of[run.piece], plan.fluids[b]);
    c.parts[piece.zone] += shape.cells[run.limb].water + shape.port_water[2 * run.limb] + shape.port_water[2 * run.limb + 1];
    c.fluid = plan.fluid_laws[b];
    if (c.pieces.empty() || c.pieces.back() != run.piece) c.pieces.push_back(run.piece);
    auto const role = piece.kind->role;
    c.has_boiler |= role == Role::boiler;
    counts[island] = counts[island] || role == Role::boiler || role == Role::emitter || role == Role::circulator;
    if (role == Role::expansion && c.tank < 0) c.tank = run.piece;
  }
  std::vector<Circuit> closed;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (counts[i]) closed.push_back(std::move(all[i]));
  std::stable_partition(closed.begin(), closed.end(), [](auto const& c) { return c.has_boiler; });
  for (auto& c : closed) {
    c.name = closed.size() == 1 ? "the system" : c.has_boiler ? "the boiler's circuit" : "the zones' circuit";
    c.temperature = in.fluid_temperature;
    for (auto const& own : in.own_fluids)
      if (c.holds(own.joint)) c.temperature = own.temperature;
  }
  return closed;
}

bool is_glycol(FluidLaw const& fluid) { return dynamic_cast<PropyleneGlycol const*>(&fluid); }

}  // namespace steadyfire
