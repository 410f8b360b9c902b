#pragma once
/// Six questions that are answered at a counter or on the phone, and the scenario that they make.

#include <string>

#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// What the six questions ask: the house, its zones, hot water, cold inlet, gas run and vent run.
/// Shape  sections of a file of its own, `format = 1` above them; all but the floor area may be unknown.
Catalog answers_catalog();

/// One question: its words, and the table of the file that holds its answers.
struct Question { std::string_view words, table; };
inline constexpr Question questions[]{
    {"How big is the house and how tight? Or how much fuel did one winter take?", "house"},
    {"Which zones, and what heats them?", "zone"},
    {"Which hot water taps may run at the same time?", "fixtures"},
    {"How cold is the incoming water in winter?", "cold water"},
    {"How does the gas get to the boiler?", "gas run"},
    {"How does the vent run from the boiler to outdoors?", "vent run"},
};

/// Adds a fault where the house is missing.
void check_answers(Document const&, Diagnostics& faults);

/// The scenario as TOML text, with a comment beside each value that nobody stated.
///
/// Shape   closely spaced tees, a circulator a zone, a day halfway between design and mild; candidates of the usual sizes of
///         heating beside the hot-water side that the fixtures want, with one minimum fire, and one with its own.
/// Valid   emitters are sized to the zone's share of the load; sizes of boilers are common practice, no source.
std::string scenario_of(Document const& answers);

/// What nobody stated, in words: "winter_fuel of [house]".
std::vector<std::string> unknowns_of(Document const& answers, UnitSystem);

}  // namespace steadyfire
