#pragma once
/// Settings of a scenario tuned for comfort and fuel, over its own run or over spells of its weather.

#include "tools/study/dial.hpp"
#include "tools/study/front_search.hpp"

namespace steadyfire {

/// A run that settings are judged by, and its days in words.
struct Spell {
  Case scenario;
  std::string words;  ///< "7.0 d from day 100"
};
/// The scenario's own run; or `length` days from each of the days; or, with `year`, all of it.
/// Errors  BadInput, BadEdit; BadAddress where the weather has no year.
std::vector<Spell> spells_of(Case const& own, std::vector<int> const& days, double length, bool year);

/// A figure of all spells together: the sum, or the worst of them.
struct TunedFigure {
  std::string key, name;
  Measure measure = measure::plain;
  Better better = Better::lower;
};

struct TuneOptions {
  std::vector<std::string> aims{};  ///< keys of figures; empty is comfort, and cost where the scenario states prices, else energy
  long runs = 600;                  ///< of the search, at each spell
  unsigned seed = 1, jobs = 0;
  double flat = 0.02;  ///< how much worse "as good" may be
  std::function<void(double share)> progress{};
  std::function<void(double seconds)> foretell{};  ///< hears, after the first run, how long all will take
  std::function<bool()> interrupted{};
};

/// What a tuning found. Points are numbers of trials.
struct Tuned {
  std::vector<Dial> settings;
  std::vector<std::string> spells;
  std::vector<TunedFigure> figures;  ///< of each trial's `figures`
  std::vector<std::size_t> aims;     ///< which figures are weighed against each other
  std::vector<std::size_t> guarded;  ///< which must not get worse: the aims, comfort by its two parts
  std::vector<Trial> trials;
  std::size_t present = 0, chosen = 0;  ///< the same where nothing better was found
  std::vector<std::size_t> within;      ///< trials that are no compromise beyond all reason: at most twice the present, or half a degF off
  std::vector<std::size_t> front;       ///< of the aims, in the order of the first
  std::size_t evenest = 0;              ///< the evenest compromise of the front
  std::vector<double> scatter;          ///< of each figure: what a twentieth of a step changes, at the present and the chosen settings
  std::vector<Leeway> leeway;           ///< around the chosen settings, by setting
  long refused = 0;                     ///< points that cannot be, or that bring a serious finding
  std::string refused_why;              ///< the most frequent
  double flat = 0.02;                   ///< how much worse `leeway` lets an aim be
  double boiler_efficiency = 1;         ///< at which heat that stayed stored is counted as fuel
  bool is_better() const { return chosen != present; }
};

/// How much primary energy a kilowatt-hour of electricity stands for, where the scenario states no prices.
/// Source  Directive (EU) 2018/2002, annex IV, footnote 3: 2.1 where a country sets no other; from memory.
inline constexpr double electricity_counts = 2.1;

/// Shape   of all trials that are no worse in any guarded figure it takes the one that gains most in all of them together: each gain is
///         measured as a share of what that figure could gain alone, and the smallest share counts.
/// Errors  BadAddress for aims; BadInput, Stopped where the scenario itself cannot be run; SearchStopped.
/// Source  the rule: E. Kalai, M. Smorodinsky: Other solutions to Nash's bargaining problem, Econometrica 43 (1975) 513.
Tuned tune(std::vector<Spell> const&, std::vector<Dial> const&, TuneOptions const&);

/// Of points by their guarded figures (less is better) the one to take by that rule, or `present`.
std::size_t fairest_gain(std::vector<std::vector<double>> const& merits, std::size_t present);

}  // namespace steadyfire
