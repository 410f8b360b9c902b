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

/// The scenario as TOML text; what nobody stated is "unknown", or has a comment beside it where the file takes no "unknown".
///
/// Shape   closely spaced tees, a circulator a zone, a day halfway between design and mild; candidates a round size smaller and
///         larger, and with half and twice the minimum fire. A slab beside hotter emitters has a mixing valve.
/// Valid   emitters, circulators, copper and gas pipe are sized to the zones' shares of the load, copper below 4 ft/s; sizes of
///         boilers are round and wide apart (common practice, no source).
std::string scenario_of(Document const& answers);

/// What nobody stated: "house", "winter fuel", and what that is.
struct UnknownAnswer {
  std::string whose, key, help;
  /// "house, winter fuel: heating fuel used in a known winter".
  std::string words() const { return key.empty() ? whose : whose + ", " + key + ": " + help; }
};
std::vector<UnknownAnswer> unknowns_of(Document const& answers, UnitSystem);

}  // namespace steadyfire
