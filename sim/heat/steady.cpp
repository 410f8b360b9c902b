#include "sim/heat/steady.hpp"

#include <klu.h>

#include <algorithm>
#include <cmath>

namespace steadyfire {
namespace {

/// KLU on compressed rows, which it takes for the columns of the transpose. The order of elimination is kept while the pattern
/// stays, and the pivots as long as they serve: to choose them takes most of the time.
class Factors {
 public:
  Factors() { klu_defaults(&common_); }
  ~Factors() { klu_free_numeric(&numeric_, &common_), klu_free_symbolic(&symbolic_, &common_); }
  Factors(Factors const&) = delete;

  /// False where the matrix is singular.
  bool factor(Sparse const& pattern, std::vector<double>& values) {
    if (row_start_ != pattern.row_start || column_ != pattern.column) {
      klu_free_numeric(&numeric_, &common_), klu_free_symbolic(&symbolic_, &common_);
      row_start_ = pattern.row_start, column_ = pattern.column;
      symbolic_ = klu_analyze(size(), row_start_.data(), column_.data(), &common_);
    }
    if (!symbolic_) return false;
    if (numeric_ && !(klu_refactor(row_start_.data(), column_.data(), values.data(), symbolic_, numeric_, &common_) && is_sound(values)))
      klu_free_numeric(&numeric_, &common_);
    if (!numeric_) numeric_ = klu_factor(row_start_.data(), column_.data(), values.data(), symbolic_, &common_);
    return numeric_ && common_.status == KLU_OK;
  }
  /// Replaces b by the solution.
  bool solve(std::vector<double>& b) { return klu_tsolve(symbolic_, numeric_, size(), 1, b.data(), &common_) != 0; }

 private:
  int size() const { return int(row_start_.size()) - 1; }
  /// Whether the old pivots are still large beside what they are chosen from.
  bool is_sound(std::vector<double>& values) {
    double constexpr least_growth = 1e-6;
    return common_.status == KLU_OK && klu_rgrowth(row_start_.data(), column_.data(), values.data(), symbolic_, numeric_, &common_) &&
           common_.rgrowth > least_growth;
  }
  std::vector<int> row_start_, column_;
  klu_common common_{};
  klu_symbolic* symbolic_ = nullptr;
  klu_numeric* numeric_ = nullptr;
};

}  // namespace

struct RestSolver::Parts {
  Plan const& plan;
  Balance const& balance;
  std::vector<double> rates = std::vector<double>(std::size_t(plan.places())), slopes{};
  std::vector<bool> fixed{};
  Factors factors{};

  /// The slopes less 1/span, unit rows for what is fixed. Whether it is regular.
  bool factor(State const& state, double span) {
    auto const& A = balance.pattern();
    balance.slopes(state.now(plan), slopes);
    for (int i = 0; i < plan.places(); ++i)
      for (int k = A.row_start[i]; k < A.row_start[i + 1]; ++k) {
        double const on_itself = A.column[k] == i ? 1 : 0;
        slopes[k] = fixed[i] ? on_itself : slopes[k] - on_itself / span;
      }
    return factors.factor(A, slopes);
  }

  /// One implicit step of so many seconds; false leaves `state` anywhere.
  bool step(State& state, double span) {
    int const n = plan.places();
    auto const start = state.x;
    double constexpr small = 1e-3;  // [K] after such a step the slopes are as before
    double most = 1;
    std::vector<double> dx(static_cast<std::size_t>(n));
    for (int round = 0; round < 12; ++round) {
      balance.rates(state.now(plan), rates.data());
      if (most > small && !factor(state, span)) return false;
      for (int i = 0; i < n; ++i) dx[i] = fixed[i] ? 0 : (state.x[i] - start[i]) / span - rates[i];
      if (!factors.solve(dx) || !std::all_of(dx.begin(), dx.end(), [](double d) { return std::isfinite(d); })) return false;
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
