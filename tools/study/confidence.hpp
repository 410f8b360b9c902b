#pragma once
/// How well residuals tell their unknowns.

#include <Eigen/Dense>
#include <vector>

namespace steadyfire {

/// Residuals by column and window, weighted so that each column's are about 1.
struct Comparison {
  std::vector<int> column, window;  ///< by residual; windows of one column rise
  Eigen::VectorXd residuals;
  Eigen::MatrixXd slopes;       ///< by unknown
  Eigen::VectorXd slope_noise;  ///< by unknown: what noise in the slopes adds to the sum of their squares
  std::vector<bool> untold{};   ///< by unknown: known from elsewhere not to be told by these residuals; empty for none
};

struct Confidence {
  Eigen::VectorXd half;         ///< by unknown: half the 95 % interval, the others being unknown too
  Eigen::VectorXd alone;        ///< the same if all others were known
  Eigen::MatrixXd correlation;  ///< of the errors
  double condition = 1;         ///< largest over least singular value of the slopes, each unknown's scaled to 1
  double effective = 0;         ///< independent windows that those compared are worth
};

/// 95 % intervals of unknowns fitted by least squares.
///
///   half = t₀.₉₇₅(n − p)·√(f·s²·A⁻¹),  A = Σ JᵀJ − what noise adds,  n = Σ windows·(1 − ρ)/(1 + ρ)
///   f = the larger of windows/n and A⁻¹·M·A⁻¹ over s²·A⁻¹ by unknown
///   M = Σ_l (1 − |l|/(L + 1))·Σ_w g_w·g_{w+l}ᵀ,  g_w = Σ over the columns of window w of J·r
///
/// ρ is of a column's neighbouring residuals. f counts that neighbours in time err alike, M also that columns do. An unknown whose slopes
/// do not stand out of their noise is not told (half is infinite); the others' intervals count that it may be off by half.
///
/// Valid   a model that is straight over the interval; errors of the model that look like noise.
/// Source  W. K. Newey and K. D. West, Econometrica 55 (1987) 703: sums over lags; G. V. Bayley and J. M. Hammersley, J. R. Stat. Soc. 8
///         (1946) 184: the worth of correlated observations. Both from memory.
Confidence confidence_of(Comparison const&);

}  // namespace steadyfire
