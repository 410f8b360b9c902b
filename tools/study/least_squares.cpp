#include "tools/study/least_squares.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace steadyfire {
namespace {

using Vector = Eigen::VectorXd;

/// Asks the model; nothing for a start that cannot be.
class Sums {
public:
  explicit Sums(LeastSquares const& problem) : problem_{problem} {}

  std::optional<Vector> at(Vector const& logarithms) {
    if (known_at_.size() == logarithms.size() && known_at_ == logarithms) return known_;
    auto answer = problem_.residuals({logarithms.array().exp().matrix()});
    known_at_ = logarithms, known_ = std::move(answer.at(0));
    return known_;
  }

  std::optional<Eigen::MatrixXd> slopes(Vector const& logarithms) {
    auto const middle = at(logarithms);
    if (!middle) return {};
    double const up = std::log1p(problem_.step), down = std::log1p(-problem_.step);
    std::vector<Vector> points;
    for (long k = 0; k < logarithms.size(); ++k)
      for (double const by : {up, down}) {
        Vector p = logarithms;
        p[k] += by;
        points.push_back(p.array().exp());
      }
    auto const answers = problem_.residuals(points);
    Eigen::MatrixXd s(middle->size(), logarithms.size());
    for (long k = 0; k < logarithms.size(); ++k) {
      auto const &above = answers[std::size_t(2 * k)], &below = answers[std::size_t(2 * k + 1)];
      if (!above && !below) return {};
      if (above && below) s.col(k) = (*above - *below) / (up - down);
      else s.col(k) = above ? ((*above - *middle) / up).eval() : ((*below - *middle) / down).eval();
    }
    return s;
  }

private:
  LeastSquares const& problem_;
  Vector known_at_;
  std::optional<Vector> known_;
};

/// The step d with low ≤ d ≤ high that minimises |r + J·d|² + |D·d|² / radius.
///
/// Shape   unknowns are let go one by one, that one first along which the sum falls most; what comes to its bound on the way to the free
///         ones' minimum is held there. Rounding may let go and hold one again: so there are no more than three rounds an unknown.
/// Source  Lawson and Hanson 1974, ch. 23, with two bounds as of Stark and Parker 1995 (from memory).
Vector step_within(Vector const& r, Eigen::MatrixXd const& slopes, Vector const& low, Vector const& high, double radius) {
  long const unknowns = slopes.cols();
  Eigen::MatrixXd damped(r.size() + unknowns, unknowns);
  damped << slopes, Eigen::MatrixXd{(slopes.colwise().norm() / std::sqrt(radius)).asDiagonal()};
  Vector step = Vector::Zero(unknowns), left(r.size() + unknowns);  // left = (−r, 0) − damped·step
  left << -r, Vector::Zero(unknowns);
  std::vector<long> free;
  for (long round = 0; round < 3 * unknowns; ++round) {
    Vector const downhill = damped.transpose() * left;
    long next = -1;
    for (long k = 0; k < unknowns; ++k) {
      bool const may_go = downhill[k] > 0 ? step[k] < high[k] : downhill[k] < 0 && step[k] > low[k];
      bool const is_held = std::find(free.begin(), free.end(), k) == free.end();
      if (may_go && is_held && (next < 0 || std::abs(downhill[k]) > std::abs(downhill[next]))) next = k;
    }
    if (next < 0) break;
    free.push_back(next);
    for (long stopped = 0; stopped >= 0 && !free.empty();) {
      Vector const way = damped(Eigen::all, free).colPivHouseholderQr().solve(left);
      double share = 1;
      stopped = -1;
      for (long i = 0; i < way.size(); ++i) {
        long const k = free[std::size_t(i)];
        double const room = way[i] > 0 ? high[k] - step[k] : low[k] - step[k];
        if (std::abs(room) < std::abs(way[i]) * share) share = room / way[i], stopped = i;
      }
      for (long i = 0; i < way.size(); ++i) {
        long const k = free[std::size_t(i)];
        double const before = std::exchange(step[k], i == stopped ? (way[i] > 0 ? high[k] : low[k]) : step[k] + share * way[i]);
        left -= damped.col(k) * (step[k] - before);
      }
      if (stopped >= 0) free.erase(free.begin() + stopped);
    }
  }
  return step;
}

}  // namespace

std::optional<Solved> minimise(LeastSquares const& problem) {
  Sums asked{problem};
  Vector const least = problem.least.array().log(), most = problem.most.array().log();
  Vector u = Vector{problem.start.array().log()}.cwiseMax(least).cwiseMin(most);
  auto r = asked.at(u);
  if (!r) return {};

  Solved solved;
  auto slopes = asked.slopes(u);
  double radius = 1e4, shrink = 2;
  auto const is_interrupted = [&] { return problem.interrupted && problem.interrupted(); };
  while (slopes && solved.iterations < problem.most_iterations && !is_interrupted()) {
    Vector const step = step_within(*r, *slopes, least - u, most - u, radius);
    if ((solved.settled = step.cwiseAbs().maxCoeff() <= problem.enough)) break;
    ++solved.iterations;
    double const sum = r->squaredNorm(), promised = sum - (*r + *slopes * step).squaredNorm();
    Vector const next = (u + step).cwiseMax(least).cwiseMin(most);
    auto const there = promised > 0 ? asked.at(next) : std::nullopt;
    double const won = there && there->allFinite() ? sum - there->squaredNorm() : 0, kept = promised > 0 ? won / promised : 0;
    if (kept <= 1e-3) {
      radius /= shrink, shrink *= 2;
      continue;
    }
    u = next, r = there;
    if ((solved.settled = won <= problem.enough * sum)) break;
    radius = std::min(1e16, radius / std::max(1. / 3, 1 - std::pow(2 * kept - 1, 3))), shrink = 2;
    slopes = asked.slopes(u);
  }
  solved.point = u.array().exp();
  solved.residuals = *r;
  if (problem.wants_slopes) {
    auto const s = asked.slopes(u);
    if (!s) return {};
    solved.slopes = *s;
  }
  return solved;
}

}  // namespace steadyfire
