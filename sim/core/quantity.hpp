#pragma once
/// SI quantities that cannot be mixed up, and the units they are shown in.
///
/// Inside the solvers a number is SI. A `Quantity` guards the border: it is made
/// by the reader, and a field declared in a unit of another dimension does not
/// compile. Parsing of what users write is core/units.hpp's.

#include <cmath>
#include <compare>
#include <string_view>

namespace steadyfire {

struct Dimension {
  int m{}, kg{}, s{}, K{}, money{};
  bool point{};  ///< a point on a scale (a temperature), not an amount
  bool of_fuel{};  ///< heat in a volume of fuel, which in base units is a pressure
  friend constexpr bool operator==(Dimension const&, Dimension const&) = default;
};

/// `*q` is its SI number: said where it is meant, never by accident.
template <Dimension D>
struct Quantity {
  static constexpr Dimension dimension = D;
  double si{};
  constexpr double operator*() const { return si; }
  friend constexpr auto operator<=>(Quantity const&, Quantity const&) = default;
};

/// Of an SI number that is NaN where the user said nothing.
inline bool is_stated(double si) { return !std::isnan(si); }

using Fraction          = Quantity<Dimension{}>;
using Length            = Quantity<Dimension{.m = 1}>;
using Area              = Quantity<Dimension{.m = 2}>;
using Volume            = Quantity<Dimension{.m = 3}>;
using Time              = Quantity<Dimension{.s = 1}>;
using Rate              = Quantity<Dimension{.s = -1}>;
using Velocity          = Quantity<Dimension{.m = 1, .s = -1}>;
using VolumeFlow        = Quantity<Dimension{.m = 3, .s = -1}>;
using MassFlow          = Quantity<Dimension{.kg = 1, .s = -1}>;
using Pressure          = Quantity<Dimension{.m = -1, .kg = 1, .s = -2}>;
using HeatingValue      = Quantity<Dimension{.m = -1, .kg = 1, .s = -2, .of_fuel = true}>;  ///< J/m³
using Density           = Quantity<Dimension{.m = -3, .kg = 1}>;
using Viscosity         = Quantity<Dimension{.m = -1, .kg = 1, .s = -1}>;
using Energy            = Quantity<Dimension{.m = 2, .kg = 1, .s = -2}>;
using Power             = Quantity<Dimension{.m = 2, .kg = 1, .s = -3}>;
using PowerPerLength    = Quantity<Dimension{.m = 1, .kg = 1, .s = -3}>;
using PowerPerArea      = Quantity<Dimension{.kg = 1, .s = -3}>;
using Conductance       = Quantity<Dimension{.m = 2, .kg = 1, .s = -3, .K = -1}>;
using ConductancePerLength = Quantity<Dimension{.m = 1, .kg = 1, .s = -3, .K = -1}>;
using ConductancePerArea = Quantity<Dimension{.kg = 1, .s = -3, .K = -1}>;
using Resistance        = Quantity<Dimension{.kg = -1, .s = 3, .K = 1}>;  ///< m²·K/W: an R-value
using Conductivity      = Quantity<Dimension{.m = 1, .kg = 1, .s = -3, .K = -1}>;
using HeatCapacity      = Quantity<Dimension{.m = 2, .kg = 1, .s = -2, .K = -1}>;
using SpecificHeat      = Quantity<Dimension{.m = 2, .s = -2, .K = -1}>;
using HeatPerVolume     = Quantity<Dimension{.m = -1, .kg = 1, .s = -2, .K = -1}>;  ///< J/(m³·K)
using TemperatureChange = Quantity<Dimension{.K = 1}>;
using Temperature       = Quantity<Dimension{.K = 1, .point = true}>;
using DegreeTime        = Quantity<Dimension{.s = 1, .K = 1}>;  ///< degree-days
using PricePerEnergy    = Quantity<Dimension{.m = -2, .kg = -1, .s = 2, .money = 1}>;
using MassPerEnergy     = Quantity<Dimension{.m = -2, .s = 2}>;

template <Dimension D>
struct Unit {
  std::string_view symbol;
  double scale = 1, offset = 0;
  constexpr double to_si(double written) const { return scale * written + offset; }
};

/// The same without its type: what tables and messages work with.
struct AnyUnit {
  Dimension dimension;
  std::string_view symbol;
  double scale = 1, offset = 0;
  template <Dimension D>
  constexpr AnyUnit(Unit<D> u) : dimension{D}, symbol{u.symbol}, scale{u.scale}, offset{u.offset} {}
  constexpr double to_si(double written) const { return scale * written + offset; }
  constexpr double from_si(double si) const { return (si - offset) / scale; }
};

namespace unit {
inline constexpr double Btu = 1055.05585262;        // [J], international table
inline constexpr double gallon_m3 = 3.785411784e-3;  // US
inline constexpr Unit<Fraction::dimension> one{""}, percent{"%", 0.01};
inline constexpr Unit<Length::dimension> metre{"m"}, millimetre{"mm", 1e-3}, micrometre{"um", 1e-6}, foot{"ft", 0.3048}, inch{"in", 0.0254};
inline constexpr Unit<Area::dimension> square_metre{"m2"}, square_foot{"ft2", 0.09290304};
inline constexpr Unit<Volume::dimension> cubic_metre{"m3"}, litre{"L", 1e-3}, gallon{"gal", gallon_m3};
inline constexpr Unit<Time::dimension> second{"s"}, minute{"min", 60}, hour{"h", 3600}, day{"d", 86400};
inline constexpr Unit<Rate::dimension> per_hour{"1/h", 1 / 3600.};
inline constexpr Unit<Velocity::dimension> metre_per_second{"m/s"}, foot_per_second{"ft/s", 0.3048};
inline constexpr Unit<VolumeFlow::dimension> cubic_metre_per_second{"m3/s"}, cubic_metre_per_hour{"m3/h", 1 / 3600.},
    litre_per_second{"L/s", 1e-3}, gpm{"gpm", gallon_m3 / 60}, cfm{"cfm", 0.028316846592 / 60};
inline constexpr Unit<MassFlow::dimension> kilogram_per_second{"kg/s"}, kilogram_per_hour{"kg/h", 1 / 3600.},
    pound_per_hour{"lb/h", 0.45359237 / 3600};
inline constexpr Unit<Pressure::dimension> pascal{"Pa"}, kilopascal{"kPa", 1e3}, psi{"psi", 6894.757293168};
inline constexpr Unit<Density::dimension> kilogram_per_cubic_metre{"kg/m3"};
inline constexpr Unit<Viscosity::dimension> pascal_second{"Pa.s"}, centipoise{"cP", 1e-3};
inline constexpr Unit<Energy::dimension> joule{"J"}, kilowatt_hour{"kWh", 3.6e6}, kBtu{"kBtu", 1e3 * Btu}, therm{"therm", 1e5 * Btu};
inline constexpr Unit<Power::dimension> watt{"W"}, kilowatt{"kW", 1e3}, Btu_per_hour{"Btu/h", Btu / 3600},
    kBtu_per_hour{"kBtu/h", Btu / 3.6};
inline constexpr Unit<PowerPerLength::dimension> watt_per_metre{"W/m"}, Btu_per_hour_foot{"Btu/(h.ft)", Btu / 3600 / 0.3048};
inline constexpr Unit<PowerPerArea::dimension> watt_per_square_metre{"W/m2"},
    Btu_per_hour_square_foot{"Btu/(h.ft2)", Btu / 3600 / 0.09290304};
inline constexpr Unit<Conductance::dimension> watt_per_kelvin{"W/K"}, Btu_per_hour_degF{"Btu/(h.degF)", Btu / 2000};
inline constexpr Unit<ConductancePerLength::dimension> watt_per_metre_kelvin{"W/(m.K)"},
    Btu_per_hour_foot_degF{"Btu/(h.ft.degF)", Btu / 2000 / 0.3048};
inline constexpr Unit<ConductancePerArea::dimension> watt_per_square_metre_kelvin{"W/(m2.K)"},
    Btu_per_hour_square_foot_degF{"Btu/(h.ft2.degF)", Btu / 2000 / 0.09290304};
inline constexpr Unit<Resistance::dimension> square_metre_kelvin_per_watt{"m2.K/W"}, R_value{"ft2.degF.h/Btu", 0.09290304 * 2000 / Btu};
inline constexpr Unit<HeatCapacity::dimension> joule_per_kelvin{"J/K"}, kilojoule_per_kelvin{"kJ/K", 1e3},
    Btu_per_degF{"Btu/degF", Btu * 1.8};
inline constexpr Unit<SpecificHeat::dimension> joule_per_kilogram_kelvin{"J/(kg.K)"};
inline constexpr Unit<HeatPerVolume::dimension> joule_per_cubic_metre_kelvin{"J/(m3.K)"};
inline constexpr Unit<TemperatureChange::dimension> kelvin{"K"}, degF_change{"degF", 5 / 9.};
inline constexpr Unit<DegreeTime::dimension> degF_day{"degF.d", 48000}, kelvin_day{"K.d", 86400};
inline constexpr Unit<Temperature::dimension> degC{"degC", 1, 273.15}, degF{"degF", 5 / 9., 459.67 * 5 / 9.};
inline constexpr Unit<PricePerEnergy::dimension> money_per_joule{"USD/J"}, money_per_therm{"USD/therm", 1 / (1e5 * Btu)},
    money_per_kWh{"USD/kWh", 1 / 3.6e6};
inline constexpr Unit<MassPerEnergy::dimension> kilogram_per_joule{"kg/J"}, kilogram_per_million_Btu{"kg/MMBtu", 1e-6 / Btu},
    gram_per_kWh{"g/kWh", 1e-3 / 3.6e6};
}  // namespace unit

}  // namespace steadyfire
