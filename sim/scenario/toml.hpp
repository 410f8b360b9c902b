#pragma once
/// toml++, and its places as ours.

// toml++ 3.3 promises its compiler things that a bad file breaks (its issue 294: the heading "[&";
// also a key with a µ), though its next lines make a proper error of them. Where it is compiled
// with us, those lines shall speak.
#include <toml++/impl/preprocessor.h>
#undef TOML_ASSERT_ASSUME
#define TOML_ASSERT_ASSUME(condition) static_cast<void>(0)
#undef TOML_UNREACHABLE
#define TOML_UNREACHABLE return {}
#include <toml++/toml.h>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {

/// Where a value, a key or the heading of a table stands.
inline Position position_of(toml::source_region const& s) {
  bool const one_line = s.begin.line == s.end.line && s.end.column > s.begin.column;
  return {int(s.begin.line), int(s.begin.column), one_line ? int(s.end.column - s.begin.column) : 1};
}
inline Position position_of(toml::node const& n) { return position_of(n.source()); }
inline Position position_of(toml::key const& k) { return position_of(k.source()); }

}  // namespace steadyfire
