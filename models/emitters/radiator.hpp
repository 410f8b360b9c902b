#pragma once
#include <fmt/format.h>

#include "models/emitters/heated_space.hpp"
#include "models/fittings.hpp"

namespace steadyfire {

/// What tells one sort of radiator from another: common practice, no source.
struct PanelMake {
  static constexpr std::string_view kind = "panel radiator", summary = "Panel radiator, from its rated output";
  static constexpr double exponent[]{1.2, 1.3, 1.4}, cv[]{0.4, 0.8, 2};
  static constexpr double litres_per_kW = 3.5, metal_per_kW = 10e3;  // [J/K]
  static constexpr double radiant = radiated::panel_radiator;
  static constexpr Usual usual{120, 140, 160, 20};
};
struct ColumnMake {
  static constexpr std::string_view kind = "column radiator", summary = "Cast-iron column radiator: large water content and mass";
  static constexpr double exponent[]{1.2, 1.3, 1.35}, cv[]{0.8, 2, 5};
  static constexpr double litres_per_kW = 10, metal_per_kW = 28e3;  // a section of 0.11 kW: 1.1 L and 6 kg of iron
  static constexpr double radiant = radiated::column_radiator;
  static constexpr Usual usual{130, 150, 180, 20};
};
struct TowelMake {
  static constexpr std::string_view kind = "towel warmer", summary = "Towel warmer, partly covered by towels";
  static constexpr double exponent[]{1.15, 1.23, 1.3}, cv[]{0.3, 0.6, 1.2}, covered[]{0, 20, 40};
  static constexpr double litres_per_kW = 8, metal_per_kW = 9e3;
  static constexpr double radiant = radiated::towel_warmer;
  static constexpr Usual usual{120, 140, 160, 20};
};

/// Radiator by its rated output: panel, column or towel warmer.
///
///   heat = (1 − covered)·Φ_r·(ΔT/ΔT_r)^n      each cell by its own mean excess over the room
///
/// Shape   one branch with cells; heats one room.
/// Valid   the cells add up to the integral along the radiator, which EN 442's log mean stands for. Its coefficient is
///         such that they give the rated output at rated conditions: water that cools by a fifth of the rated excess, as
///         from 75 to 65 °C in a room of 20 °C. Colder water draws heat from the room by the same law.
/// Errors  rated output within 1e-6; three cells are within 0.2 % of the integral down to 60/40/20 °C.
/// Source  EN 442-2; typicals: common practice, no source.
template <class Make>
struct Radiator {
  Power output;
  TemperatureChange rated_excess;
  Fraction covered, radiant_share;
  double exponent, cv;
  Volume water;
  HeatCapacity metal;
  int cell_count;
  Reference room;

  double coefficient = 0;  // of a cell [W/K^n], from prepare()
  double share = 0;        // φ, from settle()

  static constexpr std::string_view kind = Make::kind, family = "emitter", summary = Make::summary;
  static constexpr Role role = Role::emitter;
  static constexpr Usual usual = Make::usual;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using R = Radiator;
    auto covered = field<&R::covered>("covered", percent, 0, 90, "output lost behind towels, clothes or furniture").otherwise(0);
    if constexpr (requires { Make::covered; }) covered = covered.typical(Make::covered[0], Make::covered[1], Make::covered[2]);
    return {field<&R::output>("output", Btu_per_hour, 50, 1e6, "rated output"),
            field<&R::rated_excess>("rated_excess", degF_change, 18, 180,
                                    say("rated average water temperature above room air (EN 442: {})",
                                        Amount{50, measure::temperature_change}))
                .otherwise(90),
            number<&R::exponent>("exponent", 1, 1.6, "exponent of the output curve")
                .typical(Make::exponent[0], Make::exponent[1], Make::exponent[2]),
            covered, radiant_share_field<&R::radiant_share>(Make::radiant),
            field<&R::water>("water_content", gallon, 0.01, 200,
                             "water in the radiator")
                .optional(InEach{fmt::format("{:.2g} gal per kBtu/h of output",
                                             Make::litres_per_kW * kBtu_per_hour.scale / 1e6 / gallon_m3),
                                 fmt::format("{:g} L per kW of output", Make::litres_per_kW)}),
            field<&R::metal>("metal", Btu_per_degF, 0.01, 2000,
                             "heat stored in its metal, per degree")
                .optional(InEach{fmt::format("{:.2g} Btu/°F per kBtu/h of output",
                                             Make::metal_per_kW / Btu_per_degF.scale * kBtu_per_hour.scale / 1e3),
                                 fmt::format("{:g} kJ/°C per kW of output", Make::metal_per_kW / 1000)}),
            number<&R::cv>("cv", 0.01, 100, "flow coefficient Cv of radiator and valve")
                .typical(Make::cv[0], Make::cv[1], Make::cv[2]),
            count<&R::cell_count>("cells", 1, 40, "water cells along the radiator").otherwise(3),
            reference<&R::room>("room", "room", "room that it heats").optional("the zone's room")};
  }
  void prepare() {
    if (std::isnan(*water)) water = {Make::litres_per_kW * 1e-6 * *output};
    if (std::isnan(*metal)) metal = {Make::metal_per_kW / 1000 * *output};
    coefficient = uncovered() * rated_coefficient();
  }
  /// Of a cell, uncovered [W/K^n], so that all cells together give the rated output.
  double rated_coefficient() const {
    double const drop = *rated_excess / 5, capacity_rate = *output / drop;
    double const φ = entering_share(*output / *rated_excess / cell_count, capacity_rate);
    double c = *output / cell_count / std::pow(*rated_excess, exponent);
    for (int round = 0; round < 30; ++round) {
      double in = *rated_excess + drop / 2, given = 0;  // excess over the room
      for (int i = 0; i < cell_count; ++i) {
        double out = in - drop / cell_count;
        for (int n = 0; n < 20; ++n) {  // capacity_rate·(in − out) = c·(φ·in + (1 − φ)·out)^n
          double const mean = φ * in + (1 - φ) * out, heat = c * std::pow(mean, exponent), before = out;
          out += (capacity_rate * (in - out) - heat) / (capacity_rate + (1 - φ) * exponent * heat / mean);
          if (out == before) break;
        }
        given += capacity_rate * (in - out), in = out;
      }
      if (double const before = std::exchange(c, c * (*output / given)); c == before) break;
    }
    return c;
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    constexpr double least = 1e-4;  // [kg/s] below it a straight piece, so that the slope stays finite
    return cv_to_loss(Flow(1), cv, s.local()) * flow * sqrt(flow * flow + least * least);
  }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, *metal}; }
  double uncovered() const { return 1 - *covered; }
  void settle(Site const& s) { share = entering_share(uncovered() * *output / *rated_excess / cell_count, s.capacity_rate()); }
  void laws(auto& book, Site const& s) const {
    heat_by_excess(book, s, heated_space(s, room, *radiant_share), coefficient, exponent, share);
  }
};

using PanelRadiator = Radiator<PanelMake>;
using ColumnRadiator = Radiator<ColumnMake>;
using TowelWarmer = Radiator<TowelMake>;

}  // namespace steadyfire
