#pragma once
/// Loops over whole vectors, as wide as the processor works.
///
/// Shape   every function takes the length first; outputs may be one of the inputs, but not overlap them otherwise.
/// Valid   any length. Each element is reckoned alone and a sum in four fixed parts, without fused multiply-add: the
///         digits hang neither on the width nor on the machine.

namespace steadyfire::loops {

void sum(int n, double a, double const* x, double b, double const* y, double* z);        ///< z = a·x + b·y
void add_scaled(int n, double const* x, double b, double const* y, double* z);           ///< z = x + b·y
void scale(int n, double c, double const* x, double* z);                                 ///< z = c·x
void combine(int n, int count, double const* c, double const* const* x, double* z);      ///< z = c₁·x₁ + c₂·x₂ + …
void multiply(int n, double const* x, double* z);                                        ///< z = x·z, element by element
double weighted_square(int n, double const* x, double const* w);                         ///< Σ (x·w)²

}  // namespace steadyfire::loops
