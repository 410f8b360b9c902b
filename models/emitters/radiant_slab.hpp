#pragma once
#include "models/emitters/heated_space.hpp"
#include "models/emitters/tube_film.hpp"
#include "models/pipe_sizes.hpp"

namespace steadyfire {

/// Thermal resistance between the wall of one tube and the mean temperature of the plane
/// in which many lie side by side, of one metre of tube [m·K/W].
///
///   R' = [ln(T/(π·d)) + Σ_s ((1 + r₁)(1 + r₂)/(1 − r₁·r₂) − 1)/s]/(2π·λ)
///   r  = (λk − U)/(λk + U)·e^(−2ka),  k = 2πs/T     a, U: distance and conductance to either face
///
/// The logarithm alone is the plane of tubes of ISO 11855-2, far from both faces; the sum
/// is what the faces reflect, and matters where the tube lies near one of them.
///
/// Shape   spacing T, diameter d, distances above and below the tube's centre [m]; U [W/(m²·K)].
/// Errors  against a finite-difference solution of the whole plate, on the resistance from tube wall
///         to room: 0.6 % (1.0 % for a 20 mm tube) with a tube diameter or more below the centre, 3 %
///         too much with the tube touching an insulated face; the tube counts as a line source.
/// Source  Fourier series over the spacing, own derivation; its logarithm is ISO 11855-2's, from memory.
inline double tube_plane_resistance(double spacing, double diameter, double conductivity, double above, double U_above, double below,
                                    double U_below) {
  using std::numbers::pi;
  double sum = std::log(spacing / (pi * diameter));
  for (int s = 1; s <= 200; ++s) {
    double const k = 2 * pi * s / spacing;
    auto const reflected = [&](double distance, double U) {
      return (conductivity * k - U) / (conductivity * k + U) * std::exp(-2 * k * distance);
    };
    double const r1 = reflected(above, U_above), r2 = reflected(below, U_below);
    sum += ((1 + r1) * (1 + r2) / (1 - r1 * r2) - 1) / s;
  }
  return sum / (2 * pi * conductivity);
}

/// Floor with embedded tube: temperatures across its depth, by segments along the circuit.
///
///   water → tube plane   UA·(φ·T_in + (1 − φ)·T_cell − T_plane)   1/UA: film, tube wall, tube_plane_resistance
///   point ↔ point        λ·A/δ across the slab; through the covering A/R
///   floor → room         8.92·A·(T_floor − T_room)^1.1, or a constant coefficient; mirrored where the floor is colder
///   bottom → ground      A/R_down; to a space below A/(R_down + 0.17 m²·K/W)
///
/// Shape   one branch, a cell a segment, equal loops side by side in it; own states: segments ×
///         points, bottom up, at bottom, tube plane, top, between them, and on the covering.
/// Valid   heat runs across the slab only; edges and ground lose nothing sideways; room air
///         stands for the operative temperature; cooling follows the heating curve.
///         A covering holds 0.15 MJ/(m²·K) per m²·K/W, as wood does: common practice, no source.
/// Errors  transients of a plane wall 1 % of the step from Fourier number 0.1 on; steady heat against
///         EN 1264 type A 8 %, with the tube on the insulation 10 % (two-dimensional differences: 3 % or less).
/// Source  EN 1264-2 and ISO 11855-2: the curve and the limits of floor temperature.
struct RadiantSlab {
  Area area;
  Length spacing, tube_length, tube_depth, thickness;
  int loops, use, layers, segments;
  std::string size;
  double loss_coefficient;
  Conductivity conductivity;
  HeatPerVolume heat_per_volume;
  Resistance covering, down_resistance;
  ConductancePerArea surface_coefficient;
  Temperature start;
  Reference room, below;

  // From prepare(), SI
  PipeSize tube{};
  std::vector<double> gaps, capacities;  // of a segment: conductance between points [W/K], heat capacity of points [J/K]
  int tube_point = 0;
  double loop_length = 0, wall_and_plane = 0, down = 0;  // [m], [m·K/W], [W/K]
  // From settle()
  double UA = 0, share = 0;  // of a segment's tube [W/K]; φ

  static constexpr std::string_view kind = "radiant slab", family = "emitter", summary = "Heated floor: concrete with embedded tube";
  static constexpr Role role = Role::emitter;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using S = RadiantSlab;
    return {
        field<&S::area>("floor_area", square_foot, 1, 1e5, "heated floor").typical(100, 300, 1500),
        count<&S::loops>("loops", 0, 500, "equal loops side by side; 0 takes as many as keep each below 300 ft").otherwise(0),
        field<&S::tube_length>("tube_length", foot, 5, 2000, "of one loop; by area and spacing if not given").optional(),
        text<&S::size>("tube", "size of the tube; \"1/2 in PEX\" if not given").optional(),
        field<&S::spacing>("spacing", inch, 2, 36, "tube to tube").typical(6, 9, 12),
        field<&S::tube_depth>("tube_depth", inch, 0.3, 40, "centre of the tube below the top of the slab; half the thickness if not given")
            .optional(),
        field<&S::thickness>("thickness", inch, 1, 40, "of the slab").typical(1.5, 4, 6),
        field<&S::conductivity>("conductivity", Btu_per_hour_foot_degF, 0.05, 5, "of the slab").typical(0.6, 0.8, 1.0),
        field<&S::heat_per_volume>("heat_per_volume", joule_per_cubic_metre_kelvin, 1e5, 5e6, "density times heat capacity of the slab")
            .typical(1.8e6, 2.1e6, 2.3e6),
        field<&S::covering>("covering", R_value, 0, 10, "R-value of what lies on the slab").typical(0.1, 0.5, 2),
        field<&S::surface_coefficient>("surface_coefficient", Btu_per_hour_square_foot_degF, 0.1, 20,
                                       "floor to room, constant; by the standard's curve if not given")
            .optional(),
        field<&S::down_resistance>("down_resistance", R_value, 0.5, 100, "R-value of insulation and soil under the slab")
            .typical(5, 10, 20),
        reference<&S::below>("below", "room", "the room under the floor; the ground if not given").optional(),
        number<&S::loss_coefficient>("loss_coefficient", 0, 1e4, "sum of K in one loop: its valves and bends").typical(0, 5, 20),
        choice<&S::use>("use", {"occupied", "bathroom", "perimeter"}, "sets the limit of floor temperature").otherwise(0),
        count<&S::layers>("layers", 2, 60, "slices of the slab's depth").otherwise(5),
        count<&S::segments>("segments", 1, 40, "pieces along the circuit").otherwise(4),
        field<&S::start>("start", degF, 0, 150, "temperature at the start").otherwise(70),
        reference<&S::room>("room", "room", "the room it heats").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &size = value_under(e, "tube"), &depth = value_under(e, "tube_depth"), &thickness = value_under(e, "thickness");
    auto const tube = find_pipe_size(size.text.empty() ? usual_tube : size.text);
    if (!tube) {
      auto const near = nearest(size.text, pipe_size_names());
      faults.add({"E221", size.at, "radiant slab: no tube size \"" + size.text + "\"", "a nominal size and material, as \"1/2 in PEX\"",
                  near.empty() ? "" : "did you mean \"" + near + "\"?"});
      return;
    }
    if (thickness.numbers.empty()) return;
    double const half = tube->outside_diameter / 2, thick = thickness.numbers[0],
                 deep = depth.numbers.empty() ? thick / 2 : depth.numbers[0];
    if (deep < half || deep + half > thick)
      faults.add({"E245", depth.given ? depth.at : thickness.at, "radiant slab: the tube does not lie within the slab",
                  "slab above and below the tube", "tube_depth is measured from the top of the slab to the tube's centre",
                  depth.given && thickness.given ? thickness.at : Position{}});
  }

  static constexpr std::string_view usual_tube = "1/2 in PEX";
  static constexpr double film_down = 0.17;         // ceiling of a space below [m²·K/W], EN 1264-2, from memory
  static constexpr double covering_heat = 0.15e6;   // [J/(m²·K)] per m²·K/W
  static constexpr double usual_coefficient = 10.8; // [W/(m²·K)] EN 1264-2's mean over its curve
  bool by_curve() const { return std::isnan(*surface_coefficient); }

  void prepare() {
    tube = find_pipe_size(size.empty() ? usual_tube : size).value();
    double const all_tube = *area / *spacing;
    if (loops == 0)
      loops =
          std::isnan(*tube_length) ? std::max(1, int(std::ceil(all_tube / 91.44))) : std::max(1, int(std::lround(all_tube / *tube_length)));
    loop_length = std::isnan(*tube_length) ? all_tube / loops : *tube_length;

    double const above = std::isnan(*tube_depth) ? *thickness / 2 : *tube_depth, under = *thickness - above, A = *area / segments;
    int const slices_above = std::clamp(int(std::lround(layers * above / *thickness)), 1, layers - 1), slices_under = layers - slices_above;
    tube_point = slices_under;
    gaps.clear(), capacities.assign(1, 0);
    auto const slice = [&](double conductance, double heat) {
      gaps.push_back(conductance * A);
      capacities.back() += heat * A / 2, capacities.push_back(heat * A / 2);
    };
    for (int i = 0; i < layers; ++i) {
      double const d = i < slices_under ? under / slices_under : above / slices_above;
      slice(*conductivity / d, *heat_per_volume * d);
    }
    if (*covering > 0) slice(1 / *covering, covering_heat * *covering);

    double const U_up = 1 / (1 / (by_curve() ? usual_coefficient : *surface_coefficient) + *covering);
    double const R_down = *down_resistance + (below ? film_down : 0);
    down = A / R_down;
    wall_and_plane = std::log(tube.outside_diameter / tube.inside_diameter) / (2 * std::numbers::pi * tube.wall_conductivity) +
                     tube_plane_resistance(*spacing, tube.outside_diameter, *conductivity, above, U_up, under, 1 / R_down);
  }

  int points() const { return int(capacities.size()); }
  Place point(Site const& s, int segment, int i) const { return s.own(segment * points() + i); }
  Place floor(Site const& s, int segment) const { return point(s, segment, points() - 1); }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    return pipe_loss(flow / double(loops), loop_length, tube.inside_diameter, tube.roughness, loss_coefficient, s.local());
  }
  Cells cells(int, Fluid const&) const {
    double const bore = std::numbers::pi / 4 * tube.inside_diameter * tube.inside_diameter, length = loops * loop_length;
    return {segments, bore * length, tube.wall_heat_capacity_per_length * length};
  }
  std::vector<OwnState> states() const {
    std::vector<OwnState> list;
    for (int s = 0; s < segments; ++s)
      for (int i = 0; i < points(); ++i)
        list.push_back({(i == points() - 1 ? "floor"
                         : i == tube_point ? "tube plane"
                                           : "depth " + std::to_string(i)) +
                            " " + std::to_string(s),
                        capacities[i], *start});
    return list;
  }

  void settle(Site const& s) {
    UA = loops * loop_length / segments / (film_resistance(s.flow() / loops, tube.inside_diameter, s.local()) + wall_and_plane);
    share = entering_share(UA, s.capacity_rate());
  }
  void links(Links& book, Site const& s) const {
    auto const space = heated_space(s, room);
    for (int n = 0; n < segments; ++n) {
      Place const plane = point(s, n, tube_point), bottom = point(s, n, 0);
      book.link(s.water(n), plane, UA * (1 - share));
      book.link(s.water(n), plane, UA * share, upstream(s, n), plane);
      for (std::size_t i = 0; i < gaps.size(); ++i) book.link(point(s, n, int(i)), point(s, n, int(i) + 1), gaps[i]);
      if (!by_curve()) book.link(floor(s, n), space.to, *surface_coefficient * *area / segments, floor(s, n), space.at);
      if (below) book.link(bottom, s.of(below), down);
      else book.link(bottom, account::floor_down, down, bottom, given::ground);
    }
  }
  void laws(auto& book, Site const& s) const {
    if (!by_curve()) return;
    auto const space = heated_space(s, room);
    double const c = 8.92 * *area / segments;
    for (int n = 0; n < segments; ++n)
      book.heat(floor(s, n), space.to, [=](auto floor, auto air) { return c * odd_power(floor - air, 1.1); }, floor(s, n), space.at);
  }

  double warmest_floor(Site const& s) const {
    double warmest = 0;
    for (int n = 0; n < segments; ++n) warmest = std::max(warmest, s[floor(s, n)]);
    return warmest;
  }
  void findings(Site const& s, std::vector<Finding>& list) const {
    constexpr std::array limits{302.15, 306.15, 308.15};  // 29, 33, 35 °C
    double const warmest = warmest_floor(s), limit = limits[use];
    if (warmest > limit)
      list.push_back(
          {"slab.floor_too_warm",
           "",
           "serious",
           {{"floor temperature", warmest, measure::fine_temperature}},
           Figure{"limit", limit, measure::fine_temperature},
           "EN 1264-2, ISO 11855-2",
           "the floor is warmer than the standard allows for its use: lower the water temperature, or spread the load over more floor",
           40});
  }
};

}  // namespace steadyfire
