#pragma once
#include "models/emitters/heated_space.hpp"

namespace steadyfire {

/// Emitter of one conductance, for cases with a closed form.
///
///   heat = UA·(T_mean − T_around)      steady outlet: T_around + (T_in − T_around)·e^(−UA/(ṁ·cp))
///
/// Shape   one branch with cells; heats a room, or something of a fixed temperature (process heat).
struct LinearEmitter {
  Conductance conductance;
  Temperature around;
  VolumeFlow rated_flow;
  Length rated_head_loss;
  Volume water;
  int cell_count;
  Fraction radiant_share;
  Reference room;

  double share = 0;  // φ, from settle()

  static constexpr std::string_view kind = "linear emitter", family = "emitter",
                                    summary = "Emitter with one heat transfer rate (UA), for textbook cases";
  static constexpr Role role = Role::emitter;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using L = LinearEmitter;
    return {field<&L::conductance>("conductance", Btu_per_hour_degF, 0, 1e6, "UA, average water to room"),
            field<&L::around>("around", degF, -50, 200, "fixed temperature around it, instead of a room").optional(),
            field<&L::rated_flow>("rated_flow", gpm, 0.01, 1000, "flow of the stated head loss").otherwise(4),
            field<&L::rated_head_loss>("rated_head_loss", foot, 0.01, 200, "head loss at rated_flow").otherwise(2),
            field<&L::water>("water_content", gallon, 0.01, 500, "water in the emitter").otherwise(1),
            count<&L::cell_count>("cells", 1, 60, "water cells along the emitter").otherwise(1),
            radiant_share_field<&L::radiant_share>(0),
            reference<&L::room>("room", "room", "room that it heats").optional("the zone's room")};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return rated_loss(flow, *rated_flow, *rated_head_loss, s); }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, 0}; }
  void settle(Site const& s) { share = entering_share(*conductance / cell_count, s.capacity_rate()); }
  void links(Links& book, Site const& s) const {
    bool const fixed = !std::isnan(*around);
    auto const space = fixed ? HeatedSpace{{account::process, account::process, 0}, given::unity} : heated_space(s, room, *radiant_share);
    double const G = *conductance / cell_count;
    for (int i = 0; i < cell_count; ++i) {
      book.link(s.water(i), space.to, G * (1 - share), s.water(i), space.at);
      book.link(s.water(i), space.to, G * share, upstream(s, i), space.at);
      if (fixed) book.give(s.water(i), account::process, G * (1 - *around));  // unity is 1 K: what is left to the fixed temperature
    }
  }
};

/// Constant heat taken from the water, whatever its temperature, for cases with a closed form.
///
/// Shape   one branch with cells, an equal share from each; counted as process heat.
/// Valid   nothing ends the draw: water that is not reheated, or stands still, cools without limit.
struct HeatDraw {
  Power power;
  VolumeFlow rated_flow;
  Length rated_head_loss;
  Volume water;
  int cell_count;

  static constexpr std::string_view kind = "heat draw", family = "emitter",
                                    summary = "Constant heat drawn from the water, for textbook cases";
  static constexpr Role role = Role::emitter;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using H = HeatDraw;
    return {field<&H::power>("power", Btu_per_hour, 0, 1e7, "heat drawn; the water may cool without limit"),
            field<&H::rated_flow>("rated_flow", gpm, 0.01, 1000, "flow of the stated head loss").otherwise(4),
            field<&H::rated_head_loss>("rated_head_loss", foot, 0.01, 200, "head loss at rated_flow").otherwise(2),
            field<&H::water>("water_content", gallon, 0.01, 500, "water in the emitter").otherwise(1),
            count<&H::cell_count>("cells", 1, 60, "water cells along the emitter").otherwise(1)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return rated_loss(flow, *rated_flow, *rated_head_loss, s); }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, 0}; }
  void links(Links& book, Site const& s) const {
    for (int i = 0; i < cell_count; ++i) book.give(s.water(i), account::process, *power / cell_count);
  }
};

}  // namespace steadyfire
