#pragma once
/// Effectiveness of heat exchangers by number of transfer units.

#include <algorithm>
#include <cmath>

namespace steadyfire {

enum class FlowPattern { counterflow, parallel, crossflow, shell_and_tube };

/// Crossflow, both sides unmixed, exact.
///
///   ε = 1 − e^(−N) − e^(−(1 + C)·N)·Σₙ Cⁿ·Pₙ(N)      Pₙ(y) = 1/(n + 1)!·Σⱼ₌₁ⁿ (n + 1 − j)/j!·y^(n+j)
///
/// Shape   N = UA/C_min, at most 200 (more is taken for 200), C = C_min/C_max from 0 to 1.
/// Errors  1e-12; the terms are all positive, so none cancel.
/// Source  J. L. Mason, Heat transfer in cross-flow, 1955, as quoted by Kays and London, from memory; values of an independent
///         integration of both streams in tests/reference/emitters_reference_test.cpp.
inline double crossflow_effectiveness(double N, double C) {
  if (C < 1e-9 || N <= 0) return -std::expm1(-N);
  double const y = std::min(N, 200.0);  // beyond it e^(−2N) leaves the range of numbers
  double sum = 0, of_n = std::exp(-(1 + C) * y);  // Cⁿ·yⁿ·e^(−(1 + C)·y)/(n + 1)!
  for (int n = 1; n < 20 + 8 * y; ++n) {
    of_n *= C * y / (n + 1);
    double row = 0, of_j = of_n;
    for (int j = 1; j <= n; ++j) {
      of_j *= y / j, row += (n + 1 - j) * of_j;
      if (j > y && of_j < 1e-18) break;
    }
    sum += row;
    if (n > y && row < 1e-15) break;
  }
  return std::clamp(-std::expm1(-y) - sum, 0.0, 1.0);
}

/// ε(N, C).
///
/// Shape   N = UA/C_min ≥ 0, C = C_min/C_max from 0 to 1.
/// Source  Incropera and DeWitt, table 11.4 (one shell pass, any even number of tube passes).
inline double effectiveness(FlowPattern pattern, double N, double C) {
  switch (pattern) {
    case FlowPattern::counterflow: {
      double const e = std::exp(-N * (1 - C));
      return C > 0.9999 ? N / (1 + N) : (1 - e) / (1 - C * e);
    }
    case FlowPattern::parallel: return -std::expm1(-N * (1 + C)) / (1 + C);
    case FlowPattern::crossflow: return crossflow_effectiveness(N, C);
    case FlowPattern::shell_and_tube: {
      double const root = std::sqrt(1 + C * C), e = std::exp(-N * root);
      return N <= 0 ? 0 : 2 / (1 + C + root * (1 + e) / (1 - e));
    }
  }
  return 0;
}

}  // namespace steadyfire
