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

/// "158 °F": a number that no line break parts from its unit, not escaped.
std::string printed(double si, Measure const&, UnitSystem);

/// "Supply": with a capital first letter.
std::string begun_large(std::string words);

/// "12 300": thousands apart by a no-break space.
std::string counted(size_t);

/// Breaks text into lines of at most `width` characters; what exceeds `most` lines ends in "…".
std::vector<std::string> lines_of(std::string_view text, size_t width, size_t most);

}  // namespace steadyfire
