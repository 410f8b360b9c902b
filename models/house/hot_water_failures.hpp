#pragma once
/// Draws of a run that failed, and why.

#include "models/house/house.hpp"
#include "models/house/hot_water_maker.hpp"
#include "sim/record/record.hpp"

namespace steadyfire {

/// All taps that are open at once.
struct AtOnce {
  double cold = 0, heat = 0;   ///< [K], [W] that they need
  std::vector<TapWish> open;
};

/// Shape   failures by tap and cause, the gravest first; `worst`: of those by heat, the moment that needs most of it.
/// Valid   of the draws that the record keeps one by one, its first 5 000.
/// Errors  heat at hand is calculated at full fire, with 5 % to spare for what it leaves out: the casing, cold combustion air.
struct FailedDraws {
  std::vector<DrawFailure> failures;
  AtOnce worst;
};
FailedDraws failed_draws(Project const&, Record const&);

/// What users should know of them, and of rooms that cooled meanwhile. Valid: once the record has its failures and remedies.
std::vector<Finding> hot_water_findings(Project const&, Record const&);

}  // namespace steadyfire
