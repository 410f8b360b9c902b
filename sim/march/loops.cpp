#include "sim/march/loops.hpp"

// The same source compiled twice, for any processor and for those with vectors of four doubles; which of them runs is chosen
// when the program starts. Sanitizers can't instrument that choice.
#if defined(__x86_64__) && defined(__gnu_linux__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define STEADYFIRE_WIDE [[gnu::target_clones("avx2", "default")]]
#else
#define STEADYFIRE_WIDE
#endif

namespace steadyfire::loops {

STEADYFIRE_WIDE void sum(int n, double a, double const* x, double b, double const* y, double* z) {
#pragma GCC ivdep
  for (int i = 0; i < n; ++i) z[i] = a * x[i] + b * y[i];
}

STEADYFIRE_WIDE void add_scaled(int n, double const* x, double b, double const* y, double* z) {
#pragma GCC ivdep
  for (int i = 0; i < n; ++i) z[i] = x[i] + b * y[i];
}

STEADYFIRE_WIDE void scale(int n, double c, double const* x, double* z) {
#pragma GCC ivdep
  for (int i = 0; i < n; ++i) z[i] = c * x[i];
}

STEADYFIRE_WIDE void combine(int n, int count, double const* c, double const* const* x, double* z) {
  if (count == 1) return scale(n, c[0], x[0], z);
  sum(n, c[0], x[0], c[1], x[1], z);
  int k = 2;
  for (; k + 1 < count; k += 2) {  // two at a time, as most of the cost is reading and writing
    double const c0 = c[k], c1 = c[k + 1];
    double const *const x0 = x[k], *const x1 = x[k + 1];
#pragma GCC ivdep
    for (int i = 0; i < n; ++i) z[i] = (z[i] + c0 * x0[i]) + c1 * x1[i];
  }
  if (k < count) add_scaled(n, z, c[k], x[k], z);
}

STEADYFIRE_WIDE void multiply(int n, double const* x, double* z) {
#pragma GCC ivdep
  for (int i = 0; i < n; ++i) z[i] = x[i] * z[i];
}

STEADYFIRE_WIDE double weighted_square(int n, double const* x, double const* w) {
  double part[4]{};
  int i = 0;
  for (; i + 4 <= n; i += 4)
    for (int lane = 0; lane < 4; ++lane) part[lane] += (x[i + lane] * w[i + lane]) * (x[i + lane] * w[i + lane]);
  for (; i < n; ++i) part[0] += (x[i] * w[i]) * (x[i] * w[i]);
  return (part[0] + part[1]) + (part[2] + part[3]);
}

}  // namespace steadyfire::loops
