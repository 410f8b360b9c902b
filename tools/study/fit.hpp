#pragma once
/// Unknowns of a house found from what was logged there.

#include "sim/record/fit_record.hpp"
#include "tools/study/case.hpp"
#include "tools/study/confidence.hpp"
#include "tools/study/log_file.hpp"
#include "tools/study/logged_run.hpp"

namespace steadyfire {

struct FitOptions {
  std::vector<std::string> find{};  ///< addresses; none: the load of each logged room, and the minimum fire where the burner is logged
  double window = 0;                ///< [s] means over it are compared; 0: two of the burner's usual cycles, half an hour to three hours
  double skip = 3 * 3600;           ///< [s] of the log that is not compared: until what nobody knows of its beginning is forgotten
  double lead = 2 * 86400;              ///< [s] that the house lives before the log, by its first day's weather
  double noise = 0.1;               ///< [K] below which no mean over a window is trusted
  unsigned jobs = 0;
};

/// How well the log tells an unknown.
enum class Told { well, roughly, hardly, not_by_this_log, not_apart, at_its_bound };

struct FoundUnknown {
  Parameter parameter;
  double begun = 0, value = 0;   ///< in SI, or a factor
  double least = 0, most = 0;    ///< looked for between
  double low = 0, high = 0;      ///< 95 % interval; NaN where the log does not tell
  Told told = Told::well;
  int twin = -1;                 ///< from which it cannot be told apart
  double correlation = 0;        ///< with that one's error
  std::string words;             ///< how well, and why not
  /// What was found, as a scenario states it at one of its places, to four digits.
  std::string stated(UnitSystem, std::size_t place = 0) const;
};

/// One logged column against the run. SI.
struct FitColumn {
  LogColumn const* column;
  double before = 0, after = 0, worst = 0;  ///< means over windows: root mean square with the scenario as it was, and as found; largest now
  double worst_at = 0;                      ///< [s] of the log
  long windows = 0;
};

struct FitResult {
  std::vector<FoundUnknown> unknowns;
  std::vector<FitColumn> columns;
  double window = 0, length = 0;
  long rows = 0, gaps = 0, runs = 0;
  int rounds = 0, starts = 1;
  double condition = 1, effective = 0;
  Shown before, after;                ///< by row of the log
  std::string reach;  ///< how far run and log differ, one sentence
  std::vector<std::string> words, advice;
};

/// A scenario, its log, and what is looked for.
class HouseFit {
 public:
  /// Errors  BadInput (E391, E392, E394 beside the scenario's own), BadAddress.
  HouseFit(std::string file, std::string text, HouseLog log, FitOptions, UnitSystem);
  HouseFit(HouseFit const&) = delete;

  /// Errors  Stopped where the scenario itself cannot be run; empty where interrupted.
  std::optional<FitResult> solve(RunWatch const&) const;
  /// The scenario's text with what was found; values that the log does not tell stay as they were. Of two that it does not tell apart
  /// both are taken: together they do what was logged.
  std::string text_with(FitResult const&) const;
  HouseLog const& log() const { return log_; }
  std::vector<Parameter> const& unknowns() const { return unknowns_; }
  FitRecord record(FitResult const&) const;

 private:
  struct Asked;
  void tell(FitResult&) const;
  Shown shown_at(Point const&, std::function<bool()> const& interrupted) const;
  void choose_unknowns(std::vector<std::string> const&);
  void lay_windows();

  HouseLog log_;
  FitOptions options_;
  UnitSystem units_;
  Case stated_, case_;             ///< as it stands, and run beside the log
  std::vector<Parameter> unknowns_;
  Point begun_, least_, most_;
  double window_ = 0;
  std::vector<std::vector<int>> window_of_;  ///< by column, by row: −1 is not compared
};

/// The zones of a scenario that have a room: what a log's columns may be called.
std::vector<std::string> rooms_of(Project const&);

}  // namespace steadyfire
