#pragma once
/// Where water and its vapour stand in balance.

#include <cmath>

namespace steadyfire {

namespace detail::saturation {
inline constexpr double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6, n3 = -0.17073846940092e2, n4 = 0.12020824702470e5,
                        n5 = -0.32325550322333e7, n6 = 0.14915108613530e2, n7 = -0.48232657361591e4, n8 = 0.40511340542057e6,
                        n9 = -0.23855557567849, n10 = 0.65017534844798e3;
}

/// Saturation pressure of water [Pa].
///
///   p = (2C / (√(B² − 4AC) − B))⁴ MPa,   A, B, C quadratic in θ = T + n₉/(T − n₁₀)
///
/// Valid   273.15 to 647 K.
/// Errors  within 0.025 % of the reference equation of state.
/// Source  IAPWS R7-97(2012) eq. 30.
template <class N>
N saturation_pressure(N kelvin) {
  using namespace detail::saturation;
  using std::sqrt;
  N const t = kelvin + n9 / (kelvin - n10);
  N const a = (t + n1) * t + n2, b = (n3 * t + n4) * t + n5, c = (n6 * t + n7) * t + n8;
  N const root = 2 * c / (sqrt(b * b - 4 * a * c) - b), square = root * root;
  return 1e6 * square * square;
}

/// Temperature at which water of this pressure [Pa] boils, vapour of this partial
/// pressure condenses [K].
///
/// Valid   611 Pa to 22 MPa.
/// Errors  the exact inverse of `saturation_pressure`.
/// Source  IAPWS R7-97(2012) eq. 31.
inline double saturation_temperature(double pascal) {
  using namespace detail::saturation;
  double const r = std::sqrt(std::sqrt(pascal * 1e-6));
  double const e = (r + n3) * r + n6, f = (n1 * r + n4) * r + n7, g = (n2 * r + n5) * r + n8;
  double const d = 2 * g / (-f - std::sqrt(f * f - 4 * e * g)), sum = n10 + d;
  return 0.5 * (sum - std::sqrt(sum * sum - 4 * (n9 + n10 * d)));
}

}  // namespace steadyfire
