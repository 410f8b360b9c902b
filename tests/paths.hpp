#pragma once
/// Where this checkout and its program lie. The paths stand in a source that CMake writes, and in no compiler's option, so that what
/// one checkout has compiled serves another.

#include <string>

namespace steadyfire::paths {

extern char const* const source;   ///< the top of the checkout
extern char const* const program;  ///< the program under test; "" where it is not built

}  // namespace steadyfire::paths

/// A path below the top of the checkout: in_source("/scenarios/two_loops.toml").
inline std::string in_source(std::string const& path = "") { return steadyfire::paths::source + path; }
