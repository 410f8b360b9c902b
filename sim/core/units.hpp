#pragma once
/// What users write: "8 gpm", "140 degF", "0.5 inH2O". Parsed by UDUNITS over a unit
/// system of our own, which knows the trade's units.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

struct WrittenQuantity {
  double si;
  std::string number, symbol;  ///< as written
};

enum class UnitFault { none, no_number, no_unit, unknown_unit, wrong_dimension };

/// Parses "12.5 kBtu/h" for a field of the given dimension.
///
/// A temperature point and a temperature difference are told apart by `wanted.point`.
/// Errors  told by `fault`; the value is empty then.
std::optional<WrittenQuantity> parse_quantity(std::string_view text, Dimension wanted, UnitFault& fault);

/// [SI per unit, offset] of a unit expression alone, for tables whose unit stands apart.
std::optional<AnyUnit> parse_unit(std::string_view symbol, Dimension wanted);

/// The unit behind the number in "8 gpm", whatever its dimension: for saying what a
/// wrong one is.
std::optional<AnyUnit> unit_in(std::string_view text);

/// How to write a quantity, or a unit alone, that is not understood; or "".
std::string unit_hint(std::string_view text, Dimension wanted);

/// "a flow": a dimension in words.
std::string word_for(Dimension);

/// Two or three spellings that fit a dimension, US first: "gpm, L/s, m3/h".
std::string usual_units(Dimension);

/// Those of them in one system; what belongs to neither, as times do, is in both.
std::vector<std::string> usual_units(Dimension, UnitSystem);

/// The same as prose has them: "gpm, L/s, m³/h", "L/s, m³/h". Each is read back as it is printed.
std::string printed_units(Dimension);
std::string printed_units(Dimension, UnitSystem);

}  // namespace steadyfire
