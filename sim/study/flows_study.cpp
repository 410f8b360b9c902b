#include "sim/study/flows_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "sim/control/transitions.hpp"
#include "sim/core/gravity.hpp"
#include "sim/heat/steady.hpp"
#include "sim/hydraulics/flows.hpp"
#include "sim/network/topology.hpp"
#include "sim/study/flow_findings.hpp"
#include "sim/study/need_of_tees.hpp"
#include "sim/study/operating_points.hpp"
#include "sim/study/pressures.hpp"
#include "sim/study/room_findings.hpp"

namespace steadyfire {
namespace {

using Calls = std::vector<std::size_t>;  // zones by number

std::vector<Calls> combinations(Installation const& in, std::string& sample) {
  std::size_t const zones = in.zones.size();
  std::vector<Calls> all;
  if (zones <= 6) {
    for (unsigned mask = 1; mask < (1u << zones); ++mask) {
      Calls c;
      for (std::size_t z = 0; z < zones; ++z)
        if (mask >> z & 1) c.push_back(z);
      all.push_back(c);
    }
    std::stable_sort(all.begin(), all.end(), [](auto const& a, auto const& b) { return a.size() < b.size(); });
    return all;
  }
  // One at a time, and what removing one does to the others: those with the most flow do the most.
  std::size_t constexpr left_out = 12;
  auto const by = [&](auto const& of) {
    Calls order(in.zones.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return in.zones[a].*of < in.zones[b].*of; });
    return order;
  };
  auto const add = [&](auto first, auto last) {
    Calls c(first, last);
    std::sort(c.begin(), c.end());
    all.push_back(std::move(c));
  };
  auto const load = by(&ZoneParts::design_load), flow = by(&ZoneParts::wanted_flow);
  auto const middle = load.begin() + std::ptrdiff_t(zones / 2);
  for (std::size_t z = 0; z < zones; ++z) all.push_back({z});
  add(load.begin(), load.begin() + 2), add(load.begin(), middle), add(middle, load.end());
  for (auto out = flow.rbegin(); out != flow.rend() && out != flow.rbegin() + left_out; ++out) {
    add(load.begin(), load.end());
    all.back().erase(all.back().begin() + std::ptrdiff_t(*out));
  }
  add(load.begin(), load.end());
  sample = fmt::format(
      "{} zones make more than 64 combinations; solved: each zone alone, all, all but each of the {} that need the most flow, the two "
      "smallest loads, and the smaller and the larger half of the loads",
      zones, std::min(zones, left_out));
  return all;
}

/// "bath, kitchen"; of many zones those that do not call, or the first of them and how many more.
std::string names_of(Installation const& in, Calls const& calls) {
  std::size_t constexpr many = 6;
  auto const join = [&](Calls const& zones, std::size_t most) {
    std::string names;
    for (std::size_t i = 0; i < std::min(zones.size(), most); ++i) names += (i == 0 ? "" : ", ") + in.zones[zones[i]].name;
    return zones.size() > most ? fmt::format("{} and {} more", names, zones.size() - most) : names;
  };
  if (calls.size() <= many) return join(calls, many);
  Calls others;
  for (std::size_t z = 0; z < in.zones.size(); ++z)
    if (std::find(calls.begin(), calls.end(), z) == calls.end()) others.push_back(z);
  if (others.empty()) return fmt::format("all {} zones", calls.size());
  return others.size() <= many ? "all zones but " + join(others, many) : join(calls, 3);
}

class Study {
 public:
  Study(Installation const& in, FlowsOptions const& options)
      : in_{in}, options_{options}, plan_{lay_out(in, in.zones.empty() ? in.fluid_temperature : in.design_supply + 30)}, solver_{plan_},
        balance_{plan_}, island_{study_topology(plan_).island} {
    for (auto const& run : plan_.branches)
      if (plan_.pieces[run.piece].kind->role == Role::cold_main) potable_ = island_[run.inlet - plan_.first_joint];
  }

  FlowState solve(Calls const& calls) {
    State state{plan_};
    state.clock = 12 * 3600;
    state.x[given::outdoors] = options_.outdoors.value_or(in_.outdoor_design);
    state.x[given::ground] = options_.ground, state.x[given::unheated] = options_.unheated;
    FlowState result;
    for (std::size_t z : calls) result.calls.push_back(in_.zones[z].name);
    result.calling = names_of(in_, calls);
    set_modes(state, calls);
    refresh_local_fluid(plan_, state);
    solver_.solve(state);
    if (!in_.zones.empty()) heat(state, calls, result);
    edges(state, result);
    if (!options_.tell_findings) return result;
    State const judged = held_by_thermostats(state, result);
    for (auto const& batch : plan_.batches) batch->findings(judged.now(plan_), result_findings);
    for (auto& f : result_findings) f.place = plan_.pieces[f.piece].name;
    add_pressure_findings(plan_, state, result_findings);
    add_operating_points(in_, plan_, state, result_findings);
    return result;
  }
  /// Asked once, with every zone calling.
  void tell_need_of_tees(FlowsRecord& record) {
    if (in_.zones.empty()) return;
    State state{plan_};
    Calls all(in_.zones.size());
    std::iota(all.begin(), all.end(), 0);
    set_modes(state, all), refresh_local_fluid(plan_, state);
    add_need_of_tees(plan_, in_, state, record.findings, record.passed);
  }
  std::vector<Finding> result_findings;

 private:
  /// Rooms far below or above their settings make the thermostats say what is asked; hours
  /// pass until every motor and timer has done its work. Water hot, so that no burner starts.
  void set_modes(State& state, Calls const& calls) {
    std::vector<Trip> trips;
    auto const is_called = [&](std::size_t z) { return std::find(calls.begin(), calls.end(), z) != calls.end(); };
    for (std::size_t z = 0; z < in_.zones.size(); ++z)
      if (in_.zones[z].room >= 0) hold_room(state, in_.zones[z], is_called(z) ? 250 : 330);
    for (auto const& b : plan_.batches) b->begin(state.now(plan_), state.x.data());  // thermostats feel these rooms
    for (std::size_t z = 0; z < in_.zones.size(); ++z) {
      bool const call = is_called(z);
      int const emitter = in_.zones[z].emitter;
      if (in_.zones[z].room < 0) plan_.batches[plan_.batch_of[emitter]]->demand(plan_.seat_of[emitter], call, state.x.data());
    }
    double constexpr past_all = 1e9;  // the number of a tap's next draw: nobody draws meanwhile
    for (std::size_t p = 0; p < plan_.pieces.size(); ++p)
      if (plan_.pieces[p].kind->role == Role::tap) state.x[plan_.place(int(p), StateRole::draw)] = past_all;
    if (in_.tank_control >= 0) {  // a cold tank, so that it is charged
      int const tank = int(value_of(in_.pieces[in_.tank_control], FieldRole::charged_tank).numbers.at(0));
      state.x[plan_.own[tank]] = 250;
    }
    for (int hours = 0; hours < 5; ++hours) change_modes(plan_, state, nullptr, trips), state.time += 3600;
    if (in_.lag_control >= 0 && needs_lag(calls)) {  // however long the first boiler would have to fire hard before
      state.mode[in_.lag_control] = plan_.mode_with(in_.lag_control, trait::calls);
      change_modes(plan_, state, nullptr, trips);
    }
    for (int i = plan_.first_joint; i < plan_.places(); ++i)
      if (!in_.zones.empty() && plan_.start[i] == in_.design_supply + 30) state.x[i] = in_.design_supply - 5;
  }

  void hold_room(State& state, ZoneParts const& zone, double temperature) const {
    for (Place own : plan_.own_states(zone.room)) state.x[own] = temperature;
  }

  /// Whether the zones that call take more at design than the first boiler can put in.
  bool needs_lag(Calls const& calls) const {
    double load = 0;
    for (std::size_t z : calls) load += in_.zones[z].design_load;
    return load > value_of(in_.pieces[in_.boiler], FieldRole::most_input).numbers.at(0);
  }

  /// Temperatures at rest with each boiler that has flow holding its outlet at the highest wanted supply.
  void heat(State& state, Calls const& calls, FlowState& result) {
    std::vector<Place> held;
    for (int const piece : {in_.boiler, in_.lag_boiler}) {
      if (piece < 0) continue;
      Seat const& boiler = plan_.seat(piece);
      if (piece == in_.boiler || state.flow[boiler.branch] > 0) held.push_back(boiler.first_cell[0] + boiler.cells[0] - 1);
    }
    auto const outlets = held;
    auto const& target = value_of(in_.pieces[in_.boiler], FieldRole::fixed_target);
    plan_.batches[plan_.batch_of[in_.relay]]->begin(state.now(plan_), state.x.data());  // now it knows who calls
    double const supply = options_.supply       ? *options_.supply
                          : target.given ? target.numbers.at(0)
                                         : state.x[plan_.own[in_.relay]];
    for (std::size_t z = 0; z < in_.zones.size(); ++z) {
      if (in_.zones[z].room < 0) continue;
      hold_room(state, in_.zones[z], room_of(in_.zones[z]));
      for (Place own : plan_.own_states(in_.zones[z].room)) held.push_back(own);
    }
    for (Place const outlet : outlets) state.x[outlet] = supply;
    bring_to_rest(state, held);
    result.boiler_supply = supply;
    result.boiler_return = state.x[plan_.seat(in_.boiler).inlet[0]];
    for (int const piece : {in_.boiler, in_.lag_boiler}) {
      if (piece < 0) continue;
      Seat const& boiler = plan_.seat(piece);
      double const m = state.flow[boiler.branch];
      auto const& fluid = plan_.fluids[boiler.branch];
      result.boiler_flow += m / fluid.density;
      if (m > 0) result.boiler_heat += m * fluid.heat_capacity * (supply - state.x[boiler.inlet[0]]);
    }
    for (int j = 0; j < plan_.joints; ++j) result.temperatures[joint_name(j)] = state.x[plan_.first_joint + j];
    for (std::size_t z : calls) {
      auto const& parts = in_.zones[z];
      ZoneFlow zone;
      zone.name = parts.name;
      Seat const& emitter = plan_.seat(parts.emitter);
      double const m = state.flow[emitter.branch], rho = plan_.fluids[emitter.branch].density,
                   cp = plan_.fluids[emitter.branch].heat_capacity;
      zone.wanted = parts.wanted_flow, zone.got = m / rho, zone.design_load = parts.design_load;
      // of a zone that mixes, what it draws hot
      Seat const* const mixing = parts.mixing >= 0 ? &plan_.seat(parts.mixing) : nullptr;
      result.zones_flow += mixing ? state.flow[mixing->branch] / rho : zone.got;
      zone.head = std::abs(state.pressure[emitter.inlet[0] - plan_.first_joint] - state.pressure[emitter.outlet[0] - plan_.first_joint]) /
                  (rho * gravity);
      zone.supply = state.x[emitter.inlet[0]];
      result.system_supply = std::max(result.system_supply, mixing ? state.x[mixing->inlet[0]] : zone.supply);
      // The emitter as an exchanger against its room: UA from this flow, then heat at the wanted flow.
      double const T_in = state.x[emitter.inlet[0]], T_out = state.x[emitter.first_cell[0] + emitter.cells[0] - 1],
                   T_room = room_of(parts);
      double const left = (T_out - T_room) / (T_in - T_room);
      if (parts.room < 0) zone.heat = zone.heat_share = zone.room = Field::none;
      else zone.heat = m * cp * (T_in - T_out);
      zone.drop = m > 1e-9 ? T_in - T_out : 0;
      if (parts.room >= 0 && m > 1e-9 && left > 0 && left < 1) {
        double const UA = -m * cp * std::log(left), W = parts.wanted_flow * rho * cp;
        zone.heat_share = zone.heat / (W * -std::expm1(-UA / W) * (T_in - T_room));
      }
      result.zones.push_back(zone);
    }
    if (!options_.tell_findings && !options_.tell_rooms) return;
    // Then the rooms float; valves that feel them follow, but the flows told are those at design.
    State floating{state};
    bring_to_rest(floating, outlets);
    for (std::size_t i = 0; i < calls.size(); ++i)
      if (auto const& parts = in_.zones[calls[i]]; parts.room >= 0)  // a thermostat holds what would grow warmer
        result.zones[i].room = std::min(floating.x[plan_.own[parts.room]], std::max(room_of(parts), setpoint_of(in_, parts)));
  }

  /// Nobody lets a zone call without end: a thermostat stops what gives more than the load, and floors come to the mean that
  /// holds the room.
  State held_by_thermostats(State const& calling, FlowState const& result) const {
    State held{calling};
    for (auto const& zone : result.zones)
      for (auto const& parts : in_.zones) {
        if (parts.name != zone.name || parts.room < 0 || !(zone.heat > zone.design_load)) continue;
        double const room = room_of(parts), share = zone.design_load / zone.heat;
        for (Place own : plan_.own_states(parts.emitter))
          if (plan_.holds_heat(own)) held.x[own] = room + share * (held.x[own] - room);
      }
    return held;
  }

  double room_of(ZoneParts const& zone) const {
    auto const stated = options_.rooms.find(zone.name);
    return stated == options_.rooms.end() ? zone.design_room : stated->second;
  }
  std::string joint_name(int joint) const { return plan_.names[plan_.first_joint + joint].substr(6); }

  /// What moves between two modes goes the way its law drives it, by steps that grow until it is driven back. The line through two
  /// points of a side tells where its drive ends, at a neutral zone as at a stop; where none does, what lies between is halved.
  /// Where it first rests it seeks both edges of its neutral zone, and then the middle: wherever it came from, it ends there.
  class Mover {
   public:
    explicit Mover(Place place) : at{place} {}
    Place at;
    bool rests = false;

    void go(double rate, double& x) {
      bool const drives = std::abs(rate) >= slow;
      int const side = rate > 0 ? below : above;
      if (drives) sides_[side].see({x, rate, ++seen_});
      bool const is_moved_by_others = drives && side != sought_;
      if (!seeks_edge_ || is_moved_by_others) return drives ? follow(side, x) : come_to_rest(x);
      if (!drives) inside_ = x;
      seek_edge(x);
    }

   private:
    enum { below, above, nowhere };
    struct Point {
      double x = 0, rate = 0;
      int seen = 0;
    };
    /// The last two places where it was driven up, from below, or down.
    struct Side {
      Point near{}, further{};
      void see(Point p) { further = near, near = p; }
      bool is_seen() const { return near.seen > 0; }
      bool is_saturated() const { return further.seen > 0 && std::abs(further.rate - near.rate) < 1e-3 * std::abs(near.rate); }
      bool has_line() const { return further.seen > 0 && std::abs(further.rate) > 1.001 * std::abs(near.rate); }
      double end() const { return near.x - near.rate * (further.x - near.x) / (further.rate - near.rate); }
      bool ends_before(double limit) const { return has_line() && (end() - near.x) * (end() - limit) <= 1e-9; }
    };
    static double constexpr slow = 2e-6, fine = 1e-4, probe = 0.02;  // [1/s]: 0.005 K of a motor's error; of the travel

    void follow(int side, double& x) {
      Side const& mine = sides_[side];
      Side& other = sides_[1 - side];
      double const way = side == below ? 1 : -1;
      seeks_edge_ = false, from_ = side, rests = false;
      int constexpr most_doubts = 4;  // a drive that bends would be doubted for ever
      bool const is_doubted = other.is_seen() && mine.further.seen > other.near.seen && mine.has_line() && !mine.ends_before(other.near.x);
      bool const is_passed = (other.near.x - x) * way <= 0;
      if (is_passed || (is_doubted && doubts_++ < most_doubts)) other = {};  // others have moved meanwhile
      if (!other.is_seen()) {
        x = mine.ends_before(x + way * step_) ? mine.end() : x + way * step_;
        step_ = std::min(2 * step_, 0.2);
        return;
      }
      double const between = std::abs(other.near.x - x);
      if (between < fine) {
        int constexpr patience = 8;
        rests = true;  // it hunts here; what others do may still free it
        if (++stuck_ % patience == 0) other = {}, step_ = fine;
        return;
      }
      double const middle = (x + other.near.x) / 2, told = mine.ends_before(other.near.x) ? mine.end()
                                                           : other.ends_before(x)         ? other.end()
                                                                                          : middle;
      x = std::abs(told - middle) < between / 2 - fine / 2 ? told : middle;
    }
    void come_to_rest(double& x) {
      rests = is_centred_ || from_ == nowhere;
      if (rests) return;
      is_centred_ = seeks_edge_ = true, sought_ = 1 - from_, first_inside_ = inside_ = x, step_ = probe;
      seek_edge(x);
    }
    /// Doubles its steps until it is driven back; then the line tells the edge, once near it, or what lies between is halved.
    void seek_edge(double& x) {
      double constexpr narrow = probe / 40, close = probe / 4;
      Side const& s = sides_[sought_];
      double const between = s.near.x - inside_;
      bool const is_told = s.ends_before(inside_);
      bool const is_near = is_told && (std::abs(s.near.x - s.end()) < close || std::abs(inside_ - s.end()) < narrow);
      if (!s.is_seen()) x += sought_ == above ? step_ : -step_, step_ *= 2;
      else if (is_near) found_edge(s.end(), x);
      else if (std::abs(between) < narrow) found_edge(inside_, x);
      else if (is_told) x = s.end() + 0.1 * (s.near.x - s.end());
      else x = inside_ + between / (s.is_saturated() ? 8 : 2);
    }
    void found_edge(double edge, double& x) {
      if (sought_ != from_) {
        far_ = edge, sought_ = from_, inside_ = first_inside_;
        seek_edge(x);
      } else {
        x = (edge + far_) / 2, seeks_edge_ = false;
      }
    }

    Side sides_[2];
    int seen_ = 0, from_ = nowhere, sought_ = nowhere, stuck_ = 0, doubts_ = 0;
    double step_ = 0.1, first_inside_ = 0, inside_ = 0, far_ = 0;
    bool is_centred_ = false, seeks_edge_ = false;
  };
  /// Flows, temperatures and positions at rest. Tells what found no rest.
  void bring_to_rest(State& state, std::vector<Place> held) {
    int constexpr most_passes = 150;
    std::vector<Mover> movers;
    for (auto const& [place, matters] : plan_.flow_movers) movers.emplace_back(place), held.push_back(place);
    std::vector<double> rates(plan_.places());
    for (int pass = 0; pass < most_passes; ++pass) {
      refresh_local_fluid(plan_, state), solver_.solve(state);
      balance_.settle(state.now(plan_));
      if (!rest_.solve(state, held))
        throw Stopped("E413", 0, "no steady temperatures on the design day", "the whole installation",
                      "an emitter whose heat does not depend on its water temperature", "check the emitters of the zones");
      balance_.rates(state.now(plan_), rates.data());
      bool all_rest = true;
      for (auto& m : movers) {
        double const before = state.x[m.at];
        m.go(rates[m.at], state.x[m.at]);
        all_rest &= m.rests && state.x[m.at] == before;
      }
      if (all_rest && pass > 0) return;  // twice at least: flows hang on the temperature, weakly
    }
    for (auto const& m : movers)
      if (!m.rests) {
        Finding f{.id = "flows.unsettled",
                  .place = "",
                  .severity = Severity::minor,
                  .figures = {},
                  .limit = std::nullopt,
                  .whose = "its own law of motion",
                  .words = "does not settle; it hunts between positions. Flows shown are for one of them.",
                  .order = 40,
                  .fix = "check valve size and setting."};
        f.piece = owner(m.at);
        result_findings.push_back(std::move(f));
      }
  }
  int owner(Place own) const {
    int best = 0;
    for (std::size_t p = 0; p < plan_.pieces.size(); ++p)
      if (plan_.own[p] <= own && plan_.own[p] >= plan_.own[best]) best = int(p);
    return best;
  }

  void edges(State const& state, FlowState& result) const {
    std::vector<double> density(plan_.joints, plan_.fluid.density);
    for (std::size_t b = 0; b < plan_.branches.size(); ++b)
      for (int const joint : {plan_.branches[b].inlet, plan_.branches[b].outlet})
        density[joint - plan_.first_joint] = plan_.fluids[b].density;
    std::vector<BoreFlow> bores(plan_.branches.size());
    Now const now = state.now(plan_);
    for (auto const& b : plan_.batches) b->bores(now, bores.data());
    auto const head = [&](int place) { return state.pressure[place - plan_.first_joint] / (density[place - plan_.first_joint] * gravity); };
    for (std::size_t b = 0; b < plan_.branches.size(); ++b) {
      auto const& run = plan_.branches[b];
      auto const& piece = plan_.pieces[run.piece];
      EdgeFlow e;
      e.name = piece.name, e.kind = piece.kind->name, e.zone = piece.zone;
      if (piece.kind->branches.size() > 1) e.name += ":" + std::string(piece.kind->branches[run.limb].inlet);
      e.flow = state.flow[b] / state.local[b].density;
      e.head_loss = head(run.inlet) - head(run.outlet);
      e.is_potable = island_[run.inlet - plan_.first_joint] == potable_;
      bool const forward = state.flow[b] >= 0;
      e.entering = state.x[forward ? run.inlet : run.outlet];
      e.leaving = run.cells == 0 ? e.entering : state.x[run.first_cell + (forward ? run.cells - 1 : 0)];
      if (!std::isnan(bores[b].diameter)) {
        auto const height = [&](int place) { return plan_.joint_height[place - plan_.first_joint]; };
        double const fall = std::isnan(bores[b].fall) ? height(run.inlet) - height(run.outlet) : bores[b].fall;
        e.fall = e.flow < 0 ? -fall : fall, e.is_purgeable = bores[b].is_purgeable;
        e.diameter = bores[b].diameter, e.velocity = bores[b].velocity, e.reynolds = bores[b].reynolds;
        if (!std::isnan(bores[b].friction_factor)) {
          e.friction_factor = bores[b].friction_factor;
          e.head_gradient = *e.friction_factor * *e.velocity * *e.velocity / (2 * gravity * *e.diameter);
        }
      }
      if (piece.kind->role == Role::circulator) {
        result.circulators.push_back({piece.name, e.flow, -e.head_loss, power_of(state, run.piece)});
      }
      result.edges.push_back(std::move(e));
    }
    auto const absolute = absolute_pressures(plan_, state);
    for (int j = 0; j < plan_.joints; ++j)
      if (!std::isnan(absolute[j])) result.pressures[joint_name(j)] = absolute[j];
    for (int j = 0; j < plan_.joints; ++j) result.heads[joint_name(j)] = head(plan_.first_joint + j);
  }

  /// Electricity that a piece draws: what its links take from the account.
  double power_of(State const& state, int piece) const {
    Links book{plan_.per_heat.data()};
    plan_.batches[plan_.batch_of[piece]]->links(state.now(plan_), book);
    int const mine = plan_.seat_of[piece];
    double power = 0;
    int seen = -1;
    for (auto const& e : book.entries)
      if (e.row == account::electricity && ++seen == mine) power = -e.value;
    return power;
  }

  Installation const& in_;
  FlowsOptions const& options_;
  Plan plan_;
  FlowSolver solver_;
  Balance balance_;
  RestSolver rest_{plan_, balance_};
  std::vector<int> island_;  // by joint
  int potable_ = -1;         // the island that a cold main feeds
};

/// A zone that others leave short of flow, and that has enough by itself.
void tell_who_works_alone(FlowsRecord& record) {
  for (auto& f : record.findings) {
    if (f.id != "zone.short_of_flow") continue;
    for (auto const& s : record.states)
      if (s.zones.size() == 1 && s.zones.front().name == f.place && !is_short_of_flow(s.zones.front()))
        f.words += say(" It works when it calls alone ({}).", Amount{s.zones.front().got, measure::flow});
  }
}

/// The zones of the state with most calls, with the boiler's water warmer by `lift`.
double constexpr lift = 5;  // [K]
std::vector<ZoneFlow> warmer_zones(Installation const& in, FlowsOptions const& options, FlowsRecord const& record) {
  auto const most = std::max_element(record.states.begin(), record.states.end(),
                                     [](auto const& a, auto const& b) { return a.zones.size() < b.zones.size(); });
  bool const is_cold = most != record.states.end() && std::any_of(most->zones.begin(), most->zones.end(), [&](auto const& z) {
                         return !std::isnan(z.room) && z.room < setpoint_of(in, *in.zone(z.name));
                       });
  if (!is_cold) return {};
  FlowsOptions warmer{options};
  warmer.calls = {most->calls}, warmer.supply = most->boiler_supply + lift, warmer.tell_findings = false;
  try {
    return study_flows(in, warmer).states.front().zones;
  } catch (Stopped const&) { return {}; }
}

/// "with bath, kitchen calling".
std::string called(Installation const& in, Calls const& calls) {
  return in.zones.empty() ? "in this network" : calls.empty() ? "with no zone calling" : "with " + names_of(in, calls) + " calling";
}

Finding not_solved(std::vector<UnsolvedState> const& unsolved, std::size_t of) {
  return {.id = "flows.not_solved",
          .place = "",
          .severity = Severity::minor,
          .figures = {},
          .limit = std::nullopt,
          .whose = "the simulation",
          .words = fmt::format("{} of {} combinations of calling zones not solved; the first: {}.", unsolved.size(), of,
                               unsolved.front().why.message),
          .order = 60,
          .fix = "check the zones that call then; `flows --calls` with them tells more."};
}

}  // namespace

FlowsRecord study_flows(Installation const& in, FlowsOptions const& options) {
  FlowsRecord record;
  record.title = in.title;
  record.fluid = in.fluid->at(in.fluid_temperature), record.fluid_words = in.fluid->describe();
  record.assumptions = in.assumptions;
  std::vector<Calls> wanted;
  if (in.zones.empty()) wanted = {{}};
  else if (options.calls.empty()) wanted = combinations(in, record.sample);
  for (auto const& names : options.calls) {
    Calls c;
    for (auto const& name : names) {
      auto const at = std::find_if(in.zones.begin(), in.zones.end(), [&](auto const& z) { return z.name == name; });
      if (at == in.zones.end()) throw InternalError("no zone is called '" + name + "'");
      c.push_back(std::size_t(at - in.zones.begin()));
    }
    wanted.push_back(c);
  }
  Study study{in, options};
  for (auto const& calls : wanted) {
    study.result_findings.clear();
    if (options.progress) options.progress(double(&calls - wanted.data()) / double(wanted.size()));
    try {
      record.states.push_back(study.solve(calls));
    } catch (Stopped const& stopped) {
      UnsolvedState unsolved{{}, stopped.of_state(called(in, calls))};
      for (auto z : calls) unsolved.calls.push_back(in.zones[z].name);
      record.unsolved.push_back(std::move(unsolved));
      continue;
    }
    if (!options.tell_findings) continue;
    add_flow_findings(record.states.back(), in, study.result_findings);
    tell_mixing_first(in, study.result_findings);
    merge_findings(record.findings, study.result_findings, record.states.back().calling, wanted.size());
  }
  if (record.states.empty()) throw record.unsolved.front().why;
  if (!record.unsolved.empty()) record.findings.push_back(not_solved(record.unsolved, wanted.size()));
  if (options.tell_findings) tell_who_works_alone(record);
  if (options.tell_findings && !in.zones.empty()) add_room_findings(record, in, warmer_zones(in, options, record), lift);
  if (options.tell_findings) add_slow_runs(record.states, record.findings);
  if (options.tell_findings) study.tell_need_of_tees(record);
  std::stable_sort(record.findings.begin(), record.findings.end(), [](auto const& a, auto const& b) { return a.order > b.order; });
  return record;
}

}  // namespace steadyfire
