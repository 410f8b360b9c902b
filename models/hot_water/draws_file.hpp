#pragma once
/// A family's own list of draws from a table of comma-separated values.

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "models/hot_water/draw.hpp"

namespace steadyfire {

/// Reads draws, one a row, for the taps named.
///
/// Columns, in any order, headed by name and unit: `time` (07:30 or 07:30:15), `flow [gpm]`, `temperature [degF]`,
/// and `volume [gal]` or `duration [min]`; if wanted, `tap` (without it all are at the first) and `day` (1 is the
/// run's first; without it every day is alike). Other columns are left unread.
///
/// Shape   one list for each tap, in order of start; `clock` is the time of day at which the run starts [s]: what
///         would lie before it on day 1 is left out.
/// Errors  BadInput with the first fault of each sort: E301 to E307, E317 to E320.
std::vector<DrawList> read_draws(std::filesystem::path const& file, std::vector<std::string> const& taps, double clock);

/// The same from text; `file` is what messages call it.
std::vector<DrawList> parse_draws(std::string_view text, std::string const& file, std::vector<std::string> const& taps, double clock);

}  // namespace steadyfire
