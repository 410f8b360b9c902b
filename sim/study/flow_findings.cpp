#include "sim/study/flow_findings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace steadyfire {
namespace {

UnitSystem constexpr us = UnitSystem::us;

/// Noise and erosion limits of copper by water temperature [m/s].
struct SpeedLimit { double speed; char const* whose; };
SpeedLimit speed_limit(double kelvin) {
  bool const hot = kelvin > 333.15;  // 140 °F
  return hot ? SpeedLimit{4 * 0.3048,
                          "4 ft/s in pipes up to 2 in for noise, ASHRAE (from memory); copper above 140 degF wears from 2 to 3 ft/s on, a "
                          "copper trade handbook says"}
             : SpeedLimit{5 * 0.3048, "5 ft/s up to 140 degF, a copper trade handbook"};
}

}  // namespace

bool is_short_of_flow(ZoneFlow const& z) { return z.got < 0.9 * z.wanted; }

void add_flow_findings(FlowState const& s, Installation const& in, std::vector<Finding>& list) {
  for (auto const& z : s.zones) {
    double const share = z.wanted > 0 ? z.got / z.wanted : 1;
    if (is_short_of_flow(z)) {
      auto const setting = std::find_if(in.zones.begin(), in.zones.end(), [&](auto const& p) { return p.name == z.name; })->design_room;
      bool const has_room = !std::isnan(z.room), cold = has_room && z.room < setting - 0.5;
      list.push_back(
          {"zone.short_of_flow",
           z.name,
           cold ? Severity::serious : Severity::minor,
           {{"flow", z.got, measure::flow},
            {"flow_share", share, measure::share},
            {"heat_share", z.heat_share, measure::share},
            {"room", z.room, measure::temperature}},
           Figure{"wanted", z.wanted, measure::flow},
           "design load over design drop",
           fmt::format("gets {} of {} wanted, {:.0f} % of the flow", show(z.got, measure::flow, us), show(z.wanted, measure::flow, us),
                       100 * share) +
               (has_room ? fmt::format("; that is {:.0f} % of the heat, and on a design day the room {} {}", 100 * z.heat_share,
                                       cold ? "sinks to" : "can still reach", show(z.room, measure::temperature, us))
                         : ""),
           cold ? 80 + std::min(15.0, setting - z.room) : 25});
    }
  }
  bool const shares_water = in.find("exchanger") < 0;
  if (shares_water && s.zones_flow > 1.02 * s.boiler_flow && s.boiler_flow > 1e-9 && s.system_supply < s.boiler_supply - 0.3)
    list.push_back(
        {"tees.mixing",
         "tees",
         s.boiler_supply - s.system_supply > 5 ? Severity::serious : Severity::minor,
         {{"zones_flow", s.zones_flow, measure::flow},
          {"boiler_flow", s.boiler_flow, measure::flow},
          {"reaching_zones", s.system_supply, measure::temperature}},
         Figure{"boiler_supply", s.boiler_supply, measure::temperature},
         common_practice,
         fmt::format("the zones move {} and the boiler only {}: return water mixes in, and of {} at the boiler {} reaches the zones",
                     show(s.zones_flow, measure::flow, us), show(s.boiler_flow, measure::flow, us),
                     show(s.boiler_supply, measure::temperature, us), show(s.system_supply, measure::temperature, us)),
         50 + std::min(20.0, s.boiler_supply - s.system_supply)});
  double const water = in.zones.empty() ? in.fluid_temperature : s.boiler_supply;
  for (auto const& e : s.edges) {
    if (!e.velocity) continue;
    auto const limit = speed_limit(water);
    if (*e.velocity > limit.speed)
      list.push_back({"pipe.fast",
                      e.name,
                      Severity::minor,
                      {{"velocity", *e.velocity, measure::velocity}},
                      Figure{"limit", limit.speed, measure::velocity},
                      limit.whose,
                      fmt::format("runs at {}: above {} it is heard, and in time it wears the wall",
                                  show(*e.velocity, measure::velocity, us), show(limit.speed, measure::velocity, us)),
                      15 + *e.velocity / limit.speed});
    if (e.reynolds && *e.reynolds > 1 && *e.reynolds < 2300 && !e.zone.empty()) {
      auto const zone = std::find_if(s.zones.begin(), s.zones.end(), [&](auto const& z) { return z.name == e.zone; });
      if (zone != s.zones.end() && zone->heat_share < 0.9 && zone->heat_share > 0)
        list.push_back(
            {"pipe.laminar",
             e.name,
             Severity::note,
             {{"reynolds", *e.reynolds, measure::count}},
             Figure{"limit", 2300, measure::count},
             "Re 2300, onset of turbulence",
             fmt::format("runs laminar (Re {:.0f}) where its zone gives only {:.0f} % of its heat", *e.reynolds, 100 * zone->heat_share),
             8});
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
    auto const with = states.size() > 1 ? fmt::format(" with {} calling, and slower otherwise", fmt::join(fastest->calls, ", ")) : "";
    std::vector<Figure> figures{{"velocity", *e.velocity, measure::velocity}};
    if (e.fall > 0) figures.push_back({"fall", e.fall, measure::length});
    list.push_back({"pipe.slow", e.name, Severity::note, std::move(figures), Figure{"limit", limit, measure::velocity},
                    "2 ft/s carries air down a pipe: common practice; ASHRAE (from memory)",
                    fmt::format("runs at {}{}: below {} {}", show(*e.velocity, measure::velocity, us), with,
                                show(limit, measure::velocity, us),
                                e.fall > 0 ? fmt::format("air is not carried down its {} of drop", show(e.fall, measure::length, us))
                                           : "air stays in a run that cannot be purged"),
                    6});
  }
}

void merge_findings(std::vector<Finding>& all, std::vector<Finding> const& of_state, std::vector<std::string> const& calls,
                    std::size_t states) {
  for (auto f : of_state) {
    if (states > 1) f.words += fmt::format(" (with {} calling)", fmt::join(calls, ", "));
    auto const same = std::find_if(all.begin(), all.end(), [&](auto const& o) { return o.id == f.id && o.place == f.place; });
    if (same == all.end()) all.push_back(std::move(f));
    else if (f.order > same->order) *same = std::move(f);
  }
}

}  // namespace steadyfire
