#pragma once
/// What stands in a scenario's text, table by table.

#include "tools/web/request.hpp"

namespace steadyfire::web {

/// As `WrittenTable[]` in interface.ts; empty for a text that TOML cannot parse.
Json written_json(std::string const& text);

/// "bath / emitter / output" → value, for each value that stands in the text, in its order.
std::vector<std::pair<std::string, std::string>> written_values(std::string const& text);

}  // namespace steadyfire::web
