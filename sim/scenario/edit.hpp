#pragma once
/// Changes of a scenario's text that leave everything else as it stands: comments, order, spacing, line ends.

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// Words as a TOML string, in quotes.
std::string toml_text(std::string const& words);

/// A value in a scenario: the nth table of its key (0 for one that stands once; table "" holds the keys above all tables), then
/// keys inwards. `name` is for a table that is not there yet and needs one.
struct ValuePlace {
  std::string table;
  int index = 0;
  std::vector<std::string> path;
  std::string name{};
};

struct Edit {
  enum class Do { set, add, remove, rename } what;
  ValuePlace at;        ///< `add`, `remove` and `rename` take its table, the last two its index too
  std::string value;    ///< as a user types it; "" takes the key away. The name for `add` and `rename`
  std::optional<int> like{};  ///< the table whose text an added one takes over
};

/// A place that no scenario has, or not this one.
struct BadEdit : std::runtime_error { using std::runtime_error::runtime_error; };

/// The text with the edits, one after another.
///
/// Shape   a value is written by the sort of its field: text in quotes, a number bare; what is no number stands in quotes, so that
///         the reader says what is wrong with it. A key that lacks is added at the end of its table, a table at the end of its kind;
///         inside others, tables are written in braces. A table that goes takes the comment right above it along.
/// Valid   a text that TOML can parse.
/// Errors  BadEdit; toml::parse_error is let out as BadInput.
std::string edited(std::string text, std::vector<Edit> const&, Catalog);

}  // namespace steadyfire
