#pragma once
/// Sparse LU with a fixed pattern and without pivoting, for I − γ·J of heat balances.

#include "sim/heat/balance.hpp"

namespace steadyfire {

/// Factors  I − γ·J  over the places from `first` on into  L·D·U, pivots in an order of little fill.
///
/// Shape   made once per pattern; `factor` and `solve` then run through flat lists of products
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
  int entries() const { return int(value_.size()); }

 private:
  struct Load { unsigned slot, position; };
  struct Entry { unsigned row, column; };  // places
  struct Pivot { int place, below, behind; };  // from `first`; how many entries of L and U are its own
  int first_, size_;
  std::vector<Entry> lower_, upper_;  // L by pivots; U from the last pivot to the first
  std::vector<Pivot> pivots_;
  std::vector<unsigned> products_;  // where each product of an entry of L with one of U goes: a position
  std::vector<Load> loads_;
  std::vector<unsigned> put_in_;  // positions that the elimination fills
  std::vector<double> value_;     // of D by place from `first`, inverted when factored; then of L and of U
};

}  // namespace steadyfire
