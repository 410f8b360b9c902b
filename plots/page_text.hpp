#pragma once
/// Text as it may stand in a page or picture.

#include <string>
#include <string_view>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// Text safe between tags and in quoted attributes of HTML and SVG. Control characters
/// that XML forbids become spaces.
std::string escaped(std::string_view text);

/// "degF" → "°F", "Btu/(h.ft2)" → "Btu/(h·ft²)": units as printed.
std::string printed_unit(std::string_view symbol);

/// "158 °F": a number with its printed unit, not escaped.
std::string printed(double si, Measure const&, UnitSystem);

/// "12 300": thousands apart by a no-break space.
std::string counted(size_t);

/// Breaks text into lines of at most `width` characters; what exceeds `most` lines ends in "…".
std::vector<std::string> lines_of(std::string_view text, size_t width, size_t most);

}  // namespace steadyfire
