#pragma once
#include "models/emitters/indirect_tank.hpp"

namespace steadyfire {

/// The indirect tank with its potable water as a way of its own: cold enters below, hot leaves above.
///
///   water drawn   W·(T_below − T) in each layer, T_entering below the lowest; the top layer leaves
///
/// Shape   two branches, coil and potable water; the layers are own states as those of the indirect tank, so that the
///         second has no cells: what enters at its inlet is exchanged for the top layer at its outlet.
/// Valid   draws run forwards, with a check before; layers at 1000 kg/m³ and 4180 J/(kg·K), drawn water at its own.
struct PotableTank : IndirectTank {
  static constexpr std::string_view kind = "potable tank", summary = "Indirect tank that feeds the taps, with its aquastat";
  static constexpr std::array branches{Branch{"inlet", "outlet"}, Branch{"cold", "hot"}};
  static std::vector<Field> schema() {
    auto all = IndirectTank::schema();
    std::erase_if(all, [](Field const& f) { return f.key == "draws" || f.key == "cold_water"; });
    return all;
  }
  static void check(Entry const&, Diagnostics&) {}

  template <class Flow>
  Flow loss(int b, Flow flow, Site const& s) const { return b == 0 ? IndirectTank::loss(b, flow, s) : 2000.0 * flow * abs_of(flow) + flow; }
  template <class Flow>
  static Flow abs_of(Flow const& flow) { return greater(flow, -flow); }
  Way way(int b, Site const&) const { return b == 0 ? Way::open : Way::forward; }
  Cells cells(int b, Fluid const& fluid) const { return b == 0 ? IndirectTank::cells(b, fluid) : Cells{}; }
  void links(Links& book, Site const& s) const {
    coil_and_standby(book, s);
    double const W = s.flow(1) > 0 ? s.capacity_rate(1) : 0;
    for (int i = 0; i < layers; ++i) book.link(s.outlet(1), s.own(i), W, i + 1 < layers ? s.own(i + 1) : s.inlet(1), s.own(i));
  }
};

}  // namespace steadyfire
