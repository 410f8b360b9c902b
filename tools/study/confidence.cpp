#include "tools/study/confidence.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>

namespace steadyfire {
namespace {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

double constexpr perhaps_off = 0.4;  // logarithm of 1.5: how far what is not told may be off

struct Worth { double windows = 0, effective = 0; };

/// How many independent windows each column's are worth.
std::vector<Worth> worth_of(Comparison const& c) {
  std::vector<Worth> worth(c.column.empty() ? 0 : std::size_t(*std::max_element(c.column.begin(), c.column.end())) + 1);
  std::vector<double> square(worth.size()), product(worth.size());
  for (long i = 0; i < c.residuals.size(); ++i) {
    auto const k = std::size_t(c.column[std::size_t(i)]);
    worth[k].windows += 1, square[k] += c.residuals[i] * c.residuals[i];
    if (i > 0 && c.column[std::size_t(i - 1)] == int(k)) product[k] += c.residuals[i] * c.residuals[i - 1];
  }
  for (std::size_t k = 0; k < worth.size(); ++k) {
    double const rho = square[k] > 0 ? std::clamp(product[k] / square[k], 0.0, 0.95) : 0;
    worth[k].effective = worth[k].windows * (1 - rho) / (1 + rho);
  }
  return worth;
}

Matrix sum_over_lags(Comparison const& c) {
  int const windows = c.window.empty() ? 0 : *std::max_element(c.window.begin(), c.window.end()) + 1;
  Matrix g = Matrix::Zero(windows, c.slopes.cols());
  for (long i = 0; i < c.residuals.size(); ++i) g.row(c.window[std::size_t(i)]) += c.slopes.row(i) * c.residuals[i];
  int const lags = std::min(windows - 1, int(std::ceil(1.3 * std::sqrt(double(windows)))));
  Matrix m = g.transpose() * g;
  for (int l = 1; l <= lags; ++l) {
    Matrix const cross = g.topRows(windows - l).transpose() * g.bottomRows(windows - l);
    m += (1 - double(l) / (lags + 1)) * (cross + cross.transpose());
  }
  return m;
}

}  // namespace

Confidence confidence_of(Comparison const& c) {
  long const unknowns = c.slopes.cols(), residuals = c.slopes.rows();
  Confidence result;
  auto const worth = worth_of(c);
  double all = 0;
  for (auto const& w : worth) all += w.windows, result.effective += w.effective;
  double const freedom = std::max(1.0, result.effective - double(unknowns));
  double const t = boost::math::quantile(boost::math::students_t(freedom), 0.975);

  // Each unknown's slopes scaled to 1, so that what is told badly is seen beside what is told well.
  Vector const length = c.slopes.colwise().norm().transpose().cwiseMax(1e-12);
  Matrix const scaled = c.slopes * length.cwiseInverse().asDiagonal();
  Matrix const with_noise = scaled.transpose() * scaled;
  Matrix told = with_noise;
  // What stands out of the runs' noise by less than a quarter is not told at all, and must not blur what is.
  std::vector<bool> is_lost(std::size_t(unknowns), false);
  for (long k = 0; k < unknowns; ++k) {
    told(k, k) -= std::min(c.slope_noise[k] / (length[k] * length[k]), 1.0);
    is_lost[std::size_t(k)] = told(k, k) < 0.25 || (!c.untold.empty() && c.untold[std::size_t(k)]);
  }
  Matrix const shared = told;
  for (long k = 0; k < unknowns; ++k)
    if (is_lost[std::size_t(k)]) told.row(k).setZero(), told.col(k).setZero(), told(k, k) = 1;
  Eigen::SelfAdjointEigenSolver<Matrix> const parts{told}, raw{with_noise};
  static constexpr double floor = 1e-8;  // nothing is told so badly that numbers end
  auto const inverse_of = [](auto const& p) -> Matrix {
    return p.eigenvectors() * p.eigenvalues().cwiseMax(floor).cwiseInverse().asDiagonal() * p.eigenvectors().transpose();
  };
  Matrix const inverse = inverse_of(parts), inverse_raw = inverse_of(raw);
  result.condition = std::sqrt(parts.eigenvalues()[unknowns - 1] / std::max(parts.eigenvalues()[0], floor));

  double const few = double(residuals) / std::max(1.0, double(residuals - unknowns));
  double const square = c.residuals.squaredNorm() / double(residuals) * few;
  Comparison unit = c;
  unit.slopes = scaled;
  Matrix const by_lags = inverse_raw * sum_over_lags(unit) * inverse_raw * few;
  result.half.resize(unknowns), result.alone.resize(unknowns), result.correlation.resize(unknowns, unknowns);
  for (long k = 0; k < unknowns; ++k) {
    double const more = std::max(all / std::max(1.0, result.effective), by_lags(k, k) / (square * inverse_raw(k, k)));
    result.half[k] = t * std::sqrt(more * square * inverse(k, k)) / length[k];
    result.alone[k] = t * std::sqrt(more * square / std::max(told(k, k), floor)) / length[k];
    for (long j = 0; j < unknowns; ++j) {
      if (!is_lost[std::size_t(j)]) continue;
      Vector pull = shared.col(j);
      for (long i = 0; i < unknowns; ++i)
        if (is_lost[std::size_t(i)]) pull[i] = 0;
      double const moved = (inverse * pull)[k] * length[j] / length[k] * perhaps_off;
      result.half[k] = std::hypot(result.half[k], moved);
    }
    if (is_lost[std::size_t(k)]) result.half[k] = result.alone[k] = std::numeric_limits<double>::infinity();
    for (long j = 0; j < unknowns; ++j) result.correlation(k, j) = inverse(k, j) / std::sqrt(inverse(k, k) * inverse(j, j));
  }
  return result;
}

}  // namespace steadyfire
