#pragma once
/// What a study comes to, from the points in its store.

#include "tools/study/store.hpp"

namespace steadyfire {

/// Influences are ranked by so many points and more for each thing turned (rule of thumb, no source).
constexpr std::size_t points_for_each_rank = 10;

/// Whether the ranks of a column's numbers mean anything: of three words and more they don't.
bool is_ordered(StudyColumn const&);

/// Shape   points that could be simulated become the columns' numbers, by number; the others are counted by their reasons. Influences are
///         ranked where something is turned that has an order, over points at which the figure has a number.
/// Valid   shares of claims lie within their 95 % bounds (Clopper and Pearson 1934, exact for independent draws) for drawn points; both
///         kinds of drawn points fill space more evenly, so that the true bounds are rather narrower. A grid's points are no draws.
StudyRecord result_of(Study const&, Points const&, Store const&, UnitSystem);

/// What it comes to, without the best and worst of each figure.
std::vector<std::string> sentences_of(StudyRecord const&, Study const&);

/// The summary of the terminal.
std::string words_of(StudyRecord const&, UnitSystem);

/// A row a point, all of them, in the units shown; a failed one with its reason.
void write_points(std::ostream&, Study const&, Points const&, Store const&, UnitSystem);

}  // namespace steadyfire
