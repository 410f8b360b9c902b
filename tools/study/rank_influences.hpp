#pragma once
/// How one thing ranks with another.

#include <vector>

namespace steadyfire {

struct RankInfluence {
  double correlation = 0;  ///< Spearman's, −1 … 1
  double share = 0;        ///< of the variance of the output's ranks, by a linear model of all inputs' ranks; 0 … 1
};

/// How each input ranks with an output; `inputs` row by row, as long as `output` times their number.
///
/// Shape   NaN where an input or the output is the same in all rows. Equal values share the mean of their ranks.
/// Valid   more rows than inputs. A share is the input's standardised rank regression coefficient times its correlation, so that shares add
///         up to what the model explains also where drawn inputs hang on each other a little (a share below 0 is told as 0).
/// Source  the product measure of relative importance, Pratt 1987 (from memory).
std::vector<RankInfluence> rank_influences(std::vector<double> const& inputs, std::vector<double> const& output);

}  // namespace steadyfire
