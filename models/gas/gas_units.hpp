#pragma once
/// Units that only the gas trade uses, and how its numbers are shown.

#include "sim/core/measure.hpp"

namespace steadyfire {

namespace unit {
inline constexpr double cubic_foot_m3 = 0.028316846592;
inline constexpr Unit<VolumeFlow::dimension> cfh{"cfh", cubic_foot_m3 / 3600};
inline constexpr Unit<Pressure::dimension> inch_water{"inH2O", 249.08891}, millibar{"mbar", 100};
inline constexpr Unit<HeatingValue::dimension> Btu_per_cubic_foot{"Btu/ft3", Btu / cubic_foot_m3}, megajoule_per_cubic_metre{"MJ/m3", 1e6};
}  // namespace unit

namespace measure {
inline constexpr Measure gas_flow{unit::cfh, unit::cubic_metre_per_hour, 0, 2}, gas_pressure{unit::inch_water, unit::millibar, 2, 2};
inline constexpr Measure heating_value{unit::Btu_per_cubic_foot, unit::megajoule_per_cubic_metre, 0, 1};
inline constexpr Measure gas_length{unit::foot, unit::metre, 1, 1};
}  // namespace measure

}  // namespace steadyfire
