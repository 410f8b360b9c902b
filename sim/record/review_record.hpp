#pragma once
/// What a review of the whole job leaves behind: per subject what was computed, what holds,
/// what does not, and what nobody looked at. Plain data, SI.

#include <string>
#include <vector>

#include "sim/core/finding.hpp"

namespace steadyfire {

/// A number held against its limit.
struct Judgement {
  std::string id;       ///< of the finding it becomes when it fails, "gas.over_allowance"
  std::string place;    ///< the piece it is about: "line to the boiler"
  std::string subject;  ///< what is judged, in words: "pressure drop to the boiler at full fire"
  Figure actual, limit;
  enum Sense { at_most, at_least } sense = at_most;
  std::string whose;    ///< whose limit: a standard, a manual, or "common practice, no source"
  std::string remedy;   ///< what would mend it
  std::string weight = "serious";  ///< of the finding: "serious", "minor" or "note"
  double order = 0;     ///< larger is told first among findings of one weight

  /// A limit that is met to rounding is met.
  bool holds() const;
};

/// Words, or a number with its unit.
struct ReviewCell {
  std::string words;
  double value = 0;
  Measure measure = measure::plain;
  bool is_number = false;
  ReviewCell(std::string text) : words{std::move(text)} {}
  ReviewCell(char const* text) : words{text} {}
  ReviewCell(double si, Measure const& m) : value{si}, measure{m}, is_number{true} {}
  std::string shown(UnitSystem) const;
};
struct ReviewTable {
  std::string id, title;                ///< id for programs: "gas_pipes"
  std::vector<std::string> columns;     ///< one for each cell of a row
  std::vector<std::vector<ReviewCell>> rows;
};

/// One subject of the review: gas, vent, water side …
struct ReviewPart {
  std::string id, title;                ///< "gas", "Gas piping"
  std::vector<Judgement> in_order;      ///< what holds
  std::vector<Finding> findings;        ///< what does not
  std::vector<ReviewTable> tables;
  std::vector<std::string> sentences;   ///< answers in words, computed
  std::vector<std::string> missing;     ///< what was not checked because the file does not say: "[gas] is not stated"
  std::vector<std::string> not_covered; ///< what this part never checks
  std::vector<std::string> reminders;   ///< to look at on site
  std::vector<std::string> cautions;

  /// Adds it to what is in order, or to the findings, with its numbers in words.
  void judge(Judgement, UnitSystem);
  void find(Finding, std::string remedy);
};

struct ReviewRecord {
  std::string title, program_version;
  std::vector<ReviewPart> parts;
  std::vector<Assumption> assumptions;
  std::vector<std::string> cautions;

  /// Of all parts, in order of weight and `order`.
  std::vector<Finding> findings() const;
  bool has_serious() const;
};

}  // namespace steadyfire
