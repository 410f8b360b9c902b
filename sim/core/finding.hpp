#pragma once
/// What the user should know: findings and assumptions, as fields before prose.

#include <optional>
#include <string>
#include <vector>

#include "sim/core/words.hpp"

namespace steadyfire {

/// Whose limit or value it is where the trade holds to it and no document could be named.
inline constexpr char const* common_practice = "common practice, no published source";
/// Whose it is where the user copied it from the maker's manual.
inline constexpr char const* users_manual = "your input, from the manual";

/// A number that a finding rests on.
struct Figure { std::string name; double value; Measure measure; };

/// How much a finding matters, the gravest first.
enum class Severity { serious, minor, note };
/// "serious", "minor" or "note", as files and people have it.
constexpr std::string_view word_for(Severity s) { return s == Severity::serious ? "serious" : s == Severity::minor ? "minor" : "note"; }

/// Something the user should know, with a stable id so that programs can reason on
/// its fields. `words` and `fix` are for people: they are told in the reader's units.
struct Finding {
  std::string id;      ///< "zone.short_of_flow": stable across versions
  std::string place;   ///< the piece or zone it is about
  Severity severity;
  std::vector<Figure> figures;
  std::optional<Figure> limit;
  Words whose;         ///< whose limit: a standard, the manual, or common practice
  Words words;
  double order = 0;    ///< larger is told first: what it does to the rooms
  int piece = -1;      ///< set by the engine: the piece whose finding it is
  Words fix{};         ///< what to do, as an instruction; empty where the words say it
  /// The fix as it stands behind "Fix:", in small letters from its first word on.
  std::string fix_in(UnitSystem) const;
};

/// Findings that differ in place and numbers only, told as one.
struct FindingGroup {
  Finding first;                ///< told in full
  std::vector<Finding> others;
  /// "return main (4.8 ft/s), riser (4.4 ft/s)": each with its first figure, and its limit where that is another; empty where it
  /// stands alone. What the first one's sentence says beside numbers, as which zones call, may not hold of another: that is told
  /// "riser (at worst 4.4 ft/s)".
  Words also() const;
};
/// By severity and `order`, those of one id, severity and fix together, each with a place of its own.
std::vector<FindingGroup> grouped(std::vector<Finding>);

/// By severity, then by `order`.
bool graver(Finding const&, Finding const&);
bool any_serious(std::vector<Finding> const&);

/// A value nobody stated, taken from the middle of a usual range.
struct Assumption {
  std::string place, key;
  double value, least, most;  ///< SI; least = most where no range is known
  Measure measure;
  std::string why;  ///< common practice, or the source
  bool has_range() const { return least < most; }
};

}  // namespace steadyfire
