#pragma once
/// The equations as the integrators need them: rates, and implicit stages solved.

#include <unordered_map>

#include "sim/march/march.hpp"
#include "sim/march/static_lu.hpp"

namespace steadyfire {

/// Rates of a plan in its present modes and flows, and the solution of
///
///   z = base + data + γ·f(t, z)
///
/// by Newton's method with the slopes at `base`. The straight part of f is met by the
/// first correction; from then on the residual is what the curved laws c left over,
/// γ·(c(z + δ) − c(z) − c'·δ), so that only they are asked again.
///
/// Shape   places before first_free_place stay out of the LU: given places have constant
///         rates, so they are known first, and accounts hang on all and are hung on by
///         none, so they follow. Since every law enters its heat twice, with both signs,
///         each single correction conserves energy to rounding, however far Newton got.
/// Errors  `solve` is false where Newton does not converge.
class Stage {
 public:
  Stage(Plan const&, Balance const&, State const&, std::vector<double> weights, MarchStatistics&);

  /// Flows or modes changed, and the balance has settled.
  void equations_changed();
  void rates(double time, double const* x, double* rates);
  /// `change` becomes z − base; `tolerance` in the norm below.
  bool solve(double time, double gamma, double const* base, double const* data, double tolerance, double* change);

  /// Weighted root mean square over the places under error control.
  double norm(double const* x) const;
  /// 1/(error allowed) by place, scaled so that the mean over all places is that over
  /// the controlled ones.
  std::vector<double> const& weights() const { return weights_; }
  /// The present, but with this time and these values.
  Now now(double time, double const* x) const;
  Plan const& plan;
  Balance const& balance;

 private:
  struct Entry { int row, column, slot; };
  struct Bend { int row, column; double slope; };
  /// What hangs on the pattern alone.
  struct Layout {
    Layout(Sparse const&);
    std::vector<int> row_start, column;  // the pattern itself, to tell it from others of its hash
    std::vector<int> row_of;             // by slot
    std::vector<Entry> given, accounts;
    StaticLu lu;
  };
  void evaluate(double time, double const* x);
  bool factor(double time, double gamma);
  void settle_accounts(double gamma, double* change) const;

  State const& state_;
  MarchStatistics& statistics_;
  std::vector<double> weights_;
  std::unordered_map<std::size_t, std::unique_ptr<Layout>> layouts_;
  Layout* layout_ = nullptr;
  // at the last point where all rates were asked
  double known_time_ = -1;
  bool known_ = false, bent_ = false;
  std::vector<double> known_x_, known_rates_, known_curved_;
  // slopes at known_x_, and I − γ·slopes factored for this γ
  std::vector<double> slopes_;
  std::vector<Bend> bends_;
  double factored_gamma_ = 0;
  std::vector<double> z_, step_, curved_, curved_before_;
};

}  // namespace steadyfire
