#pragma once
/// What the user should know: findings and assumptions, as fields before prose.

#include <optional>
#include <string>
#include <vector>

#include "sim/core/measure.hpp"

namespace steadyfire {

/// Whose limit or value it is where the trade holds to it and no document could be named.
inline constexpr char const* common_practice = "common practice, no source";
/// Whose it is where the user copied it from the maker's manual.
inline constexpr char const* users_manual = "the manual (your input)";

/// A number that a finding rests on.
struct Figure { std::string name; double value; Measure measure; };

/// Something the user should know, with a stable id so that programs can reason on
/// its fields. `words` are for people, made from the same figures.
struct Finding {
  std::string id;      ///< "zone.short_of_flow": stable across versions
  std::string place;   ///< the piece or zone it is about
  std::string weight;  ///< "serious", "minor" or "note"
  std::vector<Figure> figures;
  std::optional<Figure> limit;
  std::string whose;   ///< whose limit: a standard, or "common practice, no source"
  std::string words;
  double order = 0;    ///< larger is told first: what it does to the rooms
  int piece = -1;      ///< set by the engine: the piece whose finding it is
  std::string remedy{};  ///< what would mend it; empty where the words say it
};

/// A value nobody stated, taken from the middle of a usual range.
struct Assumption {
  std::string place, key;
  double value, least, most;  ///< SI; least = most where no range is known
  Measure measure;
  std::string why;  ///< "common practice, no source", or the source
  bool has_range() const { return least < most; }
};

}  // namespace steadyfire
