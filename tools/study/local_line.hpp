#pragma once
/// Residuals around a point as a straight line through many runs.

#include <Eigen/Dense>

namespace steadyfire {

/// r(d) ≈ middle + slopes·d, and how far single runs lie from it.
///
/// One start of the burner more or less moves all that follow, so that single runs stand beside the line, and slopes from two of them
/// are mostly that. Many runs around the point tell line and noise apart.
struct LocalLine {
  Eigen::VectorXd middle;      ///< by residual, at d = 0
  Eigen::MatrixXd slopes;      ///< by residual, by unknown
  Eigen::VectorXd scatter;     ///< by residual: standard deviation of single runs around the line
  Eigen::VectorXd share;       ///< by unknown: of the scatter's square, what it adds to a squared slope

  /// By unknown: what the runs' noise adds to the sum of squared slopes.
  Eigen::VectorXd slope_noise() const { return scatter.squaredNorm() * share; }
  /// All residuals divided by what each may err.
  LocalLine weighed(Eigen::VectorXd const& deviations) const;
  /// Where the sum of squares is least, within `reach` of d = 0 in each unknown.
  Eigen::VectorXd lowest(double reach) const;
};

/// By ordinary least squares, with the square of each distance beside it.
///
/// Shape   a row for each run: `distances` from the point, `residuals` there. Valid: more rows than twice the unknowns and two.
LocalLine line_through(Eigen::MatrixXd const& distances, Eigen::MatrixXd const& residuals);

}  // namespace steadyfire
