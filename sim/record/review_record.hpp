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
  Words subject;        ///< what is judged: "pressure drop to the boiler at full fire"
  Figure actual, limit;
  enum Sense { at_most, at_least } sense = at_most;
  Words whose;          ///< whose limit: a standard, a manual, or common practice
  Words fix;            ///< what to do where it fails, as an instruction
  Severity severity = Severity::serious;  ///< of the finding
  double order = 0;     ///< larger is told first among findings of one severity
  Words consequence{};  ///< what follows where it fails; empty where the limit says it
  bool is_guideline = false;  ///< good practice rather than a limit

  /// A limit that is met to rounding is met.
  bool holds() const;
  /// What stands before the limit: "limit", "minimum" or "guideline".
  std::string_view limit_word() const { return is_guideline ? "guideline" : sense == at_most ? "limit" : "minimum"; }
  /// "flue gas 192 °F, limit 140 °F (common practice, no published source)".
  Words told() const;
};

/// Words, or a number with its unit.
struct ReviewCell {
  Words words;
  double value = 0;
  Measure measure = measure::plain;
  bool is_number = false;
  ReviewCell(Words told) : words{std::move(told)} {}
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
  std::vector<Judgement> judged;        ///< all that was held against a limit, in that order; not told as such
  std::vector<Finding> findings;        ///< what does not
  std::vector<ReviewTable> tables;
  std::vector<Words> sentences;         ///< answers, computed
  std::vector<Words> missing;           ///< what was not checked because the file does not say: "[gas] is not stated"
  std::vector<Words> not_covered;       ///< what this part never checks
  std::vector<Words> reminders;         ///< to look at on site
  std::vector<Words> cautions;

  /// Adds it to what is in order, or to the findings.
  void judge(Judgement);
  void find(Finding, Words fix);
};

struct ReviewRecord {
  std::string title, program_version;
  std::vector<ReviewPart> parts;
  std::vector<Assumption> assumptions;
  std::vector<Words> cautions;

  /// Of all parts, in order of severity and `order`.
  std::vector<Finding> findings() const;
  bool has_serious() const;
};

}  // namespace steadyfire
