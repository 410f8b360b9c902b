#include "models/combustion.hpp"

namespace steadyfire {

std::vector<Field> StatedGas::schema() {
  using namespace unit;
  using G = StatedGas;
  auto const share = [](auto member_field) { return member_field.otherwise(0); };
  return {share(field<&G::methane>("methane", percent, 0, 100, "methane, by volume")),
          share(field<&G::ethane>("ethane", percent, 0, 100, "ethane, by volume")),
          share(field<&G::propane>("propane", percent, 0, 100, "propane and heavier, by volume")),
          share(field<&G::carbon_dioxide>("carbon_dioxide", percent, 0, 60, "carbon dioxide, by volume")),
          share(field<&G::nitrogen>("nitrogen", percent, 0, 60, "nitrogen, by volume"))};
}

void StatedGas::check(Entry const& e, Diagnostics& faults) {
  using G = StatedGas;
  double const burns = *get<&G::methane>(e) + *get<&G::ethane>(e) + *get<&G::propane>(e);
  double const sum = burns + *get<&G::carbon_dioxide>(e) + *get<&G::nitrogen>(e);
  if (std::abs(sum - 1) > 0.005 || burns < 0.3)
    faults.add({"E299", e.at, e.who + ": the shares of the gas add up to " + show(sum, measure::fine_share, UnitSystem::us),
                "shares that add up to 100%, 30% of them fuel", "write the analysis of the gas supplier"});
}

Combustion::Combustion(GasComposition const& gas, double excess_air, double flue_pressure) : pressure{flue_pressure} {
  constexpr double nitrogen_per_oxygen = 0.79 / 0.21;
  constexpr double methane_mass = 16.0425e-3, ethane_mass = 30.0690e-3, propane_mass = 44.0956e-3, carbon_dioxide_mass = 44.0095e-3,
                   nitrogen_mass = 28.0134e-3;  // kg/mol
  constexpr double carbon_dioxide_cp = 38.0, oxygen_cp = 29.4, nitrogen_cp = 29.1;  // J/(mol·K) near 50 °C, from memory

  double const carbon = gas.methane + 2 * gas.ethane + 3 * gas.propane;
  water_amount = 2 * gas.methane + 3 * gas.ethane + 4 * gas.propane;
  double const oxygen_needed = carbon + 0.5 * water_amount;

  double const carbon_dioxide = carbon + gas.carbon_dioxide;
  double const oxygen = excess_air * oxygen_needed;
  double const nitrogen = (1 + excess_air) * nitrogen_per_oxygen * oxygen_needed + gas.nitrogen;
  dry_amount = carbon_dioxide + oxygen + nitrogen;
  air_amount = (1 + excess_air) * (1 + nitrogen_per_oxygen) * oxygen_needed;
  dry_heat_capacity = carbon_dioxide_cp * carbon_dioxide + oxygen_cp * oxygen + nitrogen_cp * nitrogen;
  dry_carbon_dioxide = carbon_dioxide / dry_amount;
  dry_oxygen = oxygen / dry_amount;
  vapour_fraction = water_amount / (dry_amount + water_amount);
  dew_point = saturation_temperature(vapour_fraction * pressure);

  higher_heating_value = 890.63e3 * gas.methane + 1560.69e3 * gas.ethane + 2219.17e3 * gas.propane;
  lower_heating_value = higher_heating_value - water_amount * vaporisation_heat;
  carbon_dioxide_per_joule = carbon_dioxide * carbon_dioxide_mass / higher_heating_value;
  molar_mass = methane_mass * gas.methane + ethane_mass * gas.ethane + propane_mass * gas.propane
             + carbon_dioxide_mass * gas.carbon_dioxide + nitrogen_mass * gas.nitrogen;
}

}  // namespace steadyfire
