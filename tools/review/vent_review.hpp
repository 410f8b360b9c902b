#pragma once
/// Vent and intake: their length, their material in the flue gas that the days bring, the air of the site.

#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// Shape  tables "vent_runs" and "vent_flue_gas", and "site_air" where the altitude is stated; nothing is judged without [vent].
/// Valid  flue gas leaves at the water entering the boiler plus its approach at full fire: the most, at any fire.
ReviewPart review_vent(Job const&);

}  // namespace steadyfire
