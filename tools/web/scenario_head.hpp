#pragma once
/// What a list of files tells of a scenario, without reading it whole.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace steadyfire::web {

/// "" for a file with a slip in it; none for TOML that is no scenario: of other programs, answers of the counter, readings.
std::optional<std::string> title_of_scenario(std::string_view text);

/// What stands under `file` in it: weather and draws beside it. Nothing for a text with a slip in it.
std::vector<std::string> files_named(std::string_view text);

}  // namespace steadyfire::web
