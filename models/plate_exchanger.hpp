#pragma once
#include "models/effectiveness.hpp"
#include "models/friction.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Heat exchanger between two circuits: plates in counterflow, unless another pattern is stated.
///
///   heat = ε·C_min·(T_hot,in − T_cold,in)     ε(NTU, C_r): effectiveness()
///   NTU = UA/C_min                            1/UA = 1/h_hot + 1/h_cold + scaling/UA_rated, h ∝ flow^0.7
///
/// Shape   two branches, hot and cold, one water cell each.
/// Valid   UA from the rated one; the exponent 0.7 stands for 0.65–0.75, common practice, no source.
///         Scale resists alike at any flow; how thick it grows hangs on hardness and heat, and is the user's.
/// Source  Kays and London, Compact Heat Exchangers; ε as in Incropera table 11.4.
struct PlateExchanger {
  Conductance rated_conductance;
  VolumeFlow rated_flow;
  Length rated_head_loss;
  Volume water;
  Fraction scaling;
  FlowPattern pattern;

  double passed = 0;  // ε·C_min [W/K], from settle()

  static constexpr std::string_view kind = "plate exchanger", family = "exchanger", summary = "Plate heat exchanger between two circuits";
  static constexpr Role role = Role::exchanger;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"hot_inlet", "hot_outlet"}, Branch{"cold_inlet", "cold_outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&PlateExchanger::rated_conductance>("rated_conductance", Btu_per_hour_degF, 1, 1e6, "UA with rated flow on both sides"),
        field<&PlateExchanger::rated_flow>("rated_flow", gpm, 0.1, 500, "flow of the stated UA and head loss"),
        field<&PlateExchanger::rated_head_loss>("rated_head_loss", foot, 0.01, 100, "head loss of each side at rated_flow"),
        field<&PlateExchanger::water>("water_content", gallon, 0.01, 50, "water in each side").typical(0.1, 0.3, 1),
        field<&PlateExchanger::scaling>("scaling", percent, 0, 500,
                                        "resistance of scale, share of the clean plates' at rated_flow")
            .otherwise(0),
        choice<&PlateExchanger::pattern>("flow_pattern", {"counterflow", "parallel flow", "crossflow", "shell and tube"},
                                         "how its two sides pass each other; plates are in counterflow")
            .otherwise(0)};
  }
  template <class Flow>
  Flow loss(int b, Flow flow, Site const& s) const {
    double const k = s.fluid().density * 9.80665 * *rated_head_loss / (*rated_flow * *rated_flow);
    Flow const Q = flow / s.local(b).density;
    return k * square_with_sign(Q);
  }
  Cells cells(int, Fluid const&) const { return {1, *water, 0}; }

  /// ε·C_min [W/K] from the capacity rates of both sides, and of the rated flow [W/K].
  double passing(double hot, double cold, double rated) const {
    double const least = std::min(hot, cold), most = std::max(hot, cold);
    if (least < 1e-6 * rated) return 0;
    double const UA = *rated_conductance * 2 / (std::pow(hot / rated, -0.7) + std::pow(cold / rated, -0.7) + 2 * *scaling);
    return least * effectiveness(pattern, UA / least, least / most);
  }
  void settle(Site const& s) {
    passed = passing(s.capacity_rate(0), s.capacity_rate(1), *rated_flow * s.fluid().density * s.fluid().heat_capacity);
  }
  void links(Links& book, Site const& s) const { book.link(s.water(0, 0), s.water(0, 1), passed, s.entering(0), s.entering(1)); }
};

}  // namespace steadyfire
