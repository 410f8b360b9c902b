#pragma once
/// How a number is shown: one US trade unit and one SI unit for each sort of
/// number, chosen by the user once for the whole output.

#include <string>

#include "sim/core/quantity.hpp"

namespace steadyfire {

enum class UnitSystem { us, si };

struct Measure {
  AnyUnit us, si;
  int us_digits = 1, si_digits = 1;  ///< decimals shown
  constexpr AnyUnit const& unit(UnitSystem s) const { return s == UnitSystem::us ? us : si; }
};

namespace measure {
using namespace unit;
inline constexpr Measure flow{gpm, litre_per_second, 1, 3};
inline constexpr Measure mass_flow{pound_per_hour, kilogram_per_hour, 0, 1};
inline constexpr Measure head{foot, metre, 1, 2};
inline constexpr Measure head_gradient{Unit<Fraction::dimension>{"ft/100 ft", 0.01}, Unit<Fraction::dimension>{"m/100 m", 0.01}, 2, 2};
inline constexpr Measure length{foot, metre, 0, 1}, diameter{inch, millimetre, 3, 1};
inline constexpr Measure area{square_foot, square_metre, 0, 1};
inline constexpr Measure volume{gallon, litre, 1, 1}, whole_volume{gallon, litre, 0, 0};
inline constexpr Measure pressure{psi, kilopascal, 1, 1};
inline constexpr Measure velocity{foot_per_second, metre_per_second, 1, 2};
inline constexpr Measure temperature{degF, degC, 0, 1}, fine_temperature{degF, degC, 1, 1};
inline constexpr Measure temperature_change{degF_change, kelvin, 0, 1}, fine_temperature_change{degF_change, kelvin, 1, 1};
inline constexpr Measure power{kBtu_per_hour, kilowatt, 1, 2}, electric_power{watt, watt, 0, 0};
inline constexpr Measure energy{kBtu, kilowatt_hour, 0, 1}, fuel{therm, kilowatt_hour, 2, 1},
    electricity{kilowatt_hour, kilowatt_hour, 2, 2};
inline constexpr Measure flux{Btu_per_hour_square_foot, watt_per_square_metre, 1, 1};
inline constexpr Measure seconds{second, second, 0, 0}, minutes{minute, minute, 1, 1}, hours{hour, hour, 1, 1};
inline constexpr Measure share{percent, percent, 0, 0}, fine_share{percent, percent, 1, 1}, count{one, one, 0, 0}, plain{one, one, 2, 2};
inline constexpr Measure per_hour{unit::per_hour, unit::per_hour, 1, 1};
inline constexpr Measure degree_hours{Unit<Dimension{.s = 1, .K = 1}>{"degF.h", 2000}, Unit<Dimension{.s = 1, .K = 1}>{"K.h", 3600}, 1, 1};
inline constexpr Measure money{Unit<Dimension{.money = 1}>{"money"}, Unit<Dimension{.money = 1}>{"money"}, 2, 2};
inline constexpr Measure heat_capacity{Btu_per_degF, kilojoule_per_kelvin, 1, 1};
inline constexpr Measure mass{Unit<Dimension{.kg = 1}>{"lb", 0.45359237}, Unit<Dimension{.kg = 1}>{"kg"}, 0, 0};
}  // namespace measure

/// A unit as it is printed: "degF" is "°F", "Btu/(h.ft2)" is "Btu/(h·ft²)", "inH2O" is "in. w.c.". A reader takes it back as written.
std::string printed_unit(AnyUnit const&);

/// "8 gpm", "81%": a number that is written already, with its unit.
std::string with_unit(std::string number, AnyUnit const&);

/// "12.3 gpm", "81%", "158 °F"; the unit is left out where it is none. "-" for what is not a number: there is nothing to tell.
std::string show(double si, Measure const&, UnitSystem);

}  // namespace steadyfire
