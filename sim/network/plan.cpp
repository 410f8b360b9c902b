#include "sim/network/plan.hpp"

#include <map>

namespace steadyfire {

int Installation::find(std::string_view piece) const {
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (pieces[i].name == piece) return int(i);
  return -1;
}

Plan lay_out(Installation const& installation, double start_water) {
  double constexpr joint_water = 0.005;  // [kg]
  Plan plan;
  plan.fluid_law = installation.fluid;
  plan.fluid_temperature = installation.fluid_temperature;
  plan.fluid = plan.fluid_law->at(plan.fluid_temperature);
  plan.pieces = installation.pieces;
  double const cp = plan.fluid.heat_capacity, water_heat = plan.fluid.density * cp;
  auto const place = [&](std::string name, double capacity, double start, double tolerance = 1) {
    plan.names.push_back(std::move(name));
    plan.capacity.push_back(capacity);
    plan.per_heat.push_back(capacity > 0 ? 1 / capacity : 0);
    plan.start.push_back(start);
    plan.tolerance.push_back(tolerance);
    return plan.places() - 1;
  };
  for (auto name : account::names) place(std::string(name), 1, 0, 0);
  place("outdoors", 0, 273.15, 0), place("ground", 0, 283.15, 0), place("unheated space", 0, 288.15, 0), place("unity", 0, 1, 0);

  std::map<std::string, int> joint;
  for (auto const& piece : plan.pieces)
    for (auto const& name : piece.ports)
      if (!joint.count(name)) joint[name] = place("joint " + name, joint_water * cp, start_water), ++plan.joints;
  plan.joint_head.resize(plan.joints), plan.joint_inflow.resize(plan.joints);
  for (auto const& g : installation.joints)
    if (auto const at = joint.find(g.name); at != joint.end()) {
      plan.joint_head[at->second - plan.first_joint] = g.head;
      plan.joint_inflow[at->second - plan.first_joint] = g.inflow.value_or(0);
    }

  // Pieces keep the order of the file within their batch; batches that of first use.
  std::map<Kind const*, int> batch;
  plan.own.assign(plan.pieces.size(), given::outdoors);
  plan.batch_of.resize(plan.pieces.size()), plan.seat_of.resize(plan.pieces.size()), plan.first_branch.resize(plan.pieces.size());
  for (std::size_t p = 0; p < plan.pieces.size(); ++p) {
    auto const& [name, kind, values, ports, zone, at] = plan.pieces[p];
    if (!batch.count(kind)) batch[kind] = int(plan.batches.size()), plan.batches.push_back(kind->empty_batch());
    Batch& home = *plan.batches[plan.batch_of[p] = batch[kind]];
    home.add(values);
    plan.seat_of[p] = int(home.seats.size()) - 1;
    auto const shape = home.shape(plan.seat_of[p], plan.fluid);

    Seat& seat = home.seats.back();
    seat.piece = int(p), seat.branch = plan.first_branch[p] = int(plan.branches.size()), seat.own = plan.places();
    for (auto const& s : shape.own) place(name + " " + s.name, s.capacity, s.start, s.tolerance);
    if (!shape.own.empty()) plan.own[p] = seat.own;
    for (std::size_t b = 0; b < kind->branches.size(); ++b) {
      auto const& cells = shape.cells[b];
      seat.inlet[b] = joint.at(ports.at(2 * b)), seat.outlet[b] = joint.at(ports.at(2 * b + 1));
      seat.cells[b] = cells.count, seat.first_cell[b] = plan.places();
      plan.branches.push_back({seat.inlet[b], seat.outlet[b], seat.first_cell[b], cells.count, int(p), int(b)});
      for (int i = 0; i < cells.count; ++i)
        place(name + " cell " + std::to_string(i), (cells.water * water_heat + cells.metal) / cells.count, start_water);
    }
  }
  return plan;
}

State::State(Plan const& plan)
    : x{plan.start}, flow(plan.branches.size()), since(plan.pieces.size()), mode(plan.pieces.size()),
      local(plan.branches.size(), plan.fluid), pressure(plan.joints) {}

Now State::now(Plan const& plan) const {
  return {time, clock, plan.fluid, x.data(), flow.data(), local.data(), mode.data(), since.data(), plan.own.data()};
}

double stored_heat(Plan const& plan, std::vector<double> const& x) {
  double sum = 0;  // from 20 °C, so that digits are not spent on a large constant
  for (int i = 0; i < plan.places(); ++i) sum += plan.capacity[i] * (i < account::count ? x[i] : x[i] - 293.15);
  return sum;
}

}  // namespace steadyfire
