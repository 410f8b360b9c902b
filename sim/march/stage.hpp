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
/// by Newton's method with slopes c' that were true at `base` or a few steps earlier. The straight
/// part of f is met by the first solution; what the curved laws c leave over,
///
///   γ·(c(z) − c(base) − c'·(z − base)),
///
/// grows with the square of the time from the base: that of the stage before is reckoned with at once,
/// and only where the laws, asked at z, disagree by more than the tolerance does a correction follow.
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

  /// Margins of all guards (transitions.hpp).
  void margins(double time, double const* x, double* slots);

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
    std::vector<Entry> given, accounts;
    StaticLu lu;
  };
  void know(double time, double const* x);
  bool ended_at(double time, double const* x);
  bool factor(double gamma);
  double ask_laws(double time, double gamma, double const* base, double const* change);
  void settle_accounts(double gamma, double* change) const;
  double norm(double const* x) const;

  State const& state_;
  MarchStatistics& statistics_;
  std::vector<double> weights_;
  std::unordered_map<std::size_t, std::unique_ptr<Layout>> layouts_;
  Layout* layout_ = nullptr;
  // The last point where rates were asked, and what the laws say there.
  bool known_ = false;
  double known_time_ = 0;
  std::vector<double> known_x_, known_rates_, known_curved_;
  // f' of a point not long ago, its curved part c' for itself, and the γ for which I − γ·f' is factored; 0: for none.
  std::vector<double> slopes_, bent_;
  std::vector<Bend> bends_;
  double factored_gamma_ = 0;
  bool factored_here_ = false;  ///< at the point known now
  bool is_calm_ = false;        ///< no solution with them needed a correction
  // What the laws left over when asked last, in the rows that they bend; how far from the base that was [s], and the norm
  // of how much it was more than had been reckoned with.
  std::vector<double> leftover_;
  double left_after_ = 0, surprise_ = 0;
  // The last stage, if it needed no correction: the next step begins there.
  bool ended_ = false;
  double end_time_ = 0;
  std::vector<double> z_, curved_, end_rates_, step_;
  // The last point where guards were asked: a step's end is asked for by the integrator and by the march.
  double guarded_time_ = -1;
  std::vector<double> guarded_x_, margins_;
};

}  // namespace steadyfire
