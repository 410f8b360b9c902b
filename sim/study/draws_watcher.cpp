#include "sim/study/draws_watcher.hpp"

#include <algorithm>
#include <cmath>

namespace steadyfire {
namespace {

constexpr double hot_within = 2;  // [K]
constexpr double enough_flow = 0.95;
constexpr double stays_hot = 3;          // [s] a joint at a tap holds 5 g, which stay warm for ever and pass in no time
constexpr double memory_of_room = 3600;  // [s]

std::vector<double> const& listed(Piece const& piece, FieldRole role) { return value_of(piece, role).numbers; }

/// What is running out of a tap.
struct Running {
  bool open = false;
  DrawRecord draw;
  double mass = 0, heat = 0;  // [kg], ∫ṁ·T dt
  double useful = 0;          // ∫ṁ·cp·(min(T, wanted) − T_main) dt
  double hot_since = NAN;     // [s] of the run
  double volume_before = 0;   // [m³] that had run by then
  double mass_after_hot = 0, heat_after_hot = 0;
  double temperature = 0, flow = 0;  // now [K], [m³/s]
  double cold = 0;                   // of the main [K]
};

struct Tap {
  int piece, hot, cold;       // branches
  int hot_place, cold_place;  // joints that water enters by
  Running now{};
};

struct Zone {
  std::string name;
  int air, thermostat;
  double waited = 0;  // [s] of this call
  double mean = NAN;  // of the last hour or so, still while hot water is made
  RoomDip deepest{};
};

}  // namespace

struct DrawsWatcher::Parts {
  Parts(Plan const& plan, Installation const& in, std::size_t most) : plan{plan}, most{most} {
    for (std::size_t p = 0; p < plan.pieces.size(); ++p) {
      auto const& piece = plan.pieces[p];
      auto const& seat = plan.seat(int(p));
      int const first = plan.first_branch[p];
      if (piece.kind->role == Role::tap) {
        taps.push_back({int(p), first, first + 1, seat.inlet[0], seat.inlet[1]});
        TapRecord t;
        t.name = piece.name.substr(0, piece.name.rfind('/'));
        for (double const q : listed(piece, FieldRole::draw_flows)) t.flow_wanted = std::max(t.flow_wanted, q);
        for (double const T : listed(piece, FieldRole::draw_temperatures)) t.wanted = std::max(t.wanted, T);
        t.pipe_water = water_before(seat.inlet[0]);
        r.taps.push_back(std::move(t));
      }
      if (piece.kind->role == Role::cold_main) main = plan.branches[first].first_cell;
      if (plan.mode_with(int(p), trait::serves_alone) >= 0) {
        control = int(p);
        if (auto const& set = listed(piece, FieldRole::hot_water_set_point); !set.empty()) r.set_point = set[0];
      }
      if (plan.plays(int(p), Part::plates)) plates = first;
    }
    for (int const boiler : {in.boiler, in.lag_boiler})
      if (boiler >= 0) boilers.push_back(boiler);
    for (auto const& z : in.zones)
      if (z.room >= 0) zones.push_back({z.name, plan.own[z.room], z.thermostat});
    r.all.name = "all taps";
  }

  /// Of the pipes that lead to a joint, back to where they branch off something else [m³].
  double water_before(int joint) const {
    double sum = 0;
    for (std::size_t most_pipes = plan.branches.size(); most_pipes > 0; --most_pipes) {
      auto const leads = [&](auto const& b) { return b.outlet == joint && plan.pieces[b.piece].kind->role == Role::pipe; };
      auto const pipe = std::find_if(plan.branches.begin(), plan.branches.end(), leads);
      if (pipe == plan.branches.end()) break;
      auto const p = std::size_t(pipe->piece);
      sum += plan.batches[plan.batch_of[p]]->shape(plan.seat_of[p], plan.fluid).cells[0].water;
      joint = pipe->inlet;
    }
    return sum;
  }

  bool is(Traits wanted, int piece, State const& s) const { return piece >= 0 && plan.traits_of(piece, s.mode[piece]) & wanted; }
  bool serves(State const& s) const { return is(trait::calls, control, s); }
  bool burns(State const& s) const {
    return std::any_of(boilers.begin(), boilers.end(), [&](int b) { return is(trait::burns, b, s); });
  }
  double main_temperature(Tap const& t, std::vector<double> const& x) const { return x[main >= 0 ? main : t.cold_place]; }

  void open(Tap& t, State const& s) {
    auto const& piece = plan.pieces[t.piece];
    int const number = std::max(0, int(std::lround(s.x[plan.place(t.piece, StateRole::draw)])));
    auto const wish = [&](FieldRole role) {
      auto const& list = listed(piece, role);
      return list.empty() ? 0 : list[std::size_t(number) % list.size()];
    };
    t.now = {};
    t.now.open = true, t.now.cold = main_temperature(t, s.x);
    auto& d = t.now.draw;
    d.tap = int(&t - taps.data());
    d.start = s.time, d.flow_wanted = wish(FieldRole::draw_flows), d.wanted = wish(FieldRole::draw_temperatures);
    d.volume_wanted = wish(FieldRole::draw_volumes);
  }

  void run(Tap& t, double from, std::vector<double> const& before, State const& s) {
    auto& n = t.now;
    auto& d = n.draw;
    double const span = s.time - from, hot = std::max(0.0, s.flow[t.hot]), cold = std::max(0.0, s.flow[t.cold]), flow = hot + cold;
    d.duration += span;
    if (serves(s) && burns(s)) d.fired = true;
    if (heating_has_its_turn) d.had_turn = true;
    n.flow = hot / s.local[t.hot].density + cold / s.local[t.cold].density;
    if (flow <= 0 || span <= 0) return;
    auto const mixed = [&](std::vector<double> const& x) { return (hot * x[t.hot_place] + cold * x[t.cold_place]) / flow; };
    double const a = mixed(before), b = mixed(s.x), T = (a + b) / 2, mass = flow * span, cp = plan.fluids[t.hot].heat_capacity,
                 street = main_temperature(t, s.x), warm = d.wanted - hot_within;
    d.volume += n.flow * span;
    n.mass += mass, n.heat += mass * T, n.temperature = b;
    n.useful += mass * cp * std::max(0.0, std::min(T, d.wanted) - street);
    d.energy += mass * cp * (T - street);
    n.cold = street;
    if (hot > 0.1 * flow) r.hottest_at_taps = std::max(r.hottest_at_taps, s.x[t.hot_place]);
    if (std::isnan(n.hot_since)) {
      if (a < warm && b < warm) return;
      double const share = a >= warm ? 0 : (warm - a) / (b - a);
      n.hot_since = from + share * span, n.volume_before = d.volume - (1 - share) * n.flow * span;
      n.mass_after_hot = (1 - share) * mass, n.heat_after_hot = n.mass_after_hot * (std::max(a, warm) + b) / 2;
      d.lowest_after_hot = std::min(std::max(a, warm), b);
    } else {
      d.lowest_after_hot = std::min(d.lowest_after_hot, b);
      n.mass_after_hot += mass, n.heat_after_hot += mass * T;
    }
    if (b < warm && s.time - n.hot_since < stays_hot && !d.was_hot()) n.hot_since = NAN;
    else if (s.time - n.hot_since >= stays_hot && !d.was_hot()) d.time_to_hot = n.hot_since - d.start, d.run_off = n.volume_before;
  }

  void shut(Tap& t) {
    auto& n = t.now;
    n.open = false;
    auto& d = n.draw;
    if (d.duration > 0) d.flow = d.volume / d.duration;
    if (n.mass > 0) d.delivered = n.heat / n.mass;
    if (!d.was_hot()) d.run_off = d.volume, d.lowest_after_hot = NAN;
    else d.after_hot = n.heat_after_hot / n.mass_after_hot;
    d.cold = n.cold;
    r.cold_least = r.cold_least > 0 ? std::min(r.cold_least, n.cold) : n.cold, r.cold_most = std::max(r.cold_most, n.cold);
    double const cp = plan.fluids[t.hot].heat_capacity, density = plan.fluids[t.hot].density,
                 wanted = d.volume_wanted * density * cp * std::max(0.0, d.wanted - n.cold);
    d.energy_short = std::max(0.0, wanted - n.useful);
    d.end = !d.was_hot()                           ? DrawEnd::never_hot
            : d.after_hot < d.wanted - hot_within  ? DrawEnd::cooled
            : d.flow < enough_flow * d.flow_wanted ? DrawEnd::short_of_flow
                                                   : DrawEnd::on_target;
    add(r.taps[std::size_t(d.tap)], d), add(r.all, d);
    if (r.draws.size() < most) r.draws.push_back(d);
    else ++r.draws_left_out;
  }
  static void add(TapRecord& t, DrawRecord const& d) {
    ++t.draws;
    ++(d.end == DrawEnd::on_target   ? t.on_target
       : d.end == DrawEnd::never_hot ? t.never_hot
       : d.end == DrawEnd::cooled    ? t.cooled
                                     : t.short_of_flow);
    t.not_fired += !d.fired;
    t.volume += d.volume, t.run_off += d.run_off, t.energy += d.energy, t.energy_short += d.energy_short;
    if (d.was_hot()) ++t.waited, t.wait_sum += d.time_to_hot, t.wait_longest = std::max(t.wait_longest, d.time_to_hot);
  }

  /// The most that is drawn at once, if each open tap has what it wants.
  void look_for_largest(State const& s) {
    double sum = 0;
    for (auto const& t : taps) {
      if (!t.now.open) continue;
      auto const& d = t.now.draw;
      if (t.now.temperature < d.wanted - hot_within || t.now.flow < enough_flow * d.flow_wanted) return;
      sum += t.now.flow;
    }
    if (sum <= r.largest_met * (1 + 1e-3)) return;
    r.largest_met = sum, r.largest_met_at = s.time, r.largest_met_taps.clear();
    for (auto const& t : taps)
      if (t.now.open) r.largest_met_taps.push_back(r.taps[std::size_t(t.now.draw.tap)].name);
  }

  void watch_room(Zone& z, double from, State const& s) const {
    double const air = s.x[z.air], span = s.time - from;
    bool const calls = is(trait::calls, z.thermostat, s);
    if (!calls) z.waited = 0;
    if (is(trait::serves_alone, control, s)) {
      if (std::isnan(z.mean)) z.mean = air;
      z.waited += calls ? span : 0;
      // A room that never called did not cool by waiting.
      bool const has_waited = z.waited > 0, had_waited = z.deepest.waited > 0;
      double const dip = z.mean - air, deepest = z.deepest.before - z.deepest.lowest;
      if (z.deepest.zone.empty() || (has_waited == had_waited ? dip > deepest : has_waited))
        z.deepest = {z.name, z.mean, air, s.time, z.waited};
    } else {
      z.mean = std::isnan(z.mean) ? air : z.mean + (air - z.mean) * (1 - std::exp(-span / memory_of_room));
    }
  }

  Plan const& plan;
  std::size_t most;
  std::vector<Tap> taps;
  std::vector<Zone> zones;
  std::vector<int> boilers;
  int main = -1, control = -1, plates = -1;
  bool heating_has_its_turn = false;
  double plates_volume = 0;
  HotWaterRecord r;
};

DrawsWatcher::DrawsWatcher(Plan const& plan, Installation const& in, std::size_t most_draws) : parts_{new Parts{plan, in, most_draws}} {}
DrawsWatcher::~DrawsWatcher() = default;

bool DrawsWatcher::has_taps(Plan const& plan) {
  return std::any_of(plan.pieces.begin(), plan.pieces.end(), [](Piece const& p) { return p.kind->role == Role::tap; });
}

void DrawsWatcher::stepped(double from, std::vector<double> const& before, State const& now) {
  auto& p = *parts_;
  bool drawn = false;
  for (auto& t : p.taps)
    if (t.now.open) p.run(t, from, before, now), drawn = true;
  if (drawn) p.look_for_largest(now);
  for (auto& z : p.zones) p.watch_room(z, from, now);
  if (!p.serves(now)) return;
  double const span = now.time - from;
  p.r.time_serving += span;
  if (p.plates >= 0) p.plates_volume += span * std::abs(now.flow[p.plates]) / now.local[p.plates].density;
}

void DrawsWatcher::tripped(std::vector<Trip> const& trips, State const& now) {
  auto& p = *parts_;
  for (auto const& trip : trips) {
    if (trip.piece == p.control) p.heating_has_its_turn = trip.cause == Cause::heating_turn;
    for (auto& t : p.taps) {
      if (t.piece != trip.piece) continue;
      bool const opens = p.plan.traits_of(trip.piece, trip.to) & trait::calls;
      if (t.now.open && !opens) p.shut(t);
      if (!t.now.open && opens) p.open(t, now);
    }
    bool const is_boiler = std::find(p.boilers.begin(), p.boilers.end(), trip.piece) != p.boilers.end();
    if (is_boiler && p.serves(now) && p.plan.traits_of(trip.piece, trip.to) & trait::ignites) ++p.r.burner_starts;
  }
}

HotWaterRecord DrawsWatcher::record() const {
  auto const& p = *parts_;
  HotWaterRecord r = p.r;
  if (r.time_serving > 0) r.plates_flow = p.plates_volume / r.time_serving;
  for (auto const& z : p.zones)
    if (!z.deepest.zone.empty()) r.dips.push_back(z.deepest);
  std::stable_sort(r.dips.begin(), r.dips.end(), [](auto const& a, auto const& b) { return a.before - a.lowest > b.before - b.lowest; });
  return r;
}

}  // namespace steadyfire
