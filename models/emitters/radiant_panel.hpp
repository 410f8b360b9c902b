#pragma once
#include "models/emitters/heated_space.hpp"
#include "models/emitters/tube_loops.hpp"

namespace steadyfire {

/// What tells one light construction from another. Low, usual, high: common practice, no source.
/// R-values [ft2.degF.h/Btu]; `coefficient` to the room [W/(m²·K)], 0 takes the floor's curve.
struct PanelOverSubfloorMake {
  static constexpr std::string_view kind = "panel over subfloor", summary = "Grooved panel with aluminum on top of the subfloor";
  static constexpr std::string_view over_help = "R-value of the floor covering: wood, tile, carpet",
                                    back_help = "R-value of subfloor and insulation below";
  static constexpr double spacing[]{6, 8, 12}, plate_width[]{5, 7, 10}, plate_thickness[]{0.01, 0.02, 0.06};  // in
  static constexpr double over[]{0.2, 0.6, 2}, back[]{8, 15, 25};
  static constexpr double coefficient = 0, hottest = 302.15;  // 29 °C
  static constexpr int beyond = 0;
  static Words limit_of() { return "EN 1264-2, ISO 11855-2; editions not checked"; }
  static constexpr double radiant = radiated::floor;
  static constexpr Usual usual{100, 115, 135, 10, 3};
};
struct PlatesUnderFloorMake {
  static constexpr std::string_view kind = "plates under floor", summary = "Aluminum plates and tube under the subfloor";
  static constexpr std::string_view over_help = "R-value of subfloor and floor covering above the plates",
                                    back_help = "R-value of insulation between the joists";
  static constexpr double spacing[]{8, 8, 12}, plate_width[]{3, 5, 7}, plate_thickness[]{0.012, 0.04, 0.06};
  static constexpr double over[]{0.9, 1.4, 3}, back[]{11, 19, 30};
  static constexpr double coefficient = 0, hottest = 302.15;
  static constexpr int beyond = 0;
  static Words limit_of() { return "EN 1264-2, ISO 11855-2; editions not checked"; }
  static constexpr double radiant = radiated::floor;
  static constexpr Usual usual{110, 135, 160, 15, 3};
};
struct RadiantCeilingMake {
  static constexpr std::string_view kind = "radiant ceiling", summary = "Tube and aluminum plates behind a ceiling board";
  static constexpr std::string_view over_help = "R-value of the board", back_help = "R-value of insulation above";
  static constexpr double spacing[]{6, 8, 12}, plate_width[]{4, 6, 10}, plate_thickness[]{0.012, 0.02, 0.06};
  static constexpr double over[]{0.3, 0.45, 0.7}, back[]{19, 38, 60};
  static constexpr double coefficient = 6, hottest = 310.93;  // 100 °F
  static constexpr int beyond = 1;
  static Words limit_of() { return say("{} ceiling; common practice, no published source", Amount{2.4384, measure::length}); }
  static constexpr double radiant = radiated::ceiling;
  static constexpr Usual usual{100, 115, 130, 10, 2};
};
struct RadiantWallMake {
  static constexpr std::string_view kind = "radiant wall", summary = "Tube and aluminum plates behind a wall board";
  static constexpr std::string_view over_help = "R-value of board and wainscot", back_help = "R-value of insulation behind";
  static constexpr double spacing[]{6, 8, 12}, plate_width[]{4, 6, 10}, plate_thickness[]{0.012, 0.02, 0.06};
  static constexpr double over[]{0.3, 0.45, 1}, back[]{11, 15, 25};
  static constexpr double coefficient = 8, hottest = 313.15;  // 40 °C
  static constexpr int beyond = 1;
  static Words limit_of() { return "EN 1264-3, edition not checked"; }
  static constexpr double radiant = radiated::wall;
  static constexpr Usual usual{95, 110, 130, 10, 2};
};

/// Heat that plates around parallel tubes give to both sides, of one m² and one kelvin of the plates at the
/// tube over the surroundings [W/(m²·K)].
///
///   plate, a fin           λt·m·(tanh(mL) + β)/(1 + β·tanh(mL))/(T/2),   m² = (U_over + U_back)/(λt),   L = w/2
///   gap, by the layer over it   β·λt·m = r/(1/G_gap + 1/G_edge),   G = λ_l·d·n·tanh(n·length),
///                          n² = (2λ_l/d | U_back + U_top)/(λ_l·d),   r: how warm the layer is over the plate
///
/// Shape   width w, thickness t and conductivity λ of the plates at spacing T; layer of thickness d and
///         conductivity λ_l over them, to the room by h, to the back by `back`.
/// Errors  3 % too little at most against two-dimensional differences (tests/reference/plate_fins.py).
/// Source  fin with a convecting tip: Incropera and DeWitt; the layer over the gap as a second fin: own derivation.
inline double plates_conductance(double spacing, double width, double thickness, double conductivity, double layer,
                                 double layer_conductivity, double h, double back) {
  double const U = 1 / (1 / h + layer / layer_conductivity) + back, root = std::sqrt(U * conductivity * thickness);
  double const L = std::tanh(width / 2 * U / root);
  double const U_top = 1 / (1 / h + layer / layer_conductivity / 2), near = 2 * layer_conductivity / layer;
  auto const fin = [&](double loss, double length) {
    double const G = std::sqrt(loss * layer_conductivity * layer);
    return G * std::tanh(length * loss / G);
  };
  double const gap = fin(U_top + back, (spacing - width) / 2), edge = fin(U_top + near, width / 2);
  double const tip = near / (near + U_top) * gap * edge / (gap + edge) / root;
  return root * (L + tip) / (1 + tip * L) / (spacing / 2);
}

/// Light heated floor, ceiling or wall: tube in aluminum plates, without concrete.
///
///   water → plates    UA·(φ·T_in + (1 − φ)·T_cell − T_plates),   of one m²
///                     1/UA = T·(R'_film + R'_wall + 1/contact) + 1/K − 1/(U_over + U_back),   K: plates_conductance
///   plates → surface  A/R_over,   R_over: subfloor, covering or board
///   surface → room    floor 8.92·A·(T_s − T_room)^1.1, ceiling 6, wall 8 W/(m²·K); mirrored where it is colder
///   plates → behind   A/(R_back + 0.17 m²·K/W)
///
/// Shape   one branch, a cell a segment, equal loops side by side in it; own states: segments × (plates,
///         surface).
/// Valid   the room is felt as its operative temperature. What covers the plates holds 0.15 MJ/(m²·K) per m²·K/W,
///         wood and board alike, the plates and their board 10 kJ/(m²·K): common practice, no source.
///         What covers the plates conducts as wood and gypsum board do, 0.14 W/(m·K), to spread heat over gaps.
/// Errors  plates and gaps 3 %; their contact with the tube is what is known least.
/// Source  coefficients: EN 1264-5 and ISO 11855-2, from memory but for the floor's.
template <class Make>
struct RadiantPanel {
  Area area;
  Length spacing, tube_length, plate_width, plate_thickness;
  int loop_count, segments, beyond;
  std::string size;
  double loss_coefficient;
  ConductancePerLength contact;
  Resistance over, back;
  Fraction radiant_share;
  Temperature start;
  Reference room, back_room;

  TubeLoops loops;
  double to_plates = 0, to_surface = 0, to_back = 0;  // of one metre of tube [m·K/W]; of a segment [W/K]: from prepare()
  double plates_heat = 0, surface_heat = 0;           // of a segment [J/K]
  double UA = 0, share = 0;                           // of a segment's tube [W/K]; φ: from settle()

  static constexpr std::string_view kind = Make::kind, family = "emitter", summary = Make::summary;
  static constexpr Role role = Role::emitter;
  static constexpr Usual usual = Make::usual;
  static constexpr bool is_floor = Make::coefficient == 0;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using P = RadiantPanel;
    auto const usually = [](Field const& f, double const (&t)[3]) { return f.typical(t[0], t[1], t[2]); };
    return {field<&P::area>(is_floor ? "floor_area" : "area", square_foot, 1, 1e5, "heated surface area").typical(50, 200, 1500),
            usually(field<&P::over>("over", R_value, 0.05, 10, std::string(Make::over_help)), Make::over),
            usually(field<&P::back>("back_resistance", R_value, 0.5, 100, std::string(Make::back_help)), Make::back),
            reference<&P::back_room>("back_room", "room", "heated room behind the panel, instead of `behind`").optional("none"),
            choice<&P::beyond>("behind", {"unheated space", "outdoors"}, "space behind the insulation").otherwise(Make::beyond),
            usually(field<&P::spacing>("spacing", inch, 2, 36, "tube spacing, center to center"), Make::spacing),
            usually(field<&P::plate_width>("plate_width", inch, 0.5, 36, "width of the aluminum plate on one tube"), Make::plate_width),
            usually(field<&P::plate_thickness>("plate_thickness", inch, 0.002, 0.5, "thickness of the aluminum"), Make::plate_thickness),
            field<&P::contact>("contact", Btu_per_hour_foot_degF, 0.2, 100, "heat transfer from tube to plate, per length of tube")
                .typical(2, 8, 20),
            text<&P::size>("tube", "tube size").optional("\"1/2 in PEX\""),
            count<&P::loop_count>("loops", 0, 500, TubeLoops::count_help()).otherwise(0),
            field<&P::tube_length>("tube_length", foot, 5, 2000, "length of one loop").optional("from area and spacing"),
            number<&P::loss_coefficient>("loss_coefficient", 0, 1e4, "total K of one loop: valves and bends").typical(0, 8, 30),
            count<&P::segments>("segments", 1, 40, "segments along the circuit").otherwise(4),
            field<&P::start>("start", degF, 0, 150, "temperature at the start of the run").otherwise(70),
            radiant_share_field<&P::radiant_share>(Make::radiant),
            reference<&P::room>("room", "room", "room that it heats").optional("the zone's room")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    using P = RadiantPanel;
    auto const &width = value_of<&P::plate_width>(e), &spacing = value_of<&P::spacing>(e), &room = value_of<&P::back_room>(e),
               &behind = value_of<&P::beyond>(e);
    check_pipe_size(value_of<&P::size>(e), e.who, faults);
    if (room.given && behind.given)
      faults.add({"E222", behind.at, e.who + ": both 'back_room' and 'behind'", "one of them",
          "for a heated room use back_room alone", room.at});
    if (!width.numbers.empty() && !spacing.numbers.empty() && width.numbers[0] > spacing.numbers[0] * (1 + 1e-9))
      faults.add({"E271", width.given ? width.at : spacing.at, e.who + ": the plates are wider than the tube spacing",
                  "plate_width at most the spacing", "for continuous plates write the spacing",
                  width.given && spacing.given ? spacing.at : Position{}});
  }

  static constexpr double film_back = 0.17;                                      // [m²·K/W] still air behind, EN 1264-2, from memory
  static constexpr double aluminum = 210, wood = 0.14, covering_heat = 0.15e6, board = 10e3;  // W/(m·K), J/(m²·K) per m²·K/W, J/(m²·K)

  void prepare() {
    loops = TubeLoops{size, *area, *spacing, *tube_length, loop_count};
    double const A = *area / segments, h = is_floor ? 10.8 : Make::coefficient;  // 10.8: EN 1264-2's mean over its curve
    double const U_over = 1 / (*over + 1 / h), U_back = 1 / (*back + film_back);
    double const K = plates_conductance(*spacing, *plate_width, *plate_thickness, aluminum, wood * *over, wood, h, U_back);
    to_plates = loops.wall_resistance() + 1 / *contact + (1 / K - 1 / (U_over + U_back)) / *spacing;
    to_surface = A / *over, to_back = A * U_back;
    surface_heat = covering_heat * *over / 2 * A, plates_heat = surface_heat + board * A;
  }
  Place plates(Site const& s, int segment) const { return s.own(2 * segment); }
  Place surface(Site const& s, int segment) const { return s.own(2 * segment + 1); }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return loops.loss(flow, loss_coefficient, s.local()); }
  Cells cells(int, Fluid const&) const { return loops.cells(segments); }
  std::vector<OwnState> states() const {
    std::vector<OwnState> list;
    for (int n = 0; n < segments; ++n) {
      list.push_back({"plates " + std::to_string(n), plates_heat, *start});
      list.push_back({(is_floor ? "floor " : "surface ") + std::to_string(n), surface_heat, *start, 1, 0,
                      is_floor ? StateRole::floor : StateRole::surface});
    }
    return list;
  }
  void settle(Site const& s) {
    UA = loops.count * loops.length / segments / (loops.film_resistance(s.flow(), s.local()) + to_plates);
    share = entering_share(UA, s.capacity_rate());
  }
  void links(Links& book, Site const& s) const {
    auto const space = heated_space(s, room, *radiant_share);
    for (int n = 0; n < segments; ++n) {
      book.link(s.water(n), plates(s, n), UA * (1 - share));
      book.link(s.water(n), plates(s, n), UA * share, upstream(s, n), plates(s, n));
      book.link(plates(s, n), surface(s, n), to_surface);
      if (!is_floor) book.link(surface(s, n), space.to, Make::coefficient * *area / segments, surface(s, n), space.at);
      if (back_room) book.link(plates(s, n), s.of(back_room, StateRole::surfaces), to_back);
      else book.link(plates(s, n), account::floor_down, to_back, plates(s, n), beyond ? given::outdoors : given::unheated);
    }
  }
  void laws([[maybe_unused]] auto& book, [[maybe_unused]] Site const& s) const {
    if constexpr (is_floor)
      for (int n = 0; n < segments; ++n) floor_heat(book, surface(s, n), heated_space(s, room, *radiant_share), *area / segments);
  }
  void findings(Site const& s, std::vector<Finding>& list) const {
    double warmest = 0;
    for (int n = 0; n < segments; ++n) warmest = std::max(warmest, s[surface(s, n)]);
    if (warmest <= Make::hottest) return;
    list.push_back({.id = is_floor ? "slab.floor_too_warm" : "panel.surface_too_warm",
                    .place = "",
                    .severity = Severity::serious,
                    .figures = {{is_floor ? "floor temperature" : "surface temperature", warmest, measure::fine_temperature}},
                    .limit = Figure{"limit", Make::hottest, measure::fine_temperature},
                    .whose = Make::limit_of(),
                    .words = say("{} {}, limit {} ({}).", is_floor ? "floor surface" : "surface",
                                 Amount{warmest, measure::fine_temperature}, Amount{Make::hottest, measure::fine_temperature},
                                 Make::limit_of()),
                    .order = 40,
                    .fix = is_floor ? "lower the supply temperature or heat more floor area."
                                    : "lower the supply temperature or heat more surface."});
  }
};

using PanelOverSubfloor = RadiantPanel<PanelOverSubfloorMake>;
using PlatesUnderFloor = RadiantPanel<PlatesUnderFloorMake>;
using RadiantCeiling = RadiantPanel<RadiantCeilingMake>;
using RadiantWall = RadiantPanel<RadiantWallMake>;

}  // namespace steadyfire
