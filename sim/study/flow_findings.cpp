#include "sim/study/flow_findings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "sim/study/room_findings.hpp"

namespace steadyfire {
namespace {

/// Limits of velocity [m/s]: noise in a closed heating loop; wear where fresh water always comes in.
struct SpeedLimit { double speed; char const* whose; char const* consequence; };
SpeedLimit speed_limit(EdgeFlow const& e) {
  double constexpr hot = 333.15, foot = 0.3048;  // 140 °F
  char constexpr const* wear = "copper trade handbook, edition not checked";
  if (!e.is_potable) return {4 * foot, "noise; ASHRAE Handbook, edition not checked", "Faster water is noisy and wears the pipe."};
  return {(e.entering > hot ? 3 : 5) * foot, wear, "Faster hot water wears copper pipe."};
}

/// Flow of this many times what is needed is told: heat hardly grows with it, and the return comes back warmer.
double constexpr over_pumped = 2;

}  // namespace

bool is_short_of_flow(ZoneFlow const& z) { return z.got < 0.9 * z.wanted; }

namespace {

/// Electricity of what moves a zone's water [W].
double mover_power(FlowState const& s, Installation const& in, ZoneParts const& zone) {
  if (zone.mover < 0) return 0;
  auto const at =
      std::find_if(s.circulators.begin(), s.circulators.end(), [&](auto const& c) { return c.name == in.pieces[zone.mover].name; });
  return at == s.circulators.end() ? 0 : at->power;
}

void add_zone_findings(ZoneFlow const& z, double setpoint, double power, std::vector<Finding>& list) {
  double const share = z.wanted > 0 ? z.got / z.wanted : 1;
  Amount const flow{z.got, measure::flow}, needed{z.wanted, measure::flow};
  std::vector<Figure> figures{{"flow", z.got, measure::flow},
                              {"flow_share", share, measure::share},
                              {"heat_share", z.heat_share, measure::share},
                              {"room", z.room, measure::temperature}};
  std::erase_if(figures, [](Figure const& f) { return std::isnan(f.value); });  // a zone without a room
  if (is_short_of_flow(z)) {
    double constexpr most_heat = 0.95, much_heat = 0.9;  // what a smaller flow may cost; rule of thumb
    bool const has_room = !std::isnan(z.room), is_fine = has_room && z.heat_share >= most_heat,
               cold = has_room && z.heat_share < much_heat && z.room < setpoint - 0.5;
    auto words = say("flow {}, needs {} ({}).", flow, needed, Amount{share, measure::share});
    if (has_room)
      words += say(" Heat {} of what the needed flow would give; room {} on the design day.", Amount{z.heat_share, measure::share},
                   Amount{z.room, measure::temperature});
    if (is_fine) words += say(" The wider drop of {} may be accepted.", Amount{z.drop, measure::temperature_change});
    list.push_back({.id = "zone.short_of_flow",
                    .place = z.name,
                    .severity = cold      ? Severity::serious
                                : is_fine ? Severity::note
                                          : Severity::minor,
                    .figures = figures,
                    .limit = Figure{"wanted", z.wanted, measure::flow},
                    .whose = "design load and design temperature drop",
                    .words = std::move(words),
                    .order = cold      ? 80 + std::min(15.0, setpoint - z.room)
                             : is_fine ? 9
                                       : 25,
                    .fix = is_fine ? "nothing, unless the return must be warmer."
                                   : "more flow by valve, circulator or pipe size, or warmer water; `steadyfire advise` simulates each."});
  }
  if (share > over_pumped)
    list.push_back({.id = "zone.over_pumped",
                    .place = z.name,
                    .severity = Severity::note,
                    .figures = figures,
                    .limit = Figure{"guideline", over_pumped * z.wanted, measure::flow},
                    .whose = common_practice,
                    .words = say("flow {}, needs {}; guideline {} times the flow needed ({}). The water comes back warmer{}.", flow, needed,
                                 int(over_pumped), common_practice,
                                 power > 0 ? say(", and its circulator takes {}", Amount{power, measure::electric_power})
                                           : Words(", and it is noisy")),
                    .order = 7 + share / (share + 10),
                    .fix = "lower the circulator speed or set a balancing valve; leave it where the boiler needs the flow."});
}

}  // namespace

void add_flow_findings(FlowState const& s, Installation const& in, std::vector<Finding>& list) {
  for (auto const& z : s.zones) {
    auto const parts = std::find_if(in.zones.begin(), in.zones.end(), [&](auto const& p) { return p.name == z.name; });
    add_zone_findings(z, setpoint_of(in, *parts), mover_power(s, in, *parts), list);
  }
  bool const shares_water = in.part(Part::exchanger) < 0;
  if (shares_water && s.zones_flow > 1.02 * s.boiler_flow && s.boiler_flow > 1e-9 && s.system_supply < s.boiler_supply - 0.3)
    list.push_back({.id = "tees.mixing",
                    .place = "tees",
                    .severity = s.boiler_supply - s.system_supply > 5 ? Severity::serious : Severity::minor,
                    .figures = {{"zones_flow", s.zones_flow, measure::flow},
                                {"boiler_flow", s.boiler_flow, measure::flow},
                                {"reaching_zones", s.system_supply, measure::temperature}},
                    .limit = Figure{"boiler_supply", s.boiler_supply, measure::temperature},
                    .whose = common_practice,
                    .words = say("zone flow {} exceeds boiler flow {}. Return water mixes into the supply: {} leaves the boiler, {} "
                                 "reaches the zones.",
                                 Amount{s.zones_flow, measure::flow}, Amount{s.boiler_flow, measure::flow},
                                 Amount{s.boiler_supply, measure::temperature}, Amount{s.system_supply, measure::temperature}),
                    .order = 50 + std::min(20.0, s.boiler_supply - s.system_supply),
                    .fix = "raise the boiler flow or lower the zone flows."});
  for (auto const& e : s.edges) {
    if (!e.velocity) continue;
    auto const limit = speed_limit(e);
    if (*e.velocity > limit.speed)
      list.push_back({.id = "pipe.fast",
                      .place = e.name,
                      .severity = Severity::minor,
                      .figures = {{"velocity", *e.velocity, measure::velocity}},
                      .limit = Figure{"limit", limit.speed, measure::velocity},
                      .whose = limit.whose,
                      .words = say("velocity {}, limit {} ({}). {}", Amount{*e.velocity, measure::velocity},
                                   Amount{limit.speed, measure::velocity}, limit.whose, limit.consequence),
                      .order = 15 + *e.velocity / limit.speed,
                      .fix = "use the next pipe size or less flow."});
    if (e.reynolds && *e.reynolds > 1 && *e.reynolds < 2300 && !e.zone.empty()) {
      auto const zone = std::find_if(s.zones.begin(), s.zones.end(), [&](auto const& z) { return z.name == e.zone; });
      if (zone != s.zones.end() && zone->heat_share < 0.9 && zone->heat_share > 0)
        list.push_back({.id = "pipe.laminar",
                        .place = e.name,
                        .severity = Severity::note,
                        .figures = {{"reynolds", *e.reynolds, measure::count}},
                        .limit = Figure{"limit", 2300, measure::count},
                        .whose = "onset of turbulence",
                        .words = say("laminar flow (Re {}), minimum Re 2300 for turbulence; heat is only {} of what the needed flow would "
                                     "give.",
                                     Amount{*e.reynolds, measure::count}, Amount{zone->heat_share, measure::share}),
                        .order = 8,
                        .fix = "raise the flow."});
    }
  }
}

void add_slow_runs(std::vector<FlowState> const& states, std::vector<Finding>& list) {
  double constexpr limit = 2 * 0.3048;
  for (std::size_t b = 0; !states.empty() && b < states.front().edges.size(); ++b) {
    FlowState const* fastest = nullptr;  // once is enough: what has been carried out is gone
    for (auto const& s : states)
      if (s.edges[b].velocity && (!fastest || *s.edges[b].velocity > *fastest->edges[b].velocity)) fastest = &s;
    if (!fastest) continue;
    auto const& e = fastest->edges[b];
    if (*e.velocity < 1e-3 || *e.velocity >= limit || (e.fall <= 0 && e.is_purgeable)) continue;
    std::vector<Figure> figures{{"velocity", *e.velocity, measure::velocity}};
    if (e.fall > 0) figures.push_back({"fall", e.fall, measure::length});
    auto const with = states.size() > 1 ? fmt::format(" at most, with {} calling", fmt::join(fastest->calls, ", ")) : "";
    char constexpr const* whose = "common practice; ASHRAE Handbook, edition not checked";
    list.push_back({.id = "pipe.slow",
                    .place = e.name,
                    .severity = Severity::note,
                    .figures = std::move(figures),
                    .limit = Figure{"limit", limit, measure::velocity},
                    .whose = whose,
                    .words = say("velocity {}{}, minimum {} ({}). {}", Amount{*e.velocity, measure::velocity}, with,
                                 Amount{limit, measure::velocity}, whose,
                                 e.fall > 0 ? say("Slower water does not carry air down this {} drop.", Amount{e.fall, measure::length})
                                            : "Slower water leaves air in a pipe that has no purge point."),
                    .order = 6,
                    .fix = "smaller pipe, more flow, or a purge point at the top."});
  }
}

void merge_findings(std::vector<Finding>& all, std::vector<Finding> const& of_state, std::string const& calling, std::size_t states) {
  for (auto const& f : of_state) {
    auto same = std::find_if(all.begin(), all.end(), [&](auto const& o) { return o.id == f.id && o.place == f.place; });
    if (same == all.end()) same = all.insert(all.end(), f);
    else if (f.order > same->order) *same = f;
    else continue;
    if (states > 1) same->words += fmt::format(" That is with {} calling.", calling);
  }
}

}  // namespace steadyfire
