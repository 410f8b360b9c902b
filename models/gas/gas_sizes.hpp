#pragma once
/// Gas pipes by the name they are bought under.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace steadyfire {

struct GasPipeSize {
  std::string_view name;
  double bore;  ///< [m]
};

/// "1/2 in steel 40", "3/4 in copper K", "1 in copper L".
///
/// Valid   steel 1/2 to 4 in, copper K and L 1/4 to 2 in; upper and lower case are the same.
/// Errors  0.5 %.
/// Source  ASME B36.10M schedule 40, ASTM B88; what lies beyond 1/2 to 2 in of steel and copper L from memory.
std::optional<GasPipeSize> find_gas_pipe_size(std::string_view name);

/// All sizes of the same material, from the smallest. Empty if there is no such name.
std::vector<GasPipeSize> gas_sizes_beside(std::string_view name);

std::vector<std::string> gas_pipe_size_names();

}  // namespace steadyfire
