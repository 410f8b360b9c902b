#pragma once
/// Published days of draws, as rules for testing water heaters state them.

#include <string_view>
#include <vector>

#include "models/hot_water/draw.hpp"

namespace steadyfire {

/// The tapping profiles of the European Union.
///
///   volume = Q_tap/(ρ·cp·(T_wanted − 10 °C))
///
/// Shape   wanted is the peak temperature T_p where the table gives one; else 40 °C, which it gives for baths and
///         cleaning, or 2 K above T_m where that is higher. Water counts from T_m on, where T_m is above cold water.
/// Valid   3XS, XXS, XS, S, M, L, XL, XXL. The regulation's rig draws hot water unmixed at the flow stated; a tap that
///         mixes takes less of it, with the same energy.
/// Source  Commission Regulation (EU) No 814/2013, Annex III, table 1 (as EN 13203-2).
enum class TappingProfile { xxxs, xxs, xs, s, m, l, xl, xxl };
inline constexpr std::string_view tapping_profiles[]{"3XS", "XXS", "XS", "S", "M", "L", "XL", "XXL"};
std::vector<Draw> draws_of(TappingProfile);
/// Q_ref: what the table says the day's energy is [J].
double reference_energy(TappingProfile);
inline constexpr double tapping_cold = 283.15;  ///< [K] cold water of the profiles

/// The draw patterns of the United States: hot water unmixed at 125 °F, cold water 58 °F.
///
/// Source  10 CFR part 430, subpart B, appendix E, tables III.1 to III.4: from memory. The sums are the published
///         10, 38, 55 and 84 gal.
enum class DrawPattern { very_small, low, medium, high };
inline constexpr std::string_view draw_patterns[]{"very small", "low", "medium", "high"};
std::vector<Draw> draws_of(DrawPattern);

}  // namespace steadyfire
