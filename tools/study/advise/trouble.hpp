#pragma once
/// What is wrong with a house in numbers, so that changes of it can be weighed against each other.

#include <map>

#include "sim/record/flows_record.hpp"
#include "tools/study/case.hpp"

namespace steadyfire {

/// One thing that is wrong.
///
/// Shape   `amount` has no unit; about 1 is plainly wrong, and amounts add up:
///           cold_room      K below its setting with all zones calling at design, beyond 0.5 K
///           short_of_flow  half of each tenth of the wanted flow below nine tenths of it
///           many_starts    twice the share by which the most starts in one hour exceed [run] starts_per_hour_limit
///           short_burns    twice the share by which the median burn lacks [run] short_burn, if by more than 2 %
///           too_warm       half of each kelvin-hour a day above its band, beyond 1 K·h a day
///           too_cold       the same below it, once warm: the first quarter of the run, at most a day, does not count
///           other          1 for each other serious finding of `flows` and `run`, by its id
struct Trouble {
  enum class Sort { cold_room, short_of_flow, many_starts, short_burns, too_warm, too_cold, other };
  Sort sort;
  std::string place;   ///< zone, or ""; of `other` also its id
  double amount;
  Words words;
};

/// Troubles that one sort of change is for.
enum class Subject { rooms, cycling, overheating, other };
constexpr int subjects = 4;
Subject subject_of(Trouble::Sort);
/// "Rooms and flows", "Short cycling" …
std::string_view words_of(Subject);

/// A house solved at design with all zones calling, run through its own days, and judged.
struct Judged {
  FlowsRecord flows;
  Record run;
  std::vector<Trouble> troubles;  ///< the weightiest first
  std::map<std::string, double> lack;  ///< [K·s] by zone, of its room below its band once it is warm
  std::string fault;              ///< "" or why there is no answer, in a line
  double total() const;
  double total(Subject) const;
  bool has(Trouble::Sort) const;
};
/// Errors  none: they are told by `fault`; interrupted runs too.
Judged judge(Case const&, std::function<bool()> const& interrupted);

/// The figures in which the troubles of a subject show: "138 starts, 10 in the worst hour, median burn 5.0 min"; `of` says which zones.
std::string in_short(Judged const&, Subject, Judged const& of, UnitSystem);

}  // namespace steadyfire
