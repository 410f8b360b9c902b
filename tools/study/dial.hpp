#pragma once
/// A value of a scenario that `tune` may set, and between what.

#include "tools/study/case.hpp"

namespace steadyfire {

/// Shape   numbers are counted in `unit`, a choice by its place in `parameter.words`.
struct Dial {
  Parameter parameter;
  AnyUnit unit = unit::one;
  double least = 0, most = 0, step = 0;
  double present = 0;     ///< of the scenario as it stands; NaN where several places differ
  bool is_usual = false;  ///< the bounds were not stated: they lie around the present value

  Field const& field() const { return *parameter.turn.field; }
  /// As a scenario states it, without quotes: "97 degF".
  std::string words(double x) const;
  /// As it is printed: "97 °F".
  std::string shown(double x) const;
  /// SI, or the place among the words: just what a reader of `words` finds.
  double in_parameter(double x) const;
};

/// "zone.workshop.reset.cold_supply" or "zone.workshop.reset.cold_supply=80 degF..120 degF", of a choice "ADDRESS=duty,high head".
///
/// Shape   without bounds: water temperatures 30 degF to either side of the present one, outdoor ones 15 degF, differences from 1 degF to
///         twice, an averaging from none to twice, times of day 3 h to either side, other numbers half to twice; all cut to what the
///         field allows.
/// Errors  BadAddress.
Dial read_dial(Case const&, std::string const& words);

/// The addresses that are turned if nobody says which: the points and the averaging of each reset curve that stands in the scenario, else
/// stated supply temperatures, else the boiler's differentials.
std::vector<std::string> usual_dials(Case const&);

/// The scenario with settings at numbers, comments and all.
std::string with_dials(Case const&, std::vector<Dial> const&, std::vector<double> const& at);

}  // namespace steadyfire
