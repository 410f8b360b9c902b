#pragma once
/// Which changes mend a house, found by simulating each.

#include <array>

#include "tools/study/advise/remedies.hpp"

namespace steadyfire {

/// One change, or a few together, simulated.
struct Tried {
  std::vector<std::size_t> remedies;           ///< numbers among Advice::remedies
  Judged after;
  std::array<double, subjects> effect{};       ///< trouble that is gone, by subject; 0 where the difference is no more than scatter
  int hardness = 0;                            ///< sum over its changes, each 1 (a setting) to 9 (another boiler)
  Words but{};                                 ///< what gets worse, or ""
  double of(Subject s) const { return effect[std::size_t(s)]; }
  double of_all() const;
  /// Little of it is left, and nothing got worse.
  bool mends(Subject) const;
  bool mends_all() const;
};

struct Advice {
  Judged before;
  std::vector<Remedy> remedies;
  std::vector<Tried> alone, together;
  /// Of the changes made alone, those that help in a subject: what mends it, the easiest first; then by how much goes.
  std::vector<Tried const*> helping(Subject) const;
  /// What could be done, the best first: what mends all, the easiest before the harder; then what takes most away. Nothing that harms.
  std::vector<Tried const*> choices() const;
};

/// Simulates each change that fits the troubles, then the best of each sort and subject in pairs, and in threes if no pair mends all.
/// Pairs that should leave least, had each the effect that it has alone, come first, the easier of those that should leave the same;
/// one that leaves a little is tried with the next size of what helps against it. Where some mend all, the rest is not simulated.
///
/// Shape   `jobs` threads, 0 for each processor one; the same with any number. `progress` hears the share of runs done.
/// Errors  starts of a day of short cycling scatter by 5 % for any reason (sim/README.md): changes of 12 % or less count as none.
///         A change is simulated on the scenario's own days and at design, nowhere else.
Advice advise(Case const&, Judged before, unsigned jobs, std::function<void(double)> const& progress,
              std::function<bool()> const& interrupted);

/// The scenario with some changes. Errors: BadInput, BadEdit where they do not go with it or with each other.
std::string changed_text(Case const&, Advice const&, Tried const&);

}  // namespace steadyfire
