#pragma once
/// Reads one value of the file for one field: type, unit, range. Every fault is told
/// with its place; a value with a fault stays empty.

#include <optional>

#include "sim/component/kind.hpp"
#include "sim/scenario/toml.hpp"

namespace steadyfire {

/// What every reader of a part is handed: where faults go and whose table it is.
struct Scope {
  Catalog catalog;
  Diagnostics& faults;
  std::string who;  ///< "circulator 'P1'"

  void fault(char const* code, Position at, std::string const& words, std::string expected, std::string hint = "",
             Position other = {}) const {
    faults.add({code, at, who + ": " + words, std::move(expected), std::move(hint), other, {}});
  }
  /// A key that the table at a place must have, and has not.
  void missing(std::string const& key, Position at, std::string expected, std::string hint) const {
    faults.add({"E205", at, who + ": '" + key + "' is missing", std::move(expected), std::move(hint), {}, {}, key});
  }
};

Value read_value(Field const&, toml::node const&, Scope const&);

/// What a key that does not stand in the file means: its standard, or nothing. `table` is
/// where the table stands: rules over several fields need a place to point at.
Value absent_value(Field const&, Position table);

/// A finite number, or a fault.
std::optional<double> read_number(std::string const& key, toml::node const&, Scope const&);

/// {0, c0, …} or {1, x0, y0, …} in SI, as Curve::from takes them; empty with a fault.
std::vector<double> read_curve(Field const&, toml::node const&, Scope const&);

/// "a flow with its unit, as \"8 gpm\"", "one of: a, b" …: what a field wants.
std::string wanted(Field const&);
/// The same with the kinds that may stand in a nested table.
std::string wanted(Field const&, Catalog);

/// "0 to 100 %", in the field's unit or another.
std::string range_text(Field const&, AnyUnit const&);
/// A number of the field's declaration in another unit of its dimension, without it.
std::string number_in(AnyUnit const&, Field const&, double declared);

/// "22:30".
std::string clock_text(double hours);

/// "a whole number", "a list": what a value of the file is.
std::string type_text(toml::node const&);

/// Kinds and choices may be written with _ or with a space.
bool same_word(std::string_view, std::string_view);

/// "did you mean 'speed'?", "write 'circulator'" for what the trade calls otherwise, or "".
std::string did_you_mean(std::string_view word, std::vector<std::string> const& known);

/// "an emitter".
std::string with_article(std::string const& noun);

/// What the user wrote, in quotes and not too long.
std::string in_quotes(std::string_view);

}  // namespace steadyfire
