#include "sim/study/room_findings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace steadyfire {
namespace {

double constexpr hour = 3600;

/// The warmest water that the trade gives to an emitter of this kind [K]; infinite where it says nothing.
double warmest_water(Installation const& in, ZoneParts const& zone) {
  auto const& usual = in.pieces[zone.emitter].kind->usual;
  return usual ? unit::degF.scale * usual->high + unit::degF.offset : 1e30;
}

/// What a fitter would do about heat that does not reach the load, and the cause it tells.
struct Shortage {
  Words cause, fix;
};
Shortage shortage(Installation const& in, ZoneParts const& zone, double heat, double load, double supply, double lift) {
  if (heat >= load)
    return {say("its emitter gives {} for its own load of {}, but colder rooms beside it take the rest", Amount{heat, measure::power},
                Amount{load, measure::power}),
            "insulate the wall or floor between, or size this emitter for that loss as well."};
  double constexpr next_to_nothing = 0.01;  // of the load
  Words cause = say("with {} supply its emitter gives {}; the room needs {} then", Amount{supply, measure::temperature},
                    Amount{heat, measure::power}, Amount{load, measure::power});
  if (heat > next_to_nothing * load) cause += say(", {} more", Amount{load / heat - 1, measure::share});
  if (!(lift > 0) || supply + lift > warmest_water(in, zone))
    return {std::move(cause),
            "the emitter is too small for this load: add that much of it; hotter water alone is not usual for this kind."};
  bool const is_fixed = zone.reset >= 0 && number_of(in.pieces[zone.reset], FieldRole::cold_supply, 0) ==
                                               number_of(in.pieces[zone.reset], FieldRole::mild_supply, 1);
  return {std::move(cause),
          say("{} by about {}{}; or more emitter.", is_fixed ? "lift the supply temperature" : "lift the reset curve there",
              Amount{lift, measure::temperature_change}, in.zones.size() > 1 ? ", if the other zones on this water allow it" : "")};
}

Shortage why_too_cold(ZoneRecord const& z, ZoneParts const& zone, Installation const& in) {
  auto const& o = z.cold;
  double const load = z.design_load * (z.setting - o.outdoors) / (zone.design_room - in.outdoor_design);
  if (o.waiting > 0.3)
    return {say("hot water was being made, with priority, in {} of that time", Amount{o.waiting, measure::share}),
            "a larger hot water input, a storage tank, or a limit on the time that heating waits."};
  if (o.calling < 0.5)
    return {say("its thermostat called in only {} of that time", Amount{o.calling, measure::share}),
            "find what holds the call back: warm-weather shutdown, a floor limit, a wide differential, or setback."};
  if (o.flow < 0.01 && !(o.heat > 0.01 * load))
    return {"hardly any water flowed through its emitter while it called",
            "find what holds the water back: circulator, valve, air, or a flow check that stronger circulators keep shut."};
  if (o.flow < 0.8 && o.flow > 0)
    return {say("flow was {} of what it needs while it called", Amount{o.flow, measure::share}),
            "raise its flow; `steadyfire advise` simulates how."};
  double const mean_water = o.water > 0 ? o.water : z.setting;
  double const lift = o.heat > 0 && load > o.heat ? (load / o.heat - 1) * (mean_water - z.setting) : 0;
  if (!(load > o.heat))
    return {"its emitter gave what the room needs then, but the room was cold before", "start earlier, or set back less."};
  return shortage(in, zone, o.heat, load, mean_water, lift);
}

Shortage why_too_warm(ZoneRecord const& z, ZoneParts const& zone, Installation const& in, Record const& r) {
  auto const& o = z.warm;
  double all_loads = 0;
  for (auto const& other : r.zones) all_loads += other.design_load;
  bool const is_floor = zone.emitter >= 0 && in.pieces[zone.emitter].kind->is_floor;
  Amount const gains{o.gains, measure::power};
  if (o.calling > 0.5)
    return {say("it called in {} of that time", Amount{o.calling, measure::share}),
            "look at its thermostat: setpoint, differential, floor limit, place."};
  if (o.idle_flow > 0.05)
    return {say("water went on flowing through it, {} of the flow needed, though it did not call", Amount{o.idle_flow, measure::share}),
            "a zone valve that closes, or a flow check if nothing but rising warm water drives it."};
  if (o.gains > 0.05 * all_loads && is_floor)
    return {say("sun and people give {} while the floor is still warm", gains),
            "a cooler floor before the gains come: lower the reset curve (`steadyfire tune`), a lower setpoint beforehand, shading."};
  if (o.gains > 0.05 * all_loads)
    return {say("sun and people give {}; the heating is off", gains), "shading or ventilation; no heating control takes that heat away."};
  if (o.outdoors > z.setting - 5)
    return {say("it is {} outdoors on average then; the heating is off", Amount{o.outdoors, measure::temperature}),
            "warm-weather shutdown, shading or ventilation."};
  if (is_floor)
    return {"the floor goes on giving heat after the call has ended",
            "cooler water: lower the reset curve (`steadyfire tune`), or a proportioning thermostat."};
  return {"its water goes on giving heat after the call has ended", "lower the supply temperature; fewer cycles per hour."};
}

void add_off_setpoint(ZoneRecord const& z, OffSetpoint const& o, bool is_cold, Shortage why, double clock, std::vector<Finding>& list) {
  double constexpr least_time = hour, serious_time = 2 * hour, serious_by = 2;  // [s], [s], [K]: rule of thumb
  if (o.time < least_time) return;
  double const by = std::abs(o.worst - z.setting);
  bool const is_serious = by > serious_by && o.time > serious_time;
  list.push_back(
      {.id = is_cold ? "room.too_cold" : "room.too_warm",
       .place = z.name,
       .severity = is_serious ? Severity::serious : Severity::minor,
       .figures = {{"room", o.worst, measure::fine_temperature}, {"time", o.time, measure::hours}},
       .limit = Figure{"setpoint", z.setting, measure::fine_temperature},
       .whose = "your input",
       .words = say("{} {}, setpoint {}; more than {} {} it for {}, {} {}. Cause: {}.", Amount{o.worst, measure::fine_temperature},
                    is_cold ? "at its coldest" : "at its warmest", Amount{z.setting, measure::fine_temperature},
                    Amount{off_setpoint, measure::fine_temperature_change}, is_cold ? "below" : "above", Amount{o.time, measure::hours},
                    "worst", occasion(o.worst_at, clock, o.worst_outdoors), why.cause),
       .order = (is_serious ? 78 : 30) + std::min(15.0, by),
       .fix = std::move(why.fix)});
}

}  // namespace

Words occasion(double time, double clock, double outdoors) {
  double const since = clock + time;
  int const minutes = int(std::fmod(since, 24 * hour) / 60);
  return say("on day {} at {}, {} outdoors", int(since / (24 * hour)) + 1, fmt::format("{:02}:{:02}", minutes / 60, minutes % 60),
             Amount{outdoors, measure::temperature});
}

void tell_mixing_first(Installation const& in, std::vector<Finding>& findings) {
  auto const design_water = [&](ZoneParts const& z) { return z.reset >= 0 ? number_of(in.pieces[z.reset], FieldRole::cold_supply, 0) : 0; };
  for (auto& f : findings) {
    for (auto const& z : in.zones) {
      if (z.emitter < 0 || z.mixing >= 0 || in.pieces[z.emitter].name != f.place || !in.pieces[z.emitter].kind->is_floor) continue;
      double constexpr hotter = 10;  // [K]
      for (auto const& other : in.zones)
        if (&other != &z && design_water(other) > design_water(z) + hotter) {
          f.fix = say("give this zone a mixing valve: the {} zone calls for hotter water, and the floor takes it unmixed.", other.name);
          break;
        }
    }
  }
}

double setpoint_of(Installation const& in, ZoneParts const& zone) {
  if (zone.held_at > 0) return zone.held_at;
  if (zone.thermostat < 0) return zone.design_room;
  return std::max(zone.design_room, number_of(in.pieces[zone.thermostat], FieldRole::setting, zone.design_room));
}

std::vector<Finding> room_findings(Record const& r, Installation const& in, double clock) {
  double constexpr long_recovery = 2 * hour, too_long_recovery = 5 * hour, long_call = 8 * hour, mild = 5;  // [K] above design
  std::vector<Finding> list;
  for (auto const& z : r.zones) {
    auto const* zone = in.zone(z.name);
    if (!zone || zone->room < 0 || std::isnan(z.setting)) continue;
    add_off_setpoint(z, z.cold, true, why_too_cold(z, *zone, in), clock, list);
    add_off_setpoint(z, z.warm, false, why_too_warm(z, *zone, in, r), clock, list);
    bool const is_floor = in.pieces[zone->emitter].kind->is_floor;
    if (z.recovery > long_recovery || !z.recovers)
      list.push_back(
          {.id = "room.slow_recovery",
           .place = z.name,
           .severity = !z.recovers || z.recovery > too_long_recovery ? Severity::minor : Severity::note,
           .figures = {{"recovery", z.recovery, measure::hours}, {"from", z.recovery_from, measure::fine_temperature}},
           .limit = Figure{"guideline", long_recovery, measure::hours},
           .whose = common_practice,
           .words = z.recovers ? say("recovery from setback takes up to {}, from {} to {}; guideline {} ({}).",
                                     Amount{z.recovery, measure::hours}, Amount{z.recovery_from, measure::fine_temperature},
                                     Amount{z.setting, measure::fine_temperature}, Amount{long_recovery, measure::hours}, common_practice)
                               : say("not back at {} from {} before the next setback: {} were not enough.",
                                     Amount{z.setting, measure::fine_temperature}, Amount{z.recovery_from, measure::fine_temperature},
                                     Amount{z.recovery, measure::hours}),
           .order = 22,
           .fix = is_floor ? "leave the setback out or make it small: a slab takes hours to come back."
                           : "set back less, start earlier, or lift the water temperature in the morning."});
    bool const is_cold = z.cold.time >= hour;
    if (!is_cold && z.longest_call > long_call && r.weather.mean > in.outdoor_design + mild && z.recovery < z.longest_call)
      list.push_back(
          {.id = "zone.calls_without_end",
           .place = z.name,
           .severity = Severity::note,
           .figures = {{"longest_call", z.longest_call, measure::hours}, {"room", z.room_min, measure::fine_temperature}},
           .limit = Figure{"guideline", long_call, measure::hours},
           .whose = common_practice,
           .words = say("called for {} without a break at {} outdoors on average; its room stayed at {} or more, but no heat is in "
                        "reserve for a colder day at this water temperature.",
                        Amount{z.longest_call, measure::hours}, Amount{r.weather.mean, measure::temperature},
                        Amount{z.room_min, measure::fine_temperature}),
           .order = 12,
           .fix = "where the reset curve is meant to run so, leave it; else lift it by a few degrees."});
  }
  return list;
}

void add_room_findings(FlowsRecord& record, Installation const& in, std::vector<ZoneFlow> const& warmer, double lift) {
  double constexpr allowed = 0.5, serious_by = 1, reserve_wanted = 0.02;  // [K], [K], share
  for (auto const& zone : in.zones) {
    if (zone.room < 0) continue;
    double const setpoint = setpoint_of(in, zone);
    double const of_design_load = (setpoint - in.outdoor_design) / (zone.design_room - in.outdoor_design);
    auto const load_of = [&](ZoneFlow const& z) { return z.design_load * of_design_load; };
    FlowState const* worst_state = nullptr;
    ZoneFlow const *worst = nullptr, *alone = nullptr;
    for (auto const& s : record.states)
      for (auto const& z : s.zones) {
        if (z.name != zone.name || std::isnan(z.heat)) continue;
        if (s.zones.size() == 1) alone = &z;
        // Rooms beside it that do not call take more than its load: no day is like that for long.
        if (s.zones.size() < in.zones.size() && z.heat >= load_of(z)) continue;
        if (!worst || z.room < worst->room - 1e-6 || (z.room < worst->room + 1e-6 && s.zones.size() > worst_state->zones.size()))
          worst = &z, worst_state = &s;
      }
    if (!worst || !(worst->heat > 0) || !(worst->heat_share > 0)) continue;
    double const by = setpoint - worst->room, at_right_flow = worst->heat / worst->heat_share, load = load_of(*worst);
    double const reserve = worst->heat / load - 1;
    bool const by_flow = worst->got < 0.9 * worst->wanted && at_right_flow > load;
    if (by_flow) continue;  // told as that
    if (by > allowed) {
      double needed = 0;
      for (auto const& w : warmer)
        if (w.name == zone.name && w.heat > worst->heat + 1) needed = lift * (load - worst->heat) / (w.heat - worst->heat);
      auto why = shortage(in, zone, worst->heat, load, worst->supply, needed);
      // Where zones draw more than the boiler's loop moves, their own return water cools what reaches them.
      double constexpr felt = 3;  // [K]
      double const mixed_away = zone.mixing < 0 ? worst_state->boiler_supply - worst->supply : 0;
      if (mixed_away > felt && mixed_away > needed / 2) {
        why.cause +=
            say("; {} leaves the boiler, but return water mixes in on the way", Amount{worst_state->boiler_supply, measure::temperature});
        why.fix = "more flow through the boiler or less through the zones, so that the boiler's own water reaches them; then look again.";
      }
      auto words = say("{} on the design day, setpoint {}: {}.", Amount{worst->room, measure::temperature},
                       Amount{setpoint, measure::temperature}, why.cause);
      if (record.states.size() > 1) words += say(" That is with {} calling.", worst_state->calling);
      if (alone && alone != worst && alone->room > setpoint - allowed) words += say(" It works when it calls alone.");
      record.findings.push_back({.id = "room.too_cold",
                                 .place = zone.name,
                                 .severity = by > serious_by ? Severity::serious : Severity::minor,
                                 .figures = {{"room", worst->room, measure::temperature}, {"reserve_share", reserve, measure::share}},
                                 .limit = Figure{"setpoint", setpoint, measure::temperature},
                                 .whose = "your input",
                                 .words = std::move(words),
                                 .order = (by > serious_by ? 80 : 32) + std::min(15.0, by),
                                 .fix = std::move(why.fix)});
    } else if (reserve < reserve_wanted && worst_state->zones.size() == in.zones.size()) {
      record.findings.push_back(
          {.id = "zone.calls_without_end",
           .place = zone.name,
           .severity = Severity::note,
           .figures = {{"reserve_share", reserve, measure::share}, {"room", worst->room, measure::temperature}},
           .limit = Figure{"least_share", reserve_wanted, measure::share},
           .whose = common_practice,
           .words = say("calls without a break on the design day: its emitter gives {} there for a load of {}, no reserve "
                        "for wind or a cold morning.",
                        Amount{worst->heat, measure::power}, Amount{load, measure::power}),
           .order = 11,
           .fix = "leave it where the reset curve is meant to be that close; else lift the curve a little."});
    }
  }
}

}  // namespace steadyfire
