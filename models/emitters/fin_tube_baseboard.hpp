#pragma once
#include "models/emitters/heated_space.hpp"
#include "models/friction.hpp"
#include "models/pipe_sizes.hpp"

namespace steadyfire {

/// Fin-tube baseboard.
///
///   heat = P'·L·(ΔT/ΔT_r)^n·(Q/Q_r)^m     each cell by its own mean excess; Q/Q_r held between 0.1 and 2
///
/// Shape   one branch with cells; heats one room.
/// Valid   ratings that contain the 15 % heating-effect credit must be divided by 1.15 first. Colder
///         water draws heat from the room by the same law.
/// Source  exponent: ASHRAE Handbook, HVAC Systems and Equipment, hydronic heat-distributing units, from
///         memory; m = 0.04 is the trade's correction from 4 to 1 gpm (0.95), from memory.
struct FinTubeBaseboard {
  Length length;
  PowerPerLength output;
  Temperature rated_water, rated_air;
  VolumeFlow rated_flow;
  double exponent, flow_exponent;
  Fraction radiant_share;
  std::string size;
  int cell_count;
  Reference room;

  PipeSize tube{};                     // from prepare()
  double coefficient = 0, share = 0;   // of a cell [W/K^n]; φ: from settle()

  static constexpr std::string_view kind = "fin-tube baseboard", family = "emitter",
                                    summary = "Fin-tube baseboard, from its rated output by length";
  static constexpr Role role = Role::emitter;
  static constexpr Usual usual{160, 170, 180, 20};
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using B = FinTubeBaseboard;
    return {field<&B::length>("length", foot, 0.5, 2000, "active finned length"),
            field<&B::output>("output", Btu_per_hour_foot, 20, 5000, "output per length at rated water, air and flow")
                .typical(500, 580, 650),
            field<&B::rated_water>("rated_water", degF, 90, 240, "average water temperature of the rated output").otherwise(180),
            field<&B::rated_air>("rated_air", degF, 40, 80, "entering air temperature of the rated output").otherwise(65),
            field<&B::rated_flow>("rated_flow", gpm, 0.1, 50, "flow of the rated output").typical(1, 1, 4),
            number<&B::exponent>("exponent", 1, 1.6, "exponent of the output curve; an older trade curve has 1.417")
                .typical(1.2, 1.31, 1.42, "ASHRAE Handbook, edition not checked"),
            number<&B::flow_exponent>("flow_exponent", 0, 0.3, "exponent of the flow correction").typical(0, 0.04, 0.06),
            radiant_share_field<&B::radiant_share>(radiated::baseboard),
            text<&B::size>("tube", "tube size").optional("\"3/4 in copper M\""),
            count<&B::cell_count>("cells", 1, 60, "water cells along the baseboard").otherwise(6),
            reference<&B::room>("room", "room", "room that it heats").optional("the zone's room")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const& size = value_of<&FinTubeBaseboard::size>(e);
    if (!size.text.empty() && !find_pipe_size(size.text)) {
      auto const near = nearest(size.text, pipe_size_names());
      faults.add({"E221", size.at, e.who + ": unknown tube size \"" + size.text + "\"",
                  "nominal size, material and type, such as \"3/4 in copper M\"", near.empty() ? "" : "did you mean \"" + near + "\"?"});
    }
  }
  static constexpr double fins = 450;  // heat held by fins and hangers [J/(m·K)]: 0.5 kg of aluminium a metre, common practice, no source

  void prepare() { tube = find_pipe_size(size.empty() ? "3/4 in copper M" : size).value(); }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return pipe_loss(flow, *length, tube.inside_diameter, tube.roughness, 0, s.local()); }
  Cells cells(int, Fluid const&) const {
    return {cell_count, std::numbers::pi / 4 * tube.inside_diameter * tube.inside_diameter * *length,
            (tube.wall_heat_capacity_per_length + fins) * *length, true};
  }
  void settle(Site const& s) {
    double const excess = *rated_water - *rated_air, of_rated = std::abs(s.flow()) / s.local().density / *rated_flow;
    double const heat = *output * *length / cell_count * std::pow(std::clamp(of_rated, 0.1, 2.0), flow_exponent);
    coefficient = heat / std::pow(excess, exponent);
    // A cell that keeps slugs is the mean of its own water; else what entered it counts too.
    share = s.keeps_slugs() ? 0 : entering_share(heat / excess, s.capacity_rate());
  }
  void laws(auto& book, Site const& s) const {
    heat_by_excess(book, s, heated_space(s, room, *radiant_share), coefficient, exponent, share);
  }
};

}  // namespace steadyfire
