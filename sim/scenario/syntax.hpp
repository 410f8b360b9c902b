#pragma once
/// What a slip in the writing of a file means, in the words of whoever wrote it.

#include <string>
#include <string_view>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {

/// The fault (E105) that stopped the TOML parser at `at`.
///
/// Shape   judged by the text around the place first, as the parser's `words` tell what its grammar
///         wanted, not what the writer meant; where neither is clear the words follow framed.
Diagnostic explain_syntax(std::string_view text, Position at, std::string_view words);

}  // namespace steadyfire
