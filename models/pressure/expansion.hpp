#pragma once
/// How much a tank must take up as the water of a circuit warms.

#include <algorithm>
#include <limits>

namespace steadyfire {

/// Lengthening of the pipes' metal [1/K]; 0 leaves their growth out, which is on the safe side. ASHRAE
/// Handbook, HVAC Systems and Equipment (6.5e-6 and 9.5e-6 in/(in·°F)).
inline constexpr double steel_lengthening = 6.5e-6 * 1.8, copper_lengthening = 9.5e-6 * 1.8;

/// Volume that has to leave pipes which grow as they warm [m³].
///
///   ΔV = V·[(ρ_cold/ρ_hot − 1) − 3α·Δt]
///
/// Shape   volume [m³], densities [kg/m³], α [1/K], Δt [K].
/// Source  ASHRAE Handbook, HVAC Systems and Equipment, hydronic systems (edition from memory).
inline double expansion_volume(double volume, double cold_density, double hot_density, double lengthening, double warming) {
  return volume * (cold_density / hot_density - 1 - 3 * lengthening * warming);
}

/// Tank with a diaphragm, its cushion set to the fill pressure [m³].
///
///   V_t = ΔV/(1 − P₁/P₂)      P₁, P₂: absolute, cold and hot [Pa]
///
/// Valid   P₁ < P₂; infinite otherwise.
/// Source  as above: there ASME's formula, net of the pipes' own growth.
inline double diaphragm_tank(double expansion, double cold_pressure, double hot_pressure) {
  return cold_pressure < hot_pressure ? expansion / (1 - cold_pressure / hot_pressure) : std::numeric_limits<double>::infinity();
}

/// Closed tank whose air, at `air` before it was filled, has no diaphragm [m³].
///
///   V_t = ΔV/(P_a/P₁ − P_a/P₂)
///
/// Source  as above.
inline double closed_air_tank(double expansion, double cold_pressure, double hot_pressure, double air = 101325) {
  return cold_pressure < hot_pressure ? expansion / (air / cold_pressure - air / hot_pressure) : std::numeric_limits<double>::infinity();
}

/// Tank with a diaphragm and a reserve of water [m³].
///
///   V = (V_e + V_r)·(p_e + 1)/(p_e − p_0)      p [bar] gauge
///   V_r = max(0.5 % of the system, 3 L); 20 % of the tank where it holds at most 15 L
///
/// Shape   expansion V_e and system [m³], pressures [Pa] gauge: cushion p_0 before filling, final p_e.
/// Valid   p_0 < p_e; infinite otherwise.
/// Source  EN 12828 annex (formula from memory; the rule of the reserve from a public page).
inline double european_tank(double expansion, double system, double precharge, double final_pressure) {
  double constexpr bar = 1e5, small = 0.015, least_reserve = 0.003;
  if (precharge >= final_pressure) return std::numeric_limits<double>::infinity();
  double const useful = (final_pressure - precharge) / (final_pressure + bar);  // share of the tank that water can fill
  double const of_small = useful > 0.2 ? expansion / (useful - 0.2) : std::numeric_limits<double>::infinity();
  return of_small <= small ? of_small : (expansion + std::max(0.005 * system, least_reserve)) / useful;
}

/// Pressure of the cushion once `expansion` has come in [Pa], absolute; infinite where the tank is full.
///
///   P₂ = P₁·V_a/(V_a − ΔV)      V_a = V_t·P₀/P₁, V_t where the cushion P₀ is set above the fill P₁, which then is P₀
///
/// Source  Boyle's law; the cushion stays at its temperature.
inline double cushion_when_hot(double tank, double precharge, double filled, double expansion) {
  double const start = std::max(precharge, filled), air = tank * precharge / start;
  return expansion < air ? start * air / (air - expansion) : std::numeric_limits<double>::infinity();
}

}  // namespace steadyfire
