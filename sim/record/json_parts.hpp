#pragma once
/// What the JSON of all records shares.

#include <nlohmann/json.hpp>

#include "sim/core/finding.hpp"

namespace steadyfire {

using Json = nlohmann::ordered_json;

inline double celsius(double kelvin) { return kelvin - 273.15; }

/// The key of a number: words joined by _, then its SI unit; "floor temperature" → "floor_temperature_degC".
std::string json_key(std::string_view words, Measure const&);
/// The suffix alone; "" for fractions and counts.
std::string json_unit(Measure const&);
/// Its value: SI, temperatures in degC.
double json_value(double si, Measure const&);

/// The same for series that are drawn: six significant digits, a millionth at most.
double shown_value(double si, Measure const&);

/// As files hold it: one value a line, but lists of numbers on one; numbers by their shortest digits, null if not finite.
std::string json_text(Json const&);

/// Findings with their words in one system of units; their figures are SI.
Json findings_to_json(std::vector<Finding> const&, UnitSystem);
Json assumptions_to_json(std::vector<Assumption> const&);

}  // namespace steadyfire
