#pragma once
/// Words of the trade for what a scenario file calls otherwise.

#include <string>
#include <string_view>
#include <vector>

namespace steadyfire {

/// The known word that the trade means by another: "closely spaced tees" by "primary/secondary"; "" where there is none.
/// For hints alone: a file is read with its own words only.
///
/// Shape   letter case, hyphens, slashes, underscores and a plural's s are overlooked; of several known words the first of the table.
std::string meant_by(std::string_view word, std::vector<std::string> const& known);

}  // namespace steadyfire
