#pragma once
/// The points of a study, by number.

#include "tools/study/axis.hpp"

namespace steadyfire {

enum class PointSort { full_grid, latin_hypercube, sobol };
/// "full grid".
char const* word_for(PointSort);

class Points {
public:
  /// Shape   of a grid the last axis turns fastest; `count` and `seed` are for the others. Sobol is the sequence without its first point,
  ///         which is 0 in every dimension; it knows no seed.
  /// Source  direction numbers of Joe and Kuo 2008, as Boost.Random has them.
  Points(PointSort, std::vector<Axis>, std::size_t count, unsigned seed);

  std::size_t size() const { return size_; }
  /// A number for each axis.
  std::vector<double> at(std::size_t number) const;

private:
  std::vector<Axis> axes_;
  std::size_t size_;
  std::vector<double> unit_;  ///< empty of a grid
};

/// Valid  every axis a list of values; 1e18 and more is told as 1e18.
double grid_size(std::vector<Axis> const&);

}  // namespace steadyfire
