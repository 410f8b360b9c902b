#pragma once
/// A number that knows its slopes with respect to N inputs, so that a law is
/// written once, as a formula, and its derivative cannot be forgotten.
/// A law may also be called with terms (formula.hpp), so it forks only by what stands at the end here.

#include <array>
#include <cmath>
#include <compare>
#include <concepts>

namespace steadyfire {

struct WithSlope { double value{}, slope{}; };

template <int N>
struct Dual {
  double value{};
  std::array<double, N> slope{};

  constexpr Dual() = default;
  template <class T>
    requires std::is_arithmetic_v<T>
  constexpr Dual(T v) : value{double(v)} {}
  static constexpr Dual input(double v, int i) { Dual d{v}; d.slope[i] = 1; return d; }

  /// f(a, b) from its value and its two partial slopes.
  static constexpr Dual chain(double f, double fa, Dual const& a, double fb, Dual const& b) {
    Dual d{f};
    for (int i = 0; i < N; ++i) d.slope[i] = fa * a.slope[i] + fb * b.slope[i];
    return d;
  }
  static constexpr Dual chain(double f, double fa, Dual const& a) {
    Dual d{f};
    for (int i = 0; i < N; ++i) d.slope[i] = fa * a.slope[i];
    return d;
  }

  friend constexpr Dual operator+(Dual const& a, Dual const& b) { return chain(a.value + b.value, 1, a, 1, b); }
  friend constexpr Dual operator-(Dual const& a, Dual const& b) { return chain(a.value - b.value, 1, a, -1, b); }
  friend constexpr Dual operator*(Dual const& a, Dual const& b) { return chain(a.value * b.value, b.value, a, a.value, b); }
  friend constexpr Dual operator/(Dual const& a, Dual const& b) {
    double const r = 1 / b.value;
    return chain(a.value * r, r, a, -a.value * r * r, b);
  }
  friend constexpr Dual operator-(Dual const& a) { return chain(-a.value, -1, a); }
  friend constexpr auto operator<=>(Dual const& a, Dual const& b) { return a.value <=> b.value; }
  friend constexpr bool operator==(Dual const& a, Dual const& b) { return a.value == b.value; }

  friend Dual sqrt(Dual const& a) { double const r = std::sqrt(a.value); return chain(r, 0.5 / r, a); }
  friend Dual exp(Dual const& a) { double const e = std::exp(a.value); return chain(e, e, a); }
  friend Dual log(Dual const& a) { return chain(std::log(a.value), 1 / a.value, a); }
  friend Dual pow(Dual const& a, double n) { double const p = std::pow(a.value, n - 1); return chain(p * a.value, n * p, a); }
  friend Dual abs(Dual const& a) { return a.value < 0 ? -a : a; }
};

/// Laws say abs() of any number: without this one, that of a double may be C's abs(int), which cuts it to a whole number.
inline double abs(double x) { return std::abs(x); }

inline double value_of(double x) { return x; }
template <int N>
double value_of(Dual<N> const& x) { return x.value; }

template <class Number>
constexpr Number within(Number x, Number least, Number most) {
  return x < least ? least : x > most ? most : x;
}
template <class Number>
constexpr Number lesser(Number a, Number b) { return b < a ? b : a; }
template <class Number>
constexpr Number greater(Number a, Number b) { return a < b ? b : a; }
/// One of two formulas.
template <class Then, class Else>
constexpr auto either(bool condition, Then then, Else otherwise) { return condition ? then() : otherwise(); }

}  // namespace steadyfire
