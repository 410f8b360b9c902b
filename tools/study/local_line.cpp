#include "tools/study/local_line.hpp"

#include <algorithm>

namespace steadyfire {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

LocalLine line_through(Matrix const& distances, Matrix const& residuals) {
  long const runs = distances.rows(), unknowns = distances.cols();
  Matrix design(runs, 2 * unknowns + 1);  // without the squares what bends would shift the middle
  design << Vector::Ones(runs), distances, distances.array().square().matrix();
  Eigen::ColPivHouseholderQR<Matrix> const qr{design};
  Matrix const found = qr.solve(residuals);
  Vector const left = (residuals - design * found).colwise().squaredNorm().transpose() / double(runs - 2 * unknowns - 1);
  Matrix const spread = (design.transpose() * design).inverse();
  return {found.row(0).transpose(), found.middleRows(1, unknowns).transpose(), left.cwiseSqrt(), spread.diagonal().segment(1, unknowns)};
}

LocalLine LocalLine::weighed(Vector const& deviations) const {
  auto const by = deviations.cwiseInverse();
  return {middle.cwiseProduct(by), by.asDiagonal() * slopes, scatter.cwiseProduct(by), share};
}

Vector LocalLine::lowest(double reach) const {
  Matrix told = slopes.transpose() * slopes;
  Vector const noise = slope_noise();
  for (long k = 0; k < told.rows(); ++k) told(k, k) -= std::min(noise[k], 0.75 * told(k, k));
  Vector const d = -told.ldlt().solve(slopes.transpose() * middle);
  double const longest = d.cwiseAbs().maxCoeff();
  return longest > reach ? (d * (reach / longest)).eval() : d;
}

}  // namespace steadyfire
