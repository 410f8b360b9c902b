#pragma once
/// What OpenTURNS does for studies: points in the unit cube, and how one thing ranks with another.
///
/// The library takes 45 ms to load, so it stands in a module of its own beside the program (tools/points_module), loaded when first asked.

#include <cstddef>
#include <string>
#include <vector>

namespace steadyfire {

/// A Latin hypercube: `count` points of `dimensions` numbers each in [0, 1), point by point.
///
/// Shape   in each dimension one point in each of `count` equal strata, at a random place within it, by the seed.
/// Errors  BadInput where the module is not there; InternalError with the library's words.
std::vector<double> latin_hypercube(std::size_t count, std::size_t dimensions, unsigned seed);

struct RankInfluence {
  double correlation = 0;  ///< Spearman's, −1 … 1
  double share = 0;        ///< of the variance of the output's ranks, by a linear model of all inputs' ranks; 0 … 1
};

/// How each input ranks with an output; `inputs` row by row, as long as `output` times their number.
///
/// Shape   NaN where an input or the output is the same in all rows.
/// Valid   more rows than inputs. A share is the input's standardised rank regression coefficient times its correlation, so that shares add
///         up to what the model explains also where drawn inputs hang on each other a little (a share below 0 is told as 0).
/// Source  the product measure of relative importance, Pratt 1987 (from memory).
/// Errors  as latin_hypercube.
std::vector<RankInfluence> rank_influences(std::vector<double> const& inputs, std::vector<double> const& output);

/// The module's own functions, by their names in it: a fault is told in `words`, and they then return false.
extern "C" {
using SteadyfireLatinHypercube = bool(std::size_t count, std::size_t dimensions, unsigned seed, double* points, std::string* words);
using SteadyfireRankInfluences = bool(std::size_t rows, std::size_t inputs, double const* x, double const* y, double* correlations,
                                      double* shares, std::string* words);
}

}  // namespace steadyfire
