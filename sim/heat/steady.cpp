#include "sim/heat/steady.hpp"

#include <Eigen/KLUSupport>

namespace steadyfire {

bool rest(Plan const& plan, Balance const& balance, State& state, std::vector<Place> const& held) {
  int const n = plan.places();
  std::vector<bool> fixed(n, false);
  for (int i = 0; i < first_free_place; ++i) fixed[i] = true;
  for (Place p : held) fixed[p] = true;
  std::vector<double> rates(n), slopes;
  Eigen::SparseMatrix<double> matrix;
  Eigen::KLU<Eigen::SparseMatrix<double>> lu;
  /// One implicit step of so many seconds; false leaves `state` anywhere.
  auto const step_by = [&](double span) {
    auto const start = state.x;
    double constexpr small = 1e-3;  // [K] after such a step the slopes are as before
    double most = 1;
    for (int round = 0; round < 12; ++round) {
      balance.rates(state.now(plan), rates.data());
      if (most > small) {
        balance.slopes(state.now(plan), slopes);
        auto const& A = balance.pattern();
        for (int i = 0; i < n; ++i)
          for (int k = A.row_start[i]; k < A.row_start[i + 1]; ++k) {
            double const on_itself = A.column[k] == i ? 1 : 0;
            slopes[k] = fixed[i] ? on_itself : slopes[k] - on_itself / span;
          }
        bool const is_first = matrix.rows() == 0;
        matrix = Eigen::Map<Eigen::SparseMatrix<double, Eigen::RowMajor> const>(n, n, Eigen::Index(slopes.size()), A.row_start.data(),
                                                                               A.column.data(), slopes.data());
        if (is_first) lu.analyzePattern(matrix);  // a law's entries hang on the flows alone, which stay
        lu.factorize(matrix);
        if (lu.info() != Eigen::Success) return false;
      }
      Eigen::VectorXd b(n);
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
  };
  // A thousand years at once is Newton's method, and nearly always enough; isolated water gets a unit row by it instead of a
  // singular one. Where it turns in circles, at a kink, the way there is followed by shorter steps that grow.
  double constexpr longest = 3e10, shortest = 0.1;
  double span = longest;
  for (int step = 0; step < 200 && span > shortest; ++step) {
    auto const start = state.x;
    bool const done = step_by(span);
    if (done && span == longest) return true;
    if (!done) state.x = start;
    span = done ? std::min(10 * span, longest) : span / 30;
  }
  return false;
}

}  // namespace steadyfire
