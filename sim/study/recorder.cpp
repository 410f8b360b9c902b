#include "sim/study/recorder.hpp"

#include <algorithm>
#include <cmath>

#include "sim/control/transitions.hpp"

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
    double over = 0, under = 0, longest_call = 0, call_time = 0, call = 0, heat = 0;
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
    double time_firing = 0, time_condensing = 0, flow_integral = 0;

    bool burns(State const& s) const { return traits[s.mode[piece]] & trait::burns; }
    void start(double time, int day) {
      ++starts, ++starts_by_day[day];
      hour.add(time);
      burn_since = time;
    }
    void end_burn(double time, Cause cause, std::size_t keep) {
      ++ends[cause];
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
    list_channels();
    whole = Bins(0, this->options.whole_step, this->options.whole_bins, channels);
    today = best_day = Bins(0, this->options.closeup_step, std::size_t(std::ceil(86400 / this->options.closeup_step)), channels);
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
    if (first) supplies.add(before[out], now.x[out], span), returns.add(before[in], now.x[in], span);
    if (b.fire < 0) return;
    if (options.condensing)
      b.time_condensing +=
          span / 2 * (double(options.condensing(before[in], before[b.fire])) + double(options.condensing(now.x[in], now.x[b.fire])));
    if (first && !options.figures_only && points.wants(now.time)) points.add(now.time, {now.x[given::outdoors], now.x[out], now.x[b.fire]});
  }

  void watch_zone(Zone& z, double from, std::vector<double> const& before, State const& now) const {
    double const span = now.time - from;
    auto const& parts = z.parts;
    Traits const of_thermostat = parts.thermostat >= 0 ? plan.traits_of(parts.thermostat, now.mode[parts.thermostat]) : trait::none;
    if (parts.room >= 0) {
      int const air = plan.own[parts.room];
      double const setting = of_thermostat & trait::set_back ? z.setback : z.setting, band = z.differential + options.band;
      z.room.add(before[air], now.x[air], span);
      z.over += positive_part(before[air] - setting - band, now.x[air] - setting - band, span);
      z.under += positive_part(setting - band - before[air], setting - band - now.x[air], span);
    }
    if (of_thermostat & trait::calls) {
      z.call_time += span, z.call += span;
      z.longest_call = std::max(z.longest_call, z.call);
    } else {
      z.call = 0;
    }
    if (parts.emitter < 0) return;
    for (std::size_t b = 0; b < plan.pieces[parts.emitter].kind->branches.size(); ++b) {
      int const branch = plan.first_branch[parts.emitter] + int(b);
      auto const& run = plan.branches[branch];
      if (run.cells == 0) continue;
      double const flow = now.flow[branch];
      int const in = flow < 0 ? run.outlet : run.inlet, out = flow < 0 ? run.first_cell : outlet_cell(branch);
      z.heat += std::abs(flow) * plan.fluids[branch].heat_capacity * span * (before[in] - before[out] + now.x[in] - now.x[out]) / 2;
    }
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
    b.burns = w.burns_kept, b.ends = w.ends, b.burn_shortest = w.shortest, b.burn_longest = w.longest;
    if (auto sorted = w.burns_kept; !sorted.empty()) {
      std::sort(sorted.begin(), sorted.end());
      auto const n = sorted.size();
      b.burn_median = (double(sorted[(n - 1) / 2]) + double(sorted[n / 2])) / 2;
    }
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
    for (auto& b : p.burners) {
      if (t.piece != b.piece) continue;
      if (b.traits[t.to] & trait::ignites) p.reach_day_of(now.time), b.start(now.time, p.day);
      bool const goes_out = (b.traits[t.from] & trait::burns) && !(b.traits[t.to] & trait::burns);
      if (goes_out && b.burn_since >= 0) b.end_burn(now.time, t.cause, p.options.burns);
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
