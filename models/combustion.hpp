#pragma once
/// Flue-gas chemistry: what burning a gas makes, and what leaves by the flue.

#include "models/fluid/saturation.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Mole fractions; they add up to one.
struct GasComposition { double methane, ethane, propane, carbon_dioxide, nitrogen; };

constexpr GasComposition natural_gas() { return {0.94, 0.035, 0.006, 0.006, 0.013}; }  ///< of a pipeline, typical
constexpr GasComposition propane() { return {0, 0, 1, 0, 0}; }

/// Composition of the gas, as its supplier states it.
struct StatedGas {
  Fraction methane, ethane, propane, carbon_dioxide, nitrogen;

  static constexpr std::string_view kind = "gas composition", family = "gas composition", summary = "Composition of the gas, by volume";
  static std::vector<Field> schema();
  /// Errors  adds E299 where the shares are not a whole within 0.5 %.
  static void check(Entry const&, Diagnostics&);
  GasComposition whole() const {
    double const sum = *methane + *ethane + *propane + *carbon_dioxide + *nitrogen;
    return {*methane / sum, *ethane / sum, *propane / sum, *carbon_dioxide / sum, *nitrogen / sum};
  }
};

/// Complete burning of a gas with excess dry air, both at 25 °C.
///
///   η = 1 − [n_dry·cp·(T − 25 °C) + n_v·(h_fg + cp_v·(T − 25 °C)) + (n_w − n_v)·cp_l·(T − 25 °C)]/HHV
///   n_v = min(n_w, n_dry·p_sat/(p − p_sat))
///   air that comes in at T_air takes n_air·cp·(25 °C − T_air)/HHV more
///
/// Shape   amounts in mol per mol of fuel; heats in J per mol of fuel, at 25 °C.
/// Valid   flue gas and condensate leave together at T, 5 to 200 °C, the gas saturated below
///         its dew point; no casing loss, no carbon monoxide. Real flue gas leaves a few
///         kelvin above the return and is not wholly in balance with its condensate.
/// Errors  constant molar heat capacities: 0.001 in η to 100 °C.
/// Source  stoichiometry; heating values after ISO 6976 and vaporisation heat, from memory;
///         saturation IAPWS R7-97(2012).
struct Combustion {
  double dry_carbon_dioxide{}, dry_oxygen{};             ///< fractions of the dry flue gas, as an analyser reads
  double vapour_fraction{};                              ///< of the wet flue gas, before any condenses
  double dew_point{};                                    ///< [K]
  double higher_heating_value{}, lower_heating_value{};  ///< [J/mol]
  double molar_mass{};                                   ///< of the fuel [kg/mol]
  double carbon_dioxide_per_joule{};                     ///< [kg/J] of HHV
  double pressure{};                                     ///< of the flue gas [Pa]
  double dry_amount{}, water_amount{};                   ///< n_dry, n_w
  double dry_heat_capacity{};                            ///< n_dry·cp [J/K]
  double air_amount{};                                   ///< n_air

  Combustion() = default;  ///< nothing burns; no use but to be assigned to
  Combustion(GasComposition const&, double excess_air, double pressure = 101325);

  static constexpr double reference = 298.15;         // K
  static constexpr double vaporisation_heat = 44010;  // at 25 °C [J/mol]
  static constexpr double vapour_heat_capacity = 33.6, water_heat_capacity = 75.3;  // J/(mol·K)
  static constexpr double water_molar_mass = 18.015e-3;                             // kg/mol
  static constexpr double air_heat_capacity = 29.1, air_molar_mass = 28.965e-3;     // J/(mol·K), kg/mol

  /// Heat capacity rate of the combustion air, for each watt of HHV [W/K per W].
  double air_rate() const { return air_amount * air_heat_capacity / higher_heating_value; }

  /// Heat to the water per HHV, from the flue temperature [K]: the ideal, casing left out.
  template <class N>
  N efficiency(N flue_temperature) const {
    N const rise = flue_temperature - reference, vapour = vapour_amount(flue_temperature);
    N const loss = (dry_heat_capacity + water_amount * water_heat_capacity) * rise
                 + vapour * (vaporisation_heat + (vapour_heat_capacity - water_heat_capacity) * rise);
    return 1 - loss / higher_heating_value;
  }

  /// Water that runs off, in kg per J of HHV; none above the dew point.
  template <class N>
  N condensate(N flue_temperature) const {
    return (water_amount - vapour_amount(flue_temperature)) * (water_molar_mass / higher_heating_value);
  }

 private:
  template <class N>
  N vapour_amount(N flue_temperature) const {
    return either(flue_temperature >= N(dew_point), [&] { return N(water_amount); }, [&] {
      N const p = saturation_pressure(flue_temperature);
      return N(dry_amount * p / (pressure - p));
    });
  }
};

}  // namespace steadyfire
