#include "sim/heat/steady.hpp"

#include <Eigen/KLUSupport>

namespace steadyfire {

struct RestSolver::Parts {
  Plan const& plan;
  Balance const& balance;
  std::vector<int> row_start{}, column{};  ///< the pattern whose order of elimination is known
  std::vector<double> rates = std::vector<double>(std::size_t(plan.places())), slopes{};
  std::vector<bool> fixed{};
  Eigen::SparseMatrix<double> matrix{};
  Eigen::KLU<Eigen::SparseMatrix<double>> lu{};

  /// The slopes less 1/span, unit rows for what is fixed. Whether it is regular.
  bool factor(State const& state, double span) {
    auto const& A = balance.pattern();
    int const n = plan.places();
    balance.slopes(state.now(plan), slopes);
    for (int i = 0; i < n; ++i)
      for (int k = A.row_start[i]; k < A.row_start[i + 1]; ++k) {
        double const on_itself = A.column[k] == i ? 1 : 0;
        slopes[k] = fixed[i] ? on_itself : slopes[k] - on_itself / span;
      }
    matrix = Eigen::Map<Eigen::SparseMatrix<double, Eigen::RowMajor> const>(n, n, Eigen::Index(slopes.size()), A.row_start.data(),
                                                                           A.column.data(), slopes.data());
    if (row_start != A.row_start || column != A.column) row_start = A.row_start, column = A.column, lu.analyzePattern(matrix);
    lu.factorize(matrix);
    return lu.info() == Eigen::Success;
  }

  /// One implicit step of so many seconds; false leaves `state` anywhere.
  bool step(State& state, double span) {
    int const n = plan.places();
    auto const start = state.x;
    double constexpr small = 1e-3;  // [K] after such a step the slopes are as before
    double most = 1;
    Eigen::VectorXd b(n);
    for (int round = 0; round < 12; ++round) {
      balance.rates(state.now(plan), rates.data());
      if (most > small && !factor(state, span)) return false;
      for (int i = 0; i < n; ++i) b[i] = fixed[i] ? 0 : (state.x[i] - start[i]) / span - rates[i];
      Eigen::VectorXd const dx = lu.solve(b);
      if (!dx.allFinite()) return false;
      most = 0;
      for (int i = 0; i < n; ++i) {
        double const d = std::clamp(dx[i], -40.0, 40.0);  // a curved law may overshoot from far away
        state.x[i] += d, most = std::max(most, std::abs(d));
      }
      if (most < 1e-6) return true;
    }
    return false;
  }
};

RestSolver::RestSolver(Plan const& plan, Balance const& balance) : parts_{new Parts{plan, balance}} {}
RestSolver::~RestSolver() = default;

bool RestSolver::solve(State& state, std::vector<Place> const& held) {
  parts_->fixed.assign(std::size_t(parts_->plan.places()), false);
  for (int i = 0; i < first_free_place; ++i) parts_->fixed[i] = true;
  for (Place p : held) parts_->fixed[p] = true;
  // A thousand years at once is Newton's method, and nearly always enough; isolated water gets a unit row by it instead of a
  // singular one. Where it turns in circles, at a kink, the way there is followed by shorter steps that grow.
  double constexpr longest = 3e10, shortest = 0.1;
  double span = longest;
  for (int step = 0; step < 200 && span > shortest; ++step) {
    auto const start = state.x;
    bool const done = parts_->step(state, span);
    if (done && span == longest) return true;
    if (!done) state.x = start;
    span = done ? std::min(10 * span, longest) : span / 30;
  }
  return false;
}

}  // namespace steadyfire
