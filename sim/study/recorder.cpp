#include "sim/study/recorder.hpp"

#include <algorithm>
#include <cmath>

#include "sim/control/transitions.hpp"
#include "sim/core/count_up.hpp"

namespace steadyfire {
namespace {

/// A quantity over time taken as straight lines: its least, mean and most.
struct Range {
  double least = 0, most = 0, integral = 0, time = 0;
  void add(double a, double b, double span) {
    if (time == 0) least = most = a;
    least = std::min({least, a, b}), most = std::max({most, a, b});
    integral += span * (a + b) / 2, time += span;
  }
  double mean() const { return time > 0 ? integral / time : 0; }
};

/// ∫ max(0, y) over a straight line from a to b.
double positive_part(double a, double b, double span) {
  if (a <= 0 && b <= 0) return 0;
  if (a >= 0 && b >= 0) return span * (a + b) / 2;
  double const top = std::max(a, b);
  return span * top / (std::abs(b - a)) * top / 2;
}

double stored(Plan const& plan, std::vector<double> const& x) {
  double sum = 0;  // from 20 °C, so that digits are not spent on a large constant
  for (int i = account::count; i < plan.places(); ++i) sum += plan.capacity[i] * (x[i] - 293.15);
  return sum;
}

}  // namespace

struct Recorder::Parts {
  struct Zone {
    ZoneParts parts;
    double differential = 0, setting = 0, setback = 0;
    Range room{};
    double over = 0, under = 0, longest_call = 0, call_time = 0, call = 0, target = 0, heat = 0;  // target: [K·s]
    OffSetpoint cold{}, warm{};                                                                   // integrals until the record is made
    double last_setting = 0, recovering_since = -1, recovering_from = 0, recovery = 0, recovery_from = 0;
    bool recovers = true;
  };
  /// What a channel reads: a place, or what a mode says.
  struct Probe {
    enum { place, fire, call } what;
    int number;  // the place; the piece whose mode calls; which burner
  };
  struct Burner {
    int piece, fire = -1;
    std::vector<Traits> traits{};
    long starts = 0, ended = 0;
    SlidingHour hour{};
    double burn_since = -1, shortest = 0, longest = 0;
    std::vector<int> starts_by_day{0};
    std::vector<float> burns_kept{};
    std::map<Cause, long> ends{};
    std::map<std::pair<BurnEnd, std::string>, long> ended_by{};
    double time_firing = 0, time_condensing = 0, flow_integral = 0;
    long near_stops = 0;
    bool is_near = false;  // to the stop point

    bool burns(State const& s) const { return traits[s.mode[piece]] & trait::burns; }
    void start(double time, int day) {
      ++starts, ++starts_by_day[day];
      hour.add(time);
      burn_since = time;
    }
    void end_burn(double time, Cause cause, std::pair<BurnEnd, std::string> why, std::size_t keep) {
      ++ends[cause], ++ended_by[std::move(why)];
      near_stops += is_near && cause != Cause::off_temperature, is_near = false;
      double const length = time - burn_since;
      shortest = ended == 0 ? length : std::min(shortest, length), longest = std::max(longest, length);
      ++ended;
      if (burns_kept.size() < keep) burns_kept.push_back(float(length));
      burn_since = -1;
    }
  };

  Parts(Plan const& plan, Installation const& in, RecorderOptions options)
      : plan{plan}, options{std::move(options)}, relay{in.relay} {
    for (int const boiler : {in.boiler, in.lag_boiler}) {
      if (boiler < 0) continue;
      Burner b{boiler};
      b.fire = plan.place(boiler, StateRole::fire);
      b.traits = plan.pieces[boiler].kind->traits;
      burners.push_back(std::move(b));
    }
    for (auto const& parts : in.zones) {
      Zone z;
      z.parts = parts;
      z.setting = z.setback = parts.design_room;
      if (parts.thermostat >= 0) {
        auto const& thermostat = plan.pieces[parts.thermostat];
        z.setting = number_of(thermostat, FieldRole::setting, parts.design_room);
        z.setback = number_of(thermostat, FieldRole::setback, z.setting);
        z.differential = number_of(thermostat, FieldRole::differential, 0);
        if (parts.held_at > 0) z.setting = z.setback = parts.held_at;
      }
      zones.push_back(std::move(z));
    }
    for (std::size_t p = 0; p < plan.pieces.size(); ++p) {
      auto const& kind = *plan.pieces[p].kind;
      if (kind.caller != Caller::none) callers.push_back(int(p));
      if (std::any_of(kind.traits.begin(), kind.traits.end(), [](Traits t) { return t & trait::serves_alone; }))
        serving_alone.push_back(int(p));
    }
    list_channels();
    whole = Bins(0, this->options.whole_step, this->options.whole_bins, channels);
    today = best_day = Bins(0, this->options.closeup_step, std::size_t(count_up(86400 / this->options.closeup_step)), channels);
  }

  bool calls(int piece, int mode) const { return plan.traits_of(piece, mode) & trait::calls; }
  /// A zone by its name, anything else by its own.
  std::string who(int piece) const {
    auto const& p = plan.pieces[piece];
    return p.zone.empty() ? p.name.substr(0, p.name.rfind('/')) : p.zone;
  }
  std::string who_calls(State const& now) const {
    std::string names;
    for (int const c : callers)
      if (calls(c, now.mode[c])) names += (names.empty() ? "" : ", ") + who(c);
    return names;
  }
  /// Remembers whose call ended last, and what was wanted of the boiler then.
  void hear_call(Trip const& t, State const& now) {
    if (plan.pieces[t.piece].kind->caller == Caller::none) return;
    if (t.cause == Cause::setback_began) set_back = t.piece, set_back_at = now.time;
    if (!calls(t.piece, t.from) || calls(t.piece, t.to)) return;
    last_call = {t.piece, t.cause, now.time, relay >= 0 ? now.x[plan.own[relay]] : 0};
  }
  /// A burn that ended by this trip of its boiler.
  std::pair<BurnEnd, std::string> why_it_ended(Trip const& t, State const& now) const {
    double constexpr soon = 300, dropped = 2;  // [s], [K]: outdoor reset moves a target by less in that time
    using enum BurnEnd;
    if (t.cause == Cause::high_limit) return {high_limit, who_calls(now)};
    if (t.cause == Cause::flow_lost) return {flow_lost, who_calls(now)};
    if (t.cause == Cause::off_temperature) {
      bool const fell = last_call.piece >= 0 && now.time - last_call.time < soon && last_call.wanted - t.limit > dropped;
      return fell ? std::pair{target_dropped, who(last_call.piece)} : std::pair{stop_point, who_calls(now)};
    }
    if (t.cause != Cause::call_ended || last_call.piece < 0) return {other, ""};
    auto const name = who(last_call.piece);
    if (last_call.cause == Cause::warm_weather_shutdown) return {warm_weather, name};
    switch (plan.pieces[last_call.piece].kind->caller) {
      case Caller::thermostat:
        return {set_back == last_call.piece && last_call.time - set_back_at < 1 ? setback : thermostat, name};
      case Caller::tank:
        return {tank, name};
      case Caller::recirculation:
        return {recirculation, name};
      case Caller::tap:
        return {tap, name};
      case Caller::snow:
        return {snow, name};
      case Caller::none:
        break;
    }
    return {other, name};
  }

  void list_channels() {
    if (options.figures_only) return;
    auto const add = [&](std::string id, std::string label, std::string group, Measure const& m, Probe probe) {
      channels.push_back({std::move(id), std::move(label), std::move(group), m, {}, {}, {}});
      probes.push_back(probe);
    };
    auto constexpr t = measure::fine_temperature;
    for (std::size_t i = 0; i < burners.size(); ++i) {
      auto const& b = burners[i];
      std::string const id = i == 0 ? "boiler" : plan.pieces[b.piece].name, whose = i == 0 ? "the boiler" : "the " + id + " boiler";
      add(id + "/supply", "supply at " + whose, "water", t, {Probe::place, outlet_cell(plan.first_branch[b.piece])});
      add(id + "/return", "return at " + whose, "water", t, {Probe::place, plan.seat(b.piece).inlet[0]});
      if (i == 0 && relay >= 0) add("boiler/target", "target", "water", t, {Probe::place, plan.own[relay]});
      if (b.fire >= 0)
        add(id + "/fire", i == 0 ? "firing rate (share of input)" : "firing rate of " + whose + " (share of input)", "fire", measure::share,
            {Probe::fire, int(i)});
    }
    add("outdoors", "outdoor temperature", "outdoors", t, {Probe::place, given::outdoors});
    for (std::size_t p = 0; p < plan.pieces.size(); ++p) {
      auto const& name = plan.pieces[p].name;
      if (plan.pieces[p].kind->role == Role::tap)
        add("tap/" + name.substr(0, name.rfind('/')), "hot water at the " + name.substr(0, name.rfind('/')) + " tap", "water", t,
            {Probe::place, plan.seat(int(p)).inlet[0]});
    }
    for (auto const& z : zones) {
      auto const& name = z.parts.name;
      int const room = z.parts.room, thermostat = z.parts.thermostat, emitter = z.parts.emitter;
      if (room >= 0) add("zone/" + name + "/room", name + " room", "room", t, {Probe::place, plan.own[room]});
      if (emitter >= 0) {
        add("zone/" + name + "/supply", name + " supply at the emitter", "water", t, {Probe::place, plan.seat(emitter).inlet[0]});
        for (auto const& [role, surface] : {std::pair{StateRole::floor, "floor"}, std::pair{StateRole::surface, "surface"}})
          if (int const warm = plan.place(emitter, role); warm >= 0)
            add("zone/" + name + "/" + surface, name + " " + surface + " at the supply end", "room", t, {Probe::place, warm});
      }
      if (thermostat >= 0) add("zone/" + name + "/call", name + " calls", "call", measure::plain, {Probe::call, thermostat});
    }
    at_from.resize(probes.size()), at_to.resize(probes.size());
  }

  int outlet_cell(int branch) const {
    auto const& run = plan.branches[branch];
    return run.cells > 0 ? run.first_cell + run.cells - 1 : run.outlet;
  }
  void read(std::vector<double> const& x, State const& s, std::vector<double>& values) const {
    for (std::size_t i = 0; i < probes.size(); ++i) {
      auto const [what, number] = probes[i];
      if (what == Probe::place) values[i] = x[number];
      else if (what == Probe::call) values[i] = plan.traits_of(number, s.mode[number]) & trait::calls ? 1 : 0;
      else values[i] = burners[number].burns(s) ? x[burners[number].fire] : 0;
    }
  }

  void watch_burner(Burner& b, double from, std::vector<double> const& before, State const& now) {
    if (!b.burns(now)) return;
    bool const first = &b == &burners.front();
    double const span = now.time - from;
    int const branch = plan.first_branch[b.piece], out = outlet_cell(branch),
              in = now.flow[branch] < 0 ? plan.branches[branch].outlet : plan.branches[branch].inlet;
    b.time_firing += span;
    b.flow_integral += span * now.flow[branch] / now.local[branch].density;
    double const margin = plan.batches[plan.batch_of[b.piece]]->margin(plan.seat_of[b.piece], Cause::off_temperature, now.now(plan));
    if (margin > -sensor_error) b.is_near = true;
    else if (b.is_near && !(margin > -2 * sensor_error)) b.is_near = false, ++b.near_stops;
    if (first) supplies.add(before[out], now.x[out], span), returns.add(before[in], now.x[in], span);
    if (b.fire < 0) return;
    if (options.condensing)
      b.time_condensing +=
          span / 2 * (double(options.condensing(before[in], before[b.fire])) + double(options.condensing(now.x[in], now.x[b.fire])));
    if (first && !options.figures_only && points.wants(now.time)) points.add(now.time, {now.x[given::outdoors], now.x[out], now.x[b.fire]});
  }

  /// What a zone does in one step.
  struct ZoneStep {
    double span, room, setting;
    bool calls;
    double flow_share = 0, water = 0, heat = 0;  // of the flow needed; [K] mean in its emitter; [J]
  };
  ZoneStep step_of(Zone const& z, double from, std::vector<double> const& before, State const& now, Traits thermostat) const {
    auto const& parts = z.parts;
    ZoneStep s{now.time - from, parts.room >= 0 ? (before[plan.own[parts.room]] + now.x[plan.own[parts.room]]) / 2 : 0,
               thermostat & trait::set_back ? z.setback : z.setting, bool(thermostat & trait::calls)};
    if (parts.emitter < 0) return s;
    for (std::size_t b = 0; b < plan.pieces[parts.emitter].kind->branches.size(); ++b) {
      int const branch = plan.first_branch[parts.emitter] + int(b);
      auto const& run = plan.branches[branch];
      if (run.cells == 0) continue;
      double const flow = now.flow[branch];
      int const in = flow < 0 ? run.outlet : run.inlet, out = flow < 0 ? run.first_cell : outlet_cell(branch);
      s.heat += std::abs(flow) * plan.fluids[branch].heat_capacity * s.span * (before[in] - before[out] + now.x[in] - now.x[out]) / 2;
      if (b > 0) continue;
      s.water = (now.x[in] + now.x[out]) / 2;
      if (parts.wanted_flow > 0) s.flow_share = std::abs(flow) / plan.fluids[branch].density / parts.wanted_flow;
    }
    return s;
  }
  /// From the end of a setback until the room is there again: that is no cold room.
  void watch_recovery(Zone& z, ZoneStep const& s, double time) const {
    double constexpr there = 0.5;  // [K]
    if (z.recovering_since >= 0) {
      bool const is_there = s.room > s.setting - there, gives_up = s.setting < z.last_setting;
      if (double const took = time - z.recovering_since; took > z.recovery) z.recovery = took, z.recovery_from = z.recovering_from;
      z.recovers = z.recovers && !gives_up;
      if (is_there || gives_up) z.recovering_since = -1;
    } else if (z.last_setting > 0 && s.setting > z.last_setting && s.room < s.setting - there) {
      z.recovering_since = time, z.recovering_from = s.room;
    }
    z.last_setting = s.setting;
  }
  void watch_setpoint(Zone& z, ZoneStep const& s, std::vector<double> const& before, State const& now) const {
    watch_recovery(z, s, now.time);
    if (now.time < options.settled_from || z.recovering_since >= 0) return;
    double const allowed = z.differential + off_setpoint;
    bool const is_cold = s.room<s.setting - allowed, is_warm = s.room> z.setting + allowed;  // a setback lets it cool, no more
    if (!is_cold && !is_warm) return;
    auto& o = is_cold ? z.cold : z.warm;
    if (o.time == 0 || (is_cold ? s.room < o.worst : s.room > o.worst))
      o.worst = s.room, o.worst_at = now.time, o.worst_outdoors = now.x[given::outdoors];
    o.time += s.span, o.outdoors += s.span * now.x[given::outdoors], o.heat += s.heat;
    o.gains += before[account::gains] - now.x[account::gains];
    if (s.calls) o.calling += s.span, o.flow += s.span * s.flow_share, o.water += s.span * s.water;
    else o.idle_flow += s.span * s.flow_share;
    if (std::any_of(serving_alone.begin(), serving_alone.end(),
                    [&](int piece) { return plan.traits_of(piece, now.mode[piece]) & trait::serves_alone; }))
      o.waiting += s.span;
  }
  /// Integrals to means and shares.
  static OffSetpoint averaged(OffSetpoint o) {
    if (o.time <= 0) return o;
    if (o.calling > 0) o.flow /= o.calling, o.water /= o.calling;
    if (o.time > o.calling) o.idle_flow /= o.time - o.calling;
    for (double* sum : {&o.outdoors, &o.calling, &o.waiting, &o.heat, &o.gains}) *sum /= o.time;
    return o;
  }

  void watch_zone(Zone& z, double from, std::vector<double> const& before, State const& now) const {
    double const span = now.time - from;
    auto const& parts = z.parts;
    Traits const of_thermostat = parts.thermostat >= 0 ? plan.traits_of(parts.thermostat, now.mode[parts.thermostat]) : trait::none;
    if (parts.room >= 0) {
      int const air = plan.own[parts.room];
      double const setting = of_thermostat & trait::set_back ? z.setback : z.setting, band = z.differential + options.band;
      z.room.add(before[air], now.x[air], span);
      z.over += positive_part(before[air] - z.setting - band, now.x[air] - z.setting - band, span);  // a setback lets it cool, no more
      z.under += positive_part(setting - band - before[air], setting - band - now.x[air], span);
    }
    if (of_thermostat & trait::calls) {
      z.call_time += span, z.call += span;
      if (relay >= 0) z.target += span * now.x[plan.own[relay]];
      z.longest_call = std::max(z.longest_call, z.call);
    } else {
      z.call = 0;
    }
    auto const step = step_of(z, from, before, now, of_thermostat);
    z.heat += step.heat;
    if (parts.room >= 0 && parts.thermostat >= 0) watch_setpoint(z, step, before, now);
  }

  /// Closes days up to the one in which `time` lies.
  void reach_day_of(double time) {
    while (time >= (double(day) + 1) * 86400) {
      keep_best();
      ++day;
      for (auto& b : burners) b.starts_by_day.push_back(0);
      today.clear(double(day) * 86400);
    }
  }
  void keep_best() {
    if (best_starts < starts_today()) best_starts = starts_today(), best_day = today;
  }
  int starts_today() const { return burners.empty() ? 0 : burners.front().starts_by_day[day]; }

  void watch_channels(double from, std::vector<double> const& before, State const& now) {
    read(before, now, at_from), read(now.x, now, at_to);
    whole.add(from, now.time, at_from, at_to);
    auto left = at_from, right = at_to;
    double t = from;
    reach_day_of(from);
    for (double midnight; t < now.time; t = midnight, left = right) {  // a step over midnight belongs to two days
      midnight = std::min(now.time, (double(day) + 1) * 86400);
      for (std::size_t i = 0; i < right.size(); ++i)
        right[i] = midnight == now.time ? at_to[i] : at_from[i] + (at_to[i] - at_from[i]) * (midnight - from) / (now.time - from);
      today.add(t, midnight, left, right);
      reach_day_of(midnight);
    }
  }

  BurnerRecord burner_record(Burner const& w, State const& now, double flue_share) const {
    BurnerRecord b;
    auto const& piece = plan.pieces[w.piece];
    b.name = piece.name;
    b.starts = w.starts, b.starts_per_hour_worst = w.hour.worst(), b.worst_hour_at = w.hour.worst_at();
    b.starts_by_day = w.starts_by_day;
    if (b.starts_by_day.size() > 1 && now.time <= double(day) * 86400)
      b.starts_by_day.pop_back();  // midnight of the last day begins no other
    for (auto const& [why, count] : w.ended_by) b.ended_by.push_back({why.first, why.second, count});
    std::stable_sort(b.ended_by.begin(), b.ended_by.end(), [](auto const& a, auto const& c) { return a.count > c.count; });
    b.burns = w.burns_kept, b.ends = w.ends, b.burn_shortest = w.shortest, b.burn_longest = w.longest;
    if (auto sorted = w.burns_kept; !sorted.empty()) {
      std::sort(sorted.begin(), sorted.end());
      auto const n = sorted.size();
      b.burn_median = (double(sorted[(n - 1) / 2]) + double(sorted[n / 2])) / 2;
    }
    b.near_stops = w.near_stops + w.is_near;
    b.time_firing = w.time_firing, b.time_condensing = w.time_condensing;
    b.input_most = number_of(piece, FieldRole::most_input, 0), b.input_least = number_of(piece, FieldRole::least_input, 0);
    b.output_least = b.input_least * (1 - flue_share);
    return b;
  }

  Plan const& plan;
  RecorderOptions options;
  int relay;
  std::vector<Burner> burners;
  std::vector<Zone> zones;
  std::vector<int> callers, serving_alone;  // pieces
  struct LastCall {
    int piece = -1;
    Cause cause = Cause::call_ended;
    double time = 0, wanted = 0;  // wanted: of the boiler while it still called [K]
  } last_call;
  int set_back = -1;  // who went into setback last
  double set_back_at = 0;
  std::vector<Channel> channels;
  std::vector<Probe> probes;
  std::vector<double> at_from, at_to;
  Bins whole{0, 1, 1, {}}, today = whole, best_day = whole;
  int day = 0, best_starts = -1;
  long events_left_out = 0;
  Range supplies, returns, outdoors;
  Thinned<OperatingPoint> points{10, options.points};
  std::vector<EventRecord> events;
  std::vector<double> first;  // x at the first step
};

Recorder::Recorder(Plan const& plan, Installation const& in, RecorderOptions options) : parts_{new Parts{plan, in, std::move(options)}} {}
Recorder::~Recorder() = default;

void Recorder::stepped(double from, std::vector<double> const& before, State const& now) {
  auto& p = *parts_;
  if (p.first.empty()) p.first = before;
  p.outdoors.add(before[given::outdoors], now.x[given::outdoors], now.time - from);
  for (auto& b : p.burners) p.watch_burner(b, from, before, now);
  for (auto& z : p.zones) p.watch_zone(z, from, before, now);
  if (p.options.figures_only) p.reach_day_of(now.time);
  else p.watch_channels(from, before, now);
}

void Recorder::tripped(std::vector<Trip> const& trips, State const& now) {
  auto& p = *parts_;
  for (auto const& t : trips) {
    p.hear_call(t, now);
    for (auto& b : p.burners) {
      if (t.piece != b.piece) continue;
      if (b.traits[t.to] & trait::ignites) p.reach_day_of(now.time), b.start(now.time, p.day);
      bool const goes_out = (b.traits[t.from] & trait::burns) && !(b.traits[t.to] & trait::burns);
      if (goes_out && b.burn_since >= 0) b.end_burn(now.time, t.cause, p.why_it_ended(t, now), p.options.burns);
    }
    if (!t.told || p.options.figures_only) continue;
    if (p.events.size() == p.options.events) {
      ++p.events_left_out;
      continue;
    }
    auto const& piece = p.plan.pieces[t.piece];
    p.events.push_back({now.time, piece.name, piece.kind->modes[t.to], words_of(t), t.cause});
  }
}

Record Recorder::record(State const& now) const {
  auto const& p = *parts_;
  Record r;
  r.duration = now.time;
  r.program_version = STEADYFIRE_VERSION;
  r.events = p.events, r.events_left_out = p.events_left_out;
  r.supply_min = p.supplies.least, r.supply_mean = p.supplies.mean(), r.supply_max = p.supplies.most;
  r.return_min = p.returns.least, r.return_mean = p.returns.mean(), r.return_max = p.returns.most;
  r.points = p.points.samples();
  r.whole = p.whole.track();
  bool const today_is_best = p.starts_today() > p.best_starts;
  r.closeup = (today_is_best ? p.today : p.best_day).track();

  auto& e = r.energy;
  if (!p.first.empty()) {
    auto const into = [&](int account) { return now.x[account] - p.first[account]; };
    e.fuel = -into(account::fuel), e.electricity = -into(account::electricity);
    e.useful = into(account::envelope) + into(account::process) + into(account::gains);  // gains leave their account
    double out = e.useful;
    for (int const a : {account::flue, account::jacket, account::piping, account::floor_down, account::motor})
      out += e.losses[std::string(account::names[a])] = into(a);
    e.stored = stored(p.plan, now.x) - stored(p.plan, p.first);
    e.from_boiler = e.fuel - e.losses["flue"] - e.losses["jacket"];
    e.to_rooms = e.useful;
    for (auto const& z : p.zones)
      if (z.parts.room >= 0)
        for (Place own : p.plan.own_states(z.parts.room)) e.to_rooms += p.plan.capacity[own] * (now.x[own] - p.first[own]);
    double const in = e.fuel + e.electricity;
    e.closure = in > 0 ? (in - out - e.stored) / in : 0;
  }

  for (auto const& watched : p.burners) {
    auto const b = p.burner_record(watched, now, e.fuel > 0 ? e.losses["flue"] / e.fuel : 1);
    if (watched.ended > long(b.burns.size()))
      r.cautions.push_back("the median is of the first " + std::to_string(b.burns.size()) + " burns");
    if (&watched == &p.burners.front()) r.burner = b;
    else r.other_burners.push_back(b);
  }
  if (p.events_left_out > 0) r.cautions.push_back(std::to_string(p.events_left_out) + " later events are left out of the list");

  for (auto const& z : p.zones) {
    ZoneRecord zone;
    zone.name = z.parts.name, zone.design_load = z.parts.design_load, zone.setting = z.setting;
    if (z.parts.emitter >= 0) zone.emitter = p.plan.pieces[z.parts.emitter].kind->name;
    zone.room_min = z.room.least, zone.room_mean = z.room.mean(), zone.room_max = z.room.most;
    if (z.parts.room < 0) zone.room_min = zone.room_mean = zone.room_max = zone.setting = std::nan("");
    zone.overshoot = z.over, zone.undershoot = z.under;
    zone.longest_call = z.longest_call, zone.call_time = z.call_time, zone.heat = z.heat;
    zone.cold = Parts::averaged(z.cold), zone.warm = Parts::averaged(z.warm);
    zone.recovery = z.recovery, zone.recovery_from = z.recovery_from, zone.recovers = z.recovers;
    zone.target = z.call_time > 0 ? z.target / z.call_time : 0;
    r.zones.push_back(std::move(zone));
  }
  return r;
}

Track Recorder::so_far() const { return parts_->whole.track(); }

double Recorder::mean_outdoors() const { return parts_->outdoors.mean(); }
double Recorder::mean_boiler_flow() const {
  if (parts_->burners.empty()) return 0;
  auto const& b = parts_->burners.front();
  return b.time_firing > 0 ? b.flow_integral / b.time_firing : 0;
}

}  // namespace steadyfire
