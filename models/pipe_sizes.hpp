#pragma once
/// Pipes by the name they are bought under.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/core/diagnostic.hpp"
#include "sim/core/schema.hpp"

namespace steadyfire {

inline constexpr std::array<std::string_view, 6> nominal_sizes{"1/2", "3/4", "1", "1-1/4", "1-1/2", "2"};

/// Metre, W/(m·K), J/(m·K); emissivity of its surface as it is found in a house.
struct PipeSize {
  std::string_view name;
  double inside_diameter, outside_diameter, roughness;
  double wall_conductivity;
  double wall_heat_capacity_per_length;
  double emissivity;
};

/// "3/4 in copper M", "1 in copper L", "1/2 in PEX", "1/2 in PEX min wall", "1-1/4 in steel 40".
///
/// PEX is SDR 9; its bore is that of the mean wall as made, 1 to 2 % below that of the
/// thinnest wall allowed, which "min wall" names (and 5 to 10 % in pressure loss).
///
/// Valid   1/2 to 2 in; upper and lower case are the same.
/// Errors  bore 0.5 % (copper, steel), 2 % (PEX; 3/4 in and above mean wall from memory).
/// Source  ASTM B88 (copper), ASTM F876/F877 (PEX), ASME B36.10M schedule 40 (steel);
///         outside diameters of steel, wall conductivity and heat capacity from memory;
///         emissivity of tarnished copper, oxidised steel and plastic: handbook values, from memory.
std::optional<PipeSize> find_pipe_size(std::string_view name);

/// Every name, for hints.
std::vector<std::string> pipe_size_names();

/// "1 in steel 40" for "1\" black iron", "3/4 in copper M" for "3/4 copper": what a size in the trade's words is among names; "" if none.
std::string pipe_size_meant(std::string_view said, std::vector<std::string> const& names);

/// Adds E221 if a size is stated that is none; `who` opens the message.
void check_pipe_size(Value const& size, std::string const& who, Diagnostics& faults);

}  // namespace steadyfire
