#pragma once
/// Least squares over unknowns that must stay positive, by Levenberg and Marquardt's steps within bounds.

#include <Eigen/Dense>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace steadyfire {

/// What is asked of the model: residuals at each of some points at once, so that whoever answers may share them out among threads.
/// Empty where a point cannot be.
using Residuals = std::function<std::vector<std::optional<Eigen::VectorXd>>(std::vector<Eigen::VectorXd> const& points)>;

struct LeastSquares {
  Residuals residuals;
  Eigen::VectorXd start, least, most;  ///< all above 0
  double step = 0.02;                  ///< relative: slopes are central differences over it
  double enough = 1e-4;                ///< relative change of the sum of squares, or of an unknown, below which it ends
  int most_iterations = 20;
  bool wants_slopes = false;           ///< at the end, for who asks how well the unknowns are told
  std::function<bool()> interrupted{};
};

struct Solved {
  Eigen::VectorXd point, residuals;
  Eigen::MatrixXd slopes;    ///< of the residuals by the logarithm of each unknown, at `point`, where wanted
  int iterations = 0;        ///< steps tried, taken or not
  bool settled = false;  ///< else the iterations ran out, or somebody interrupted
  double sum() const { return residuals.squaredNorm(); }
};

/// Minimises the sum of squares.
///
///   u = ln p,  ∂r/∂u ≈ J = (r(p·(1 + h)) − r(p·(1 − h))) / (ln(1 + h) − ln(1 − h))
///   a step d minimises |r + J·d|² + |D·d|² / R,  D² = diag JᵀJ,  within the bounds
///
/// A step is taken where the sum falls by more than a thousandth of what J promised; the radius R then grows or shrinks by how well that
/// promise was kept, else it shrinks by 2, 4, 8…, also where the point cannot be.
///
/// Shape   where one side of a difference cannot be, the other alone is taken.
/// Errors  empty where the start itself cannot be evaluated.
/// Source  Levenberg 1944; D: Marquardt 1963; R: Nielsen, Damping parameter in Marquardt's method, 1999 (from memory).
std::optional<Solved> minimise(LeastSquares const&);

}  // namespace steadyfire
