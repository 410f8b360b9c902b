#pragma once
/// Edits as asks bring them.

#include "tools/web/request.hpp"

namespace steadyfire::web {

/// The text with a request's `edits`, if it has any. Errors: BadRequest, for places that no scenario has too; BadInput for a text that
/// TOML cannot parse.
std::string with_edits(Json const& request, std::string const& text);

}  // namespace steadyfire::web
