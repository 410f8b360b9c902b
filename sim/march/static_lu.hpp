#pragma once
/// Sparse LU with a fixed pattern and without pivoting, for I − γ·J of heat balances.

#include "sim/heat/balance.hpp"

namespace steadyfire {

/// Factors  I − γ·J  over the places from `first` on, rows in an order of little fill.
///
/// Shape   made once per pattern; `factor` and `solve` then follow lists of indices
///         and search nothing. Water hangs on what flows in, not on where it flows: fill follows the true pattern.
/// Valid   without pivoting the matrix should be near diagonal dominance, as that of
///         a heat balance is: every row of J sums to the heat it loses, or to nothing.
/// Errors  `factor` is false where a pivot vanishes or is not finite.
class StaticLu {
 public:
  explicit StaticLu(Sparse const& pattern, int first = 0);
  bool factor(double const* slopes, double gamma);
  /// Replaces b by the solution; b runs over all places, those before `first` stay.
  void solve(double* b) const;
  int entries() const { return int(column_.size()); }

 private:
  struct Load { int slot, position; };
  int size_;
  std::vector<int> order_;                      // place of each pivot
  std::vector<int> start_, diagonal_, column_;  // rows in pivot order, columns rising
  std::vector<int> target_;                     // where each product of the elimination goes
  std::vector<Load> loads_;
  std::vector<double> value_, inverse_;
  mutable std::vector<double> work_;
};

}  // namespace steadyfire
