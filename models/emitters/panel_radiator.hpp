#pragma once
#include "models/emitters/heated_space.hpp"
#include "models/fittings.hpp"

namespace steadyfire {

/// Panel radiator.
///
///   heat = Φ_r·(ΔT/ΔT_r)^n      each cell by its own mean excess over the room
///
/// Shape   one branch with cells; heats one room's air.
/// Valid   the cells add up to the integral along the radiator, which EN 442's log mean stands for: at
///         60/40/20 °C 1.3 % below the log mean, 6 % below the arithmetic mean. At 75/65/20 °C it gives
///         0.5 % less than rated, as the rating counts the arithmetic mean. Colder water draws heat
///         from the room by the same law.
/// Errors  three cells are within 0.2 % of the integral down to 60/40/20 °C.
/// Source  EN 442-2; typicals: common practice, no source.
struct PanelRadiator {
  Power output;
  TemperatureChange rated_excess;
  double exponent, cv;
  Volume water;
  HeatCapacity metal;
  int cell_count;
  Reference room;

  double coefficient = 0;  // of a cell [W/K^n], from prepare()
  double share = 0;        // φ, from settle()

  static constexpr std::string_view kind = "panel radiator", family = "emitter", summary = "Panel radiator by its rated output";
  static constexpr Role role = Role::emitter;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using P = PanelRadiator;
    return {field<&P::output>("output", Btu_per_hour, 50, 1e6, "heat given at the rated excess"),
            field<&P::rated_excess>("rated_excess", degF_change, 18, 180,
                                    "mean water above room air at which the output is stated; EN 442 takes 50 K")
                .otherwise(90),
            number<&P::exponent>("exponent", 1, 1.6, "of the excess").typical(1.2, 1.3, 1.4),
            field<&P::water>("water_content", gallon, 0.01, 200, "water in it; 3.5 L a kW of output if not given").optional(),
            field<&P::metal>("metal", Btu_per_degF, 0.01, 2000, "heat held by its metal; 10 kJ/K a kW of output if not given").optional(),
            number<&P::cv>("cv", 0.01, 100, "of radiator and its valve, gpm at 1 psi").typical(0.4, 0.8, 2),
            count<&P::cell_count>("cells", 1, 40, "water cells along it").otherwise(3),
            reference<&P::room>("room", "room", "the room it heats").optional()};
  }
  void prepare() {
    if (std::isnan(*water)) water = {3.5e-6 * *output};
    if (std::isnan(*metal)) metal = {10.0 * *output};
    coefficient = *output / cell_count / std::pow(*rated_excess, exponent);
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    constexpr double least = 1e-4;  // [kg/s] below it a straight piece, so that the slope stays finite
    return cv_to_loss(Flow(1), cv, s.local()) * flow * sqrt(flow * flow + least * least);
  }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, *metal}; }
  void settle(Site const& s) { share = entering_share(*output / *rated_excess / cell_count, s.capacity_rate()); }
  void laws(auto& book, Site const& s) const { heat_by_excess(book, s, room, coefficient, exponent, share); }
};

}  // namespace steadyfire
