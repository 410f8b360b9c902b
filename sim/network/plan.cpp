#include "sim/network/plan.hpp"

#include <algorithm>
#include <numeric>
#include <map>

#include "sim/network/topology.hpp"

namespace steadyfire {

int Installation::find(std::string_view piece) const {
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (pieces[i].name == piece) return int(i);
  return -1;
}
int Installation::part(Part p) const {
  auto const at = parts.find(p);
  return at == parts.end() ? -1 : at->second;
}
ZoneParts const* Installation::zone(std::string_view name) const {
  auto const at = std::find_if(zones.begin(), zones.end(), [&](auto const& z) { return z.name == name; });
  return at == zones.end() ? nullptr : &*at;
}

namespace {

/// Every part of the network has its liquid, and with it what joints and cells can hold.
void fill(Plan& plan, Installation const& in, std::vector<Cells> const& cells, std::vector<double> const& port_water) {
  double constexpr joint_water = 0.005;  // [kg]
  std::vector<std::shared_ptr<FluidLaw const>> law(plan.joints, plan.fluid_law);
  std::vector<Fluid> fluid(plan.joints, plan.fluid);
  if (!in.own_fluids.empty()) {
    auto const island = study_topology(plan).island;
    for (auto const& own : in.own_fluids)
      for (int j = 0; j < plan.joints; ++j)
        if (island[j] == island[plan.joint_named(own.joint)]) law[j] = own.fluid, fluid[j] = own.fluid->at(own.temperature);
  }
  auto const hold = [&](int place, double heat_capacity) {
    plan.capacity[place] = heat_capacity, plan.per_heat[place] = 1 / heat_capacity;
  };
  for (int j = 0; j < plan.joints; ++j)
    hold(plan.first_joint + j, (joint_water + fluid[j].density * port_water[j]) * fluid[j].heat_capacity);
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    auto const& run = plan.branches[b];
    int const j = run.inlet - plan.first_joint;
    plan.fluid_laws.push_back(law[j]), plan.fluids.push_back(fluid[j]);
    for (int i = 0; i < run.cells; ++i)
      hold(run.first_cell + i, (cells[b].water * fluid[j].density * fluid[j].heat_capacity + cells[b].metal) / run.cells);
  }
}

}  // namespace

int Plan::joint_named(std::string_view joint) const {
  for (int j = 0; j < joints; ++j)
    if (std::string_view{names[first_joint + j]}.substr(6) == joint) return j;  // "joint …"
  throw InternalError("no joint is called '" + std::string(joint) + "'");
}

std::vector<Place> Plan::own_states(int piece) const {
  std::vector<Place> all(own_count[piece]);
  std::iota(all.begin(), all.end(), own[piece]);
  return all;
}

int Plan::place(int piece, StateRole role) const {
  auto const own = batches[batch_of[piece]]->shape(seat_of[piece], fluid).own;
  auto const at = std::find_if(own.begin(), own.end(), [&](OwnState const& s) { return s.role == role; });
  return at == own.end() ? -1 : this->own[piece] + int(at - own.begin());
}
int Plan::mode_with(int piece, Traits wanted) const {
  auto const& all = pieces[piece].kind->traits;
  auto const at = std::find_if(all.begin(), all.end(), [&](Traits t) { return t & wanted; });
  return at == all.end() ? -1 : int(at - all.begin());
}

Plan lay_out(Installation const& installation, double start_water) {
  Plan plan;
  plan.fluid_law = installation.fluid;
  plan.fluid_temperature = installation.fluid_temperature;
  plan.fluid = plan.fluid_law->at(plan.fluid_temperature);
  plan.pieces = installation.pieces, plan.parts = installation.parts;
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
      if (!joint.count(name)) joint[name] = place("joint " + name, 0, start_water), ++plan.joints;
  plan.joint_height.resize(plan.joints);
  for (auto const& [name, height] : installation.heights)
    if (auto const at = joint.find(name); at != joint.end()) plan.joint_height[at->second - plan.first_joint] = height;
  plan.joint_head.resize(plan.joints), plan.joint_inflow.resize(plan.joints);
  for (auto const& g : installation.joints)
    if (auto const at = joint.find(g.name); at != joint.end()) {
      plan.joint_head[at->second - plan.first_joint] = g.head;
      plan.joint_inflow[at->second - plan.first_joint] = g.inflow.value_or(0);
    }

  // Pieces keep the order of the file within their batch; batches that of first use.
  std::vector<Cells> cells;                      // by branch
  std::vector<double> port_water(plan.joints);  // by joint [m³]
  std::map<Kind const*, int> batch;
  plan.own.assign(plan.pieces.size(), given::outdoors);
  plan.batch_of.resize(plan.pieces.size()), plan.seat_of.resize(plan.pieces.size()), plan.first_branch.resize(plan.pieces.size());
  for (std::size_t p = 0; p < plan.pieces.size(); ++p) {
    auto const& piece = plan.pieces[p];
    auto const* kind = piece.kind;
    if (!batch.count(kind)) batch[kind] = int(plan.batches.size()), plan.batches.push_back(kind->empty_batch());
    Batch& home = *plan.batches[plan.batch_of[p] = batch[kind]];
    home.add(piece.values);
    plan.seat_of[p] = int(home.seats.size()) - 1;
    auto const shape = home.shape(plan.seat_of[p], plan.fluid);

    Seat& seat = home.seats.back();
    seat.piece = int(p), seat.branch = plan.first_branch[p] = int(plan.branches.size()), seat.own = plan.places();
    for (auto const& s : shape.own) {
      int const own = place(piece.name + " " + s.name, s.capacity, s.start, s.tolerance);
      if (s.moves_flow > 0) plan.flow_movers.emplace_back(own, s.moves_flow);
    }
    if (!shape.own.empty()) plan.own[p] = seat.own;
    plan.own_count.push_back(int(shape.own.size()));
    plan.traits.push_back(kind->traits.data());
    plan.by_role.resize((p + 1) * std::size_t(StateRole::count), seat.own);
    for (auto i = shape.own.size(); i-- > 0;)
      plan.by_role[p * std::size_t(StateRole::count) + std::size_t(shape.own[i].role)] = seat.own + int(i);
    for (std::size_t b = 0; b < kind->branches.size(); ++b) {
      cells.push_back(shape.cells[b]);
      int const count = shape.cells[b].count;
      seat.inlet[b] = joint.at(piece.ports.at(2 * b)), seat.outlet[b] = joint.at(piece.ports.at(2 * b + 1));
      seat.cells[b] = count, seat.first_cell[b] = plan.places();
      bool const keeps_slugs = seat.keeps_slugs[b] = shape.cells[b].keeps_slugs && count >= 4;
      plan.branches.push_back({seat.inlet[b], seat.outlet[b], seat.first_cell[b], count, int(p), int(b), keeps_slugs});
      port_water[seat.inlet[b] - plan.first_joint] += shape.port_water[2 * b];
      port_water[seat.outlet[b] - plan.first_joint] += shape.port_water[2 * b + 1];
      for (int i = 0; i < count; ++i) place(piece.name + " cell " + std::to_string(i), 0, start_water);
    }
  }
  fill(plan, installation, cells, port_water);
  return plan;
}

State::State(Plan const& plan)
    : x{plan.start}, flow(plan.branches.size()), since(plan.pieces.size()), mode(plan.pieces.size()),
      local(plan.fluids), pressure(plan.joints) {}

Now State::now(Plan const& plan) const {
  return {time, clock, plan.fluids.data(), x.data(), flow.data(), local.data(), mode.data(), since.data(), plan.own.data(),
          plan.by_role.data(), plan.traits.data()};
}

double stored_heat(Plan const& plan, std::vector<double> const& x) {
  double sum = 0;  // from 20 °C, so that digits are not spent on a large constant
  for (int i = 0; i < plan.places(); ++i) sum += plan.capacity[i] * (i < account::count ? x[i] : x[i] - 293.15);
  return sum;
}

}  // namespace steadyfire
