#include "tools/study/fit_search.hpp"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cmath>

namespace steadyfire {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

namespace {

double constexpr around = 0.1;  // how far in logarithms the runs lie, through which a line is drawn
int constexpr most_rounds = 8;

/// Even numbers from 0 to 1, a row of them at a time.
class Strewn {
 public:
  explicit Strewn(long columns) : even_{unsigned(columns)}, columns_{columns} {}
  Vector next() {
    Vector row(columns_);
    for (auto& x : row) x = double(even_()) / (double(even_.max()) + 1);
    return row;
  }

 private:
  boost::random::sobol even_;
  long columns_;
};

}  // namespace

Vector FitSearch::within(Vector p) const { return p.cwiseMax(problem_.lowest).cwiseMin(problem_.highest); }

Vector FitSearch::first_deviations() const {
  Vector all(long(problem_.column.size()));
  for (long i = 0; i < all.size(); ++i) all[i] = problem_.first[std::size_t(problem_.column[std::size_t(i)])];
  return all;
}

Vector FitSearch::deviations(LocalLine const& line) const {
  std::vector<std::vector<double>> sizes(problem_.first.size());
  for (long i = 0; i < line.middle.size(); ++i) sizes[std::size_t(problem_.column[std::size_t(i)])].push_back(std::abs(line.middle[i]));
  std::vector<double> usual = problem_.least;
  for (std::size_t c = 0; c < sizes.size(); ++c) {
    if (sizes[c].empty()) continue;
    auto const half = sizes[c].begin() + long(sizes[c].size() / 2);
    std::nth_element(sizes[c].begin(), half, sizes[c].end());
    usual[c] = std::max(usual[c], 1.4826 * *half);
  }
  Vector all(line.middle.size());
  for (long i = 0; i < all.size(); ++i) all[i] = std::hypot(usual[std::size_t(problem_.column[std::size_t(i)])], line.scatter[i]);
  return all;
}

std::optional<LocalLine> FitSearch::line_around(Vector const& point) const {
  long const n = point.size();
  Strewn strewn{n};
  std::vector<Vector> points;
  for (long i = 0; i < 6 + 4 * n; ++i) {
    Vector const by = (around * (2 * strewn.next().array() - 1)).matrix();
    for (double const sign : {1.0, -1.0}) points.push_back(within(point.cwiseProduct((sign * by).array().exp().matrix())));
  }
  auto const answers = problem_.differences(points);
  std::vector<long> good;
  for (std::size_t i = 0; i < answers.size(); ++i)
    if (answers[i]) good.push_back(long(i));
  if (long(good.size()) < 2 * n + 4 || (problem_.interrupted && problem_.interrupted())) return {};
  Matrix d(long(good.size()), n), r(long(good.size()), long(problem_.column.size()));
  for (long i = 0; i < d.rows(); ++i) {
    auto const g = std::size_t(good[std::size_t(i)]);
    d.row(i) = points[g].cwiseQuotient(point).array().log().transpose(), r.row(i) = answers[g]->transpose();
  }
  return line_through(d, r);
}

std::optional<FoundPoint> FitSearch::from(Vector const& start) {
  auto const first = first_deviations();
  LeastSquares descent;
  descent.residuals = [&](std::vector<Vector> const& points) {
    auto answers = problem_.differences(points);
    for (auto& a : answers)
      if (a) a = a->cwiseQuotient(first).eval();
    return answers;
  };
  descent.start = start, descent.least = problem_.lowest, descent.most = problem_.highest;
  descent.step = 0.04, descent.enough = 1e-3, descent.most_iterations = 8, descent.interrupted = problem_.interrupted;
  auto const rough = minimise(descent);
  if (!rough) return {};

  FoundPoint found{rough->point, {}, 0};
  for (int round = 1; round <= most_rounds; ++round) {
    auto const line = line_around(found.point);
    if (!line) return {};
    ++rounds_;
    auto const errs = deviations(*line);
    found.line = line->weighed(errs);
    found.unlikelihood = found.line.middle.squaredNorm() / 2 + errs.array().log().sum();
    Vector const step = found.line.lowest(2 * around);
    auto const next = within(found.point.cwiseProduct(step.array().exp().matrix()));
    Vector const moved = next.cwiseQuotient(found.point).array().log();
    found.line.middle += found.line.slopes * moved;
    found.point = next;
    if (moved.cwiseAbs().maxCoeff() < 0.2 * around) break;
  }
  return found;
}

Vector FitSearch::best_strewn(std::size_t count) const {
  Strewn strewn{problem_.begun.size()};
  std::vector<Vector> points;
  for (std::size_t i = 0; i < count; ++i) {
    Vector const by = (2 * strewn.next().array() - 1).matrix();
    points.push_back(within(problem_.begun.cwiseProduct((by * std::log(2.0)).array().exp().matrix())));
  }
  auto const first = first_deviations();
  auto const answers = problem_.differences(points);
  auto const sum = [&](std::size_t i) { return answers[i] ? answers[i]->cwiseQuotient(first).squaredNorm() : 1e300; };
  std::size_t best = 0;
  for (std::size_t i = 1; i < answers.size(); ++i)
    if (sum(i) < sum(best)) best = i;
  return points[best];
}

}  // namespace steadyfire
