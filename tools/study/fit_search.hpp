#pragma once
/// Where a model that jumps comes nearest to what was seen.

#include <optional>

#include "tools/study/least_squares.hpp"
#include "tools/study/local_line.hpp"

namespace steadyfire {

struct SearchProblem {
  Residuals differences;              ///< model less what was seen, not weighted
  std::vector<int> column;            ///< by difference: those of one column err alike
  std::vector<double> first, least;   ///< by column: what its differences err at first, and at least
  Eigen::VectorXd begun, lowest, highest;  ///< by unknown, all above 0
  std::function<bool()> interrupted{};
};

struct FoundPoint {
  Eigen::VectorXd point;
  LocalLine line;              ///< around it, each difference divided by what it errs
  double unlikelihood = 0;     ///< −ln of the likelihood of what was seen, less a constant
};

/// A descent by least squares, then steps along lines through many runs around the point.
///
///   (what a difference errs)² = (1.4826·median |differences| of its column)² + (scatter of the runs around the line)²
///
/// So a window in which one start of the burner more or less decides counts little, whichever way it went in the log.
///
/// Shape   the runs lie within 10 % of the point, by a Sobol sequence and its mirror image.
/// Source  1.4826: the median of Gaussian deviations, for a standard deviation that outliers do not move.
class FitSearch {
 public:
  explicit FitSearch(SearchProblem problem) : problem_{std::move(problem)} {}
  /// Empty where the start cannot be, or where interrupted.
  std::optional<FoundPoint> from(Eigen::VectorXd const& start);
  /// The best of some points strewn between half and double of where it began.
  Eigen::VectorXd best_strewn(std::size_t count) const;
  int rounds() const { return rounds_; }

 private:
  Eigen::VectorXd within(Eigen::VectorXd) const;
  Eigen::VectorXd first_deviations() const;
  Eigen::VectorXd deviations(LocalLine const&) const;
  std::optional<LocalLine> line_around(Eigen::VectorXd const& point) const;

  SearchProblem problem_;
  int rounds_ = 0;
};

}  // namespace steadyfire
