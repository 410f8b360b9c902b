#include "sim/heat/steady.hpp"

#include <Eigen/SparseLU>

namespace steadyfire {

bool rest(Plan const& plan, Balance const& balance, State& state, std::vector<Place> const& held) {
  int const n = plan.places();
  std::vector<bool> fixed(n, false);
  for (int i = 0; i < first_free_place; ++i) fixed[i] = true;
  for (Place p : held) fixed[p] = true;
  std::vector<double> rates(n), slopes;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> lu;
  for (int step = 0; step < 60; ++step) {
    balance.rates(state.now(plan), rates.data());
    balance.slopes(state.now(plan), slopes);
    auto const& A = balance.pattern();
    // one implicit step of a thousand years: isolated water gets a unit row instead of a singular one
    double constexpr slowly = 3e-11;
    std::vector<Eigen::Triplet<double>> entries;
    Eigen::VectorXd b(n);
    for (int i = 0; i < n; ++i) {
      b[i] = fixed[i] ? 0 : -rates[i];
      entries.emplace_back(i, i, fixed[i] ? 1 : -slowly);
      if (!fixed[i])
        for (int k = A.row_start[i]; k < A.row_start[i + 1]; ++k) entries.emplace_back(i, A.column[k], slopes[k]);
    }
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    if (step == 0) lu.analyzePattern(matrix);  // a law's entries hang on the flows alone, which stay
    lu.factorize(matrix);
    if (lu.info() != Eigen::Success) return false;
    Eigen::VectorXd const dx = lu.solve(b);
    double most = 0;
    for (int i = 0; i < n; ++i) {
      double const d = std::clamp(dx[i], -40.0, 40.0);  // a curved law may overshoot from far away
      state.x[i] += d, most = std::max(most, std::abs(d));
    }
    if (most < 1e-6) return true;
  }
  return false;
}

}  // namespace steadyfire
