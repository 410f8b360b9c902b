#pragma once
#include "models/emitters/slab_body.hpp"

namespace steadyfire {

/// Floor with embedded tube: temperatures across its depth, by segments along the circuit.
///
///   within               see SlabBody
///   floor → room         8.92·A·(T_floor − T_room)^1.1, or a constant coefficient; mirrored where the floor is colder
///   bottom → ground      A/R_down; to a space below A/(R_down + 0.17 m²·K/W), to outdoor air 0.04 instead of 0.17
///   edge → outdoors      F·P·(T_plane − T_outdoors)     P: length of exposed edge
///
/// Shape   one branch, a cell a segment, equal loops side by side in it; own states: those of SlabBody.
/// Valid   heat runs across the slab only; what the edge loses is taken evenly from the tube plane; the
///         ground keeps its given temperature; the room is felt as its operative temperature; cooling
///         follows the heating curve. F is published for slabs at room temperature; here the
///         warmer tube plane drives it.
///         A covering holds 0.15 MJ/(m²·K) per m²·K/W, as wood does: common practice, no source.
/// Errors  transients of a plane wall 1 % of the step from Fourier number 0.1 on; steady heat against
///         EN 1264 type A 8 %, with the tube on the insulation 10 % (two-dimensional differences: 3 % or less).
/// Source  EN 1264-2 and ISO 11855-2: the curve and the limits of floor temperature; 0.17 and 0.04 m²·K/W:
///         EN 1264-2 and ISO 6946, from memory; F: ASHRAE Handbook Fundamentals, slab floors, from memory.
struct RadiantSlab {
  Area area;
  Length spacing, tube_length, tube_depth, thickness, edge_length;
  int loop_count, use, layers, segments, under;
  std::string size;
  double loss_coefficient;
  Conductivity conductivity;
  HeatPerVolume heat_per_volume;
  Resistance covering, down_resistance;
  ConductancePerArea surface_coefficient;
  ConductancePerLength edge_loss;
  Fraction radiant_share;
  Temperature start;
  Reference room, below;

  // From prepare(), SI
  SlabBody body;
  double down = 0, edge = 0;  // of a segment [W/K]

  static constexpr std::string_view kind = "radiant slab", family = "emitter",
                                    summary = "Radiant slab: concrete with embedded tube, on grade or suspended";
  static constexpr Role role = Role::emitter;
  static constexpr bool is_floor = true;
  static constexpr Usual usual{90, 100, 110, 10, 8, 1};
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using S = RadiantSlab;
    auto const of_edge = [](double us) {
      return Amount{Btu_per_hour_foot_degF.to_si(us), Measure{Btu_per_hour_foot_degF, watt_per_metre_kelvin, 1, 1}};
    };
    return {
        field<&S::area>("floor_area", square_foot, 1, 1e5, "heated floor area")
            .typical(100, 300, 1500)
            .told_as(say("the zone's, else {}, assumed", Amount{square_foot.to_si(300), measure::area})),
        count<&S::loop_count>("loops", 0, 500, TubeLoops::count_help()).otherwise(0),
        field<&S::tube_length>("tube_length", foot, 5, 2000, "length of one loop").optional("from area and spacing"),
        text<&S::size>("tube", "tube size").optional("\"1/2 in PEX\""),
        field<&S::spacing>("spacing", inch, 2, 36, "tube spacing, center to center").typical(6, 9, 12),
        field<&S::tube_depth>("tube_depth", inch, 0.3, 40, "depth of the tube center below the slab surface")
            .optional("half the slab thickness"),
        field<&S::thickness>("thickness", inch, 1, 40, "slab thickness").typical(1.5, 4, 6),
        field<&S::conductivity>("conductivity", Btu_per_hour_foot_degF, 0.05, 5, "conductivity of the slab").typical(0.6, 0.8, 1.0),
        field<&S::heat_per_volume>("heat_per_volume", joule_per_cubic_metre_kelvin, 1e5, 5e6, "density times specific heat of the slab")
            .typical(1.8e6, 2.1e6, 2.3e6),
        field<&S::covering>("covering", R_value, 0, 10, "R-value of the floor covering").typical(0.1, 0.5, 2),
        field<&S::surface_coefficient>("surface_coefficient", Btu_per_hour_square_foot_degF, 0.1, 20,
            "heat transfer from floor to room, constant")
            .optional("from the curve of EN 1264-2"),
        field<&S::down_resistance>("down_resistance", R_value, 0.5, 100, "R-value of insulation and soil under the slab")
            .typical(5, 10, 20),
        reference<&S::below>("below", "room", "heated room under the floor, instead of `under`").optional("none"),
        choice<&S::under>("under", {"ground", "unheated space", "outdoors"}, "space under the slab").otherwise(0),
        field<&S::edge_length>("exposed_edge", foot, 0, 5000, "length of slab edge exposed to outdoors").otherwise(0),
        field<&S::edge_loss>("edge_loss", Btu_per_hour_foot_degF, 0, 5,
                             say("edge loss per length: {} with {}, {} to {} bare (ASHRAE, edition not checked)", of_edge(0.5),
                                 InEach{"R-5", "0.9 m²·°C/W of insulation"}, of_edge(0.7), of_edge(1.2)))
            .otherwise(0.55),
        number<&S::loss_coefficient>("loss_coefficient", 0, 1e4, "total K of one loop: valves and bends").typical(0, 5, 20),
        choice<&S::use>("use", {"occupied", "bathroom", "perimeter"}, "use of the floor; sets its temperature limit").otherwise(0),
        count<&S::layers>("layers", 2, 60, "layers of the slab in the model").otherwise(5),
        count<&S::segments>("segments", 1, 40, "segments along the circuit").otherwise(4),
        field<&S::start>("start", degF, 0, 150, "temperature at the start of the run").otherwise(70),
        radiant_share_field<&S::radiant_share>(radiated::floor),
        reference<&S::room>("room", "room", "room that it heats").optional("the zone's room")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &below = value_of<&RadiantSlab::below>(e), &under = value_of<&RadiantSlab::under>(e);
    if (below.given && under.given)
      faults.add(
          {"E222", under.at, e.who + ": both 'below' and 'under'", "one of them", "for a heated room use below alone", below.at});
    SlabBody::check<RadiantSlab>(e, faults);
  }

  static constexpr double film_down = 0.17, film_outdoors = 0.04;  // [m²·K/W]
  static constexpr double usual_coefficient = 10.8;                // [W/(m²·K)] EN 1264-2's mean over its curve
  bool by_curve() const { return std::isnan(*surface_coefficient); }

  void prepare() {
    double const above = std::isnan(*tube_depth) ? *thickness / 2 : *tube_depth,
                 U_over = by_curve() ? usual_coefficient : *surface_coefficient;
    double const R_down = *down_resistance + (below || under == 1 ? film_down : under == 2 ? film_outdoors : 0);
    body = {TubeLoops{size, *area, *spacing, *tube_length, loop_count},
            {*area, *spacing, above, *thickness - above, *conductivity, *heat_per_volume, *covering, U_over, 1 / R_down, layers, segments}};
    down = *area / segments / R_down, edge = *edge_loss * *edge_length / segments;
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return body.loops.loss(flow, loss_coefficient, s.local()); }
  Cells cells(int, Fluid const&) const { return body.loops.cells(segments); }
  std::vector<OwnState> states() const { return body.states("floor", StateRole::floor, *start); }
  void settle(Site const& s) { body.settle(s); }
  void links(Links& book, Site const& s) const {
    auto const space = heated_space(s, room, *radiant_share);
    body.links(book, s);
    for (int n = 0; n < segments; ++n) {
      Place const floor = body.top(s, n), plane = body.plane(s, n), bottom = body.bottom(s, n);
      if (!by_curve()) book.link(floor, space.to, *surface_coefficient * *area / segments, floor, space.at);
      if (below) book.link(bottom, s.of(below, StateRole::surfaces), down);
      else book.link(bottom, account::floor_down, down, bottom, std::array{given::ground, given::unheated, given::outdoors}[under]);
      book.link(plane, account::floor_down, edge, plane, given::outdoors);
    }
  }
  void laws(auto& book, Site const& s) const {
    if (!by_curve()) return;
    for (int n = 0; n < segments; ++n) floor_heat(book, body.top(s, n), heated_space(s, room, *radiant_share), *area / segments);
  }

  void findings(Site const& s, std::vector<Finding>& list) const {
    constexpr std::array limits{302.15, 306.15, 308.15};  // 29, 33, 35 °C
    constexpr char const* whose = "EN 1264-2, ISO 11855-2; editions not checked";
    double const warmest = body.warmest(s), limit = limits[use];
    if (warmest > limit)
      list.push_back({.id = "slab.floor_too_warm",
                      .place = "",
                      .severity = Severity::serious,
                      .figures = {{"floor temperature", warmest, measure::fine_temperature}},
                      .limit = Figure{"limit", limit, measure::fine_temperature},
                      .whose = whose,
                      .words = say("floor surface {}, limit {} ({}).", Amount{warmest, measure::fine_temperature},
                                   Amount{limit, measure::fine_temperature}, whose),
                      .order = 40,
                      .fix = "lower the supply temperature or heat more floor area."});
  }
};

}  // namespace steadyfire
