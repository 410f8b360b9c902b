#include "sim/core/curve.hpp"

#include <math.h>  // Boost 1.74's pchip calls isnan without its namespace

#include <boost/math/interpolators/cubic_hermite.hpp>
#include <boost/math/interpolators/pchip.hpp>
#include <variant>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {

namespace {
using Pchip = boost::math::interpolators::pchip<std::vector<double>>;
using Hermite = boost::math::interpolators::cubic_hermite<std::vector<double>>;

/// The library's pchip wants four points; for two or three the same slopes by hand.
Hermite short_pchip(std::vector<double> x, std::vector<double> y) {
  double const first = (y[1] - y[0]) / (x[1] - x[0]);
  std::vector<double> slope{first, first};
  if (x.size() == 3) {
    double const h0 = x[1] - x[0], h1 = x[2] - x[1], last = (y[2] - y[1]) / h1;
    double const w0 = 2 * h1 + h0, w1 = h1 + 2 * h0;
    slope = {first, first * last > 0 ? (w0 + w1) / (w0 / first + w1 / last) : 0, last};
  }
  return {std::move(x), std::move(y), std::move(slope)};
}
}  // namespace

struct Curve::ByPoints {
  std::variant<Pchip, Hermite> cubic;
};

Curve Curve::polynomial(std::vector<double> coefficients) {
  Curve c;
  c.coefficients_ = std::move(coefficients);
  return c;
}

Curve Curve::through(std::vector<double> x, std::vector<double> y) {
  if (x.size() != y.size() || x.size() < 2) throw InternalError("a curve needs two points or more");
  Curve c;
  c.x_ = x, c.y_ = y;
  auto points = x.size() > 3 ? std::make_shared<ByPoints>(ByPoints{Pchip{std::move(x), std::move(y)}})
                             : std::make_shared<ByPoints>(ByPoints{short_pchip(std::move(x), std::move(y))});
  c.by_points_ = std::move(points);
  return c;
}

Curve Curve::from(std::vector<double> const& numbers) {
  if (numbers.empty()) return {};
  if (numbers[0] == 0) return polynomial({numbers.begin() + 1, numbers.end()});
  std::vector<double> x, y;
  for (std::size_t i = 1; i + 1 < numbers.size(); i += 2) x.push_back(numbers[i]), y.push_back(numbers[i + 1]);
  return through(std::move(x), std::move(y));
}

WithSlope Curve::at(double x) const {
  if (!by_points_) {
    WithSlope p;
    for (std::size_t k = coefficients_.size(); k-- > 0;) p = {p.value * x + coefficients_[k], p.slope * x + p.value};
    return p;
  }
  return std::visit(
      [&](auto const& cubic) {
        auto const beyond = [&](double end) {
          double const slope = cubic.prime(end);
          return WithSlope{cubic(end) + slope * (x - end), slope};
        };
        return x <= x_.front() ? beyond(x_.front()) : x >= x_.back() ? beyond(x_.back()) : WithSlope{cubic(x), cubic.prime(x)};
      },
      by_points_->cubic);
}

}  // namespace steadyfire
