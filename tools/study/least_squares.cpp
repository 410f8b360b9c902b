#include "tools/study/least_squares.hpp"

#include <ceres/ceres.h>
#include <glog/logging.h>

#include <cmath>

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

class Cost final : public ceres::CostFunction {
public:
  Cost(Sums& asked, long residuals, long unknowns) : asked_{asked} {
    set_num_residuals(int(residuals));
    mutable_parameter_block_sizes()->push_back(int(unknowns));
  }
  bool Evaluate(double const* const* parameters, double* residuals, double** slopes) const override {
    long const unknowns = parameter_block_sizes()[0];
    Vector const u = Eigen::Map<Vector const>(parameters[0], unknowns);
    auto const r = asked_.at(u);
    if (!r || r->size() != num_residuals()) return false;
    Eigen::Map<Vector>(residuals, num_residuals()) = *r;
    if (!slopes || !slopes[0]) return true;
    auto const s = asked_.slopes(u);
    if (!s) return false;
    using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    if (unknowns == 1) Eigen::Map<Vector>(slopes[0], num_residuals()) = s->col(0);
    else Eigen::Map<Rows>(slopes[0], num_residuals(), unknowns) = *s;
    return true;
  }

private:
  Sums& asked_;
};

class Interruption final : public ceres::IterationCallback {
public:
  explicit Interruption(std::function<bool()> const& ask) : ask_{ask} {}
  ceres::CallbackReturnType operator()(ceres::IterationSummary const&) override {
    return ask_ && ask_() ? ceres::SOLVER_ABORT : ceres::SOLVER_CONTINUE;
  }

private:
  std::function<bool()> const& ask_;
};

}  // namespace

std::optional<Solved> minimise(LeastSquares const& problem) {
  FLAGS_minloglevel = google::FATAL;  // what it would say of points that cannot be is ours to say
  Sums asked{problem};
  Vector u = problem.start.array().log();
  auto const first = asked.at(u);
  if (!first) return {};

  ceres::Problem::Options keep;
  keep.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  Cost cost{asked, first->size(), u.size()};
  ceres::Problem posed{keep};
  posed.AddResidualBlock(&cost, nullptr, u.data());
  for (int k = 0; k < int(u.size()); ++k) {
    posed.SetParameterLowerBound(u.data(), k, std::log(problem.least[k]));
    posed.SetParameterUpperBound(u.data(), k, std::log(problem.most[k]));
  }
  Interruption interruption{problem.interrupted};
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_QR;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  options.max_num_iterations = problem.most_iterations;
  options.function_tolerance = problem.enough, options.parameter_tolerance = problem.enough;
  options.gradient_tolerance = 1e-12;
  options.max_num_consecutive_invalid_steps = 5;
  options.callbacks.push_back(&interruption);
  options.update_state_every_iteration = false;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &posed, &summary);

  Solved solved;
  solved.point = u.array().exp();
  solved.iterations = int(summary.iterations.size()) - 1;
  solved.settled = summary.termination_type == ceres::CONVERGENCE;
  auto const r = asked.at(u);
  if (!r) return {};
  solved.residuals = *r;
  if (problem.wants_slopes) {
    auto const s = asked.slopes(u);
    if (!s) return {};
    solved.slopes = *s;
  }
  return solved;
}

}  // namespace steadyfire
