#pragma once
/// A curve y(x), by points or by the coefficients of a polynomial.

#include <memory>
#include <vector>

#include "sim/core/dual.hpp"

namespace steadyfire {

/// y(x) with its slope.
///
///   polynomial  y = c0 + c1·x + c2·x² + …
///   points      monotone piecewise cubic (Fritsch–Carlson), straight on beyond both ends
///
/// Shape  SI; points with rising x, at least two; or at least one coefficient.
/// Source F. N. Fritsch and R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238, by Boost.Math pchip.
class Curve {
 public:
  Curve() = default;
  static Curve polynomial(std::vector<double> coefficients);
  static Curve through(std::vector<double> x, std::vector<double> y);

  /// As a Value carries it: {0, c0, c1, …} or {1, x0, y0, x1, y1, …}; {} is no curve.
  static Curve from(std::vector<double> const& numbers);

  bool empty() const { return !by_points_ && coefficients_.empty(); }
  bool is_polynomial() const { return !by_points_; }
  WithSlope at(double x) const;
  double operator()(double x) const { return at(x).value; }
  template <int N>
  Dual<N> operator()(Dual<N> const& x) const {
    auto const y = at(x.value);
    return Dual<N>::chain(y.value, y.slope, x);
  }
  std::vector<double> const& x() const { return x_; }
  std::vector<double> const& y() const { return y_; }
  std::vector<double> const& coefficients() const { return coefficients_; }

 private:
  struct ByPoints;
  std::vector<double> x_, y_, coefficients_;
  std::shared_ptr<ByPoints const> by_points_;
};

}  // namespace steadyfire
