#pragma once
/// A house piped another way: its scenario changed to another arrangement and distribution, with the parts that these need.

#include "models/house/piping_sections.hpp"
#include "sim/record/flows_record.hpp"
#include "tools/study/case.hpp"

namespace steadyfire {

/// How boiler and zones meet, and what moves the zones' water.
struct Layout {
  enum class Distribution { circulators, zone_valves };
  int arrangement = NearBoilerSection::direct, tank_pipes = NearBoilerSection::two;  ///< pipes of a buffer tank alone
  Distribution distribution = Distribution::circulators;
  bool operator==(Layout const&) const = default;
};

/// "closely spaced tees", "buffer tank, two pipes".
std::string arrangement_name(Layout const&);
/// "circulators", "zone valves".
std::string distribution_name(Layout::Distribution);
/// What a house has now. Zones with valves make its distribution, whatever mixed zones have.
Layout layout_of(Case const&);
/// All that a file can say, the simplest first: direct, tees, separator, buffer tank on two, three, four pipes, plates; each with both
/// distributions.
std::vector<Layout> all_layouts();

/// What other parts are chosen by.
struct PipingNeeds {
  double boiler_flow = 0;      ///< [m³/s] that zones draw hot at their design drops
  double tank_volume = 0;      ///< [m³] of a new buffer tank
};
/// Shape  of the boiler its supply [K] on the design day with every zone calling, and its output [W] at minimum fire.
PipingNeeds needs_of(Case const&, double boiler_supply, double least_output);

/// Water for the burn of [size] against the smallest zone's design load, by the buffer formula and as [buffer] has it otherwise [m³];
/// 0 where the zone takes it all.
double buffer_by_formula(Case const&, double least_output);

/// The edits that make another layout, and the scenario's text with them, or why there is none.
struct Relaid {
  std::vector<Edit> edits;
  std::string text;
  Words reason{};
};

/// Lays a house out another way.
///
/// What the house has for the same work stays while every zone gets at least 0.9 of its flow by it (as zone.short_of_flow has it); what
/// is new is chosen:
///
///   circulators     the smallest generic duty with which each zone that it serves gets its flow, and the boiler's loop the zones' sum,
///                   by solved flows with every zone calling; one for all zones then holds the least whole foot of head that does it
///   zone valves     Cv 5 (middle of the usual range); zones that mix keep their circulators
///   near the boiler the next larger pipe where what all zones need would exceed 4 ft/s in it
///   separator       three bores of that pipe wide, 4 ft high
///   buffer tank     by its formula (models/piping/buffer_size.hpp), the next larger of a row of round sizes; 20 gal where it needs none
///   sensor          behind tees or separator, where a house that was direct does not say
///
/// Circulators with a curve of their own, those inside a boiler, zone pipes and emitters never change. A bypass goes with the circulator
/// that it was set for; one comes where zone valves shut before a circulator inside the boiler. Tables that change a part which the other
/// layout does not have are left out.
///
/// Errors  none: they are told by `reason`.
Relaid lay_out_again(Case const&, Layout const&, PipingNeeds const&);

}  // namespace steadyfire
