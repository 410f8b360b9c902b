#pragma once
/// Concrete with embedded tube: what a heated floor and a snow-melt slab have in common.

#include "models/emitters/heated_space.hpp"
#include "models/emitters/tube_loops.hpp"

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

/// Temperatures across the depth of a slab, by segments along the circuit.
///
///   water → tube plane   UA·(φ·T_in + (1 − φ)·T_cell − T_plane)   1/UA: film, tube wall, tube_plane_resistance
///   point ↔ point        λ·A/δ across the slab; through the covering A/R
///
/// Shape   own states: segments × points, bottom up, at bottom, tube plane, top, between them, and on the covering.
struct SlabBody {
  /// SI; `above` and `beneath` the tube's centre; conductances of what lies over and under the slab [W/(m²·K)].
  struct Make {
    double area, spacing, above, beneath, conductivity, heat_per_volume, covering, U_over, U_under;
    int layers, segments;
  };
  static constexpr double covering_heat = 0.15e6;  // [J/(m²·K)] per m²·K/W

  TubeLoops loops;
  int segments = 1, tube_point = 0;
  std::vector<double> gaps, capacities;  // of a segment: conductance between points [W/K], heat capacity of points [J/K]
  double wall_and_plane = 0;             // of one metre of tube [m·K/W]
  double UA = 0, share = 0;              // of a segment's tube [W/K]; φ: from settle()

  SlabBody() = default;
  SlabBody(TubeLoops const& laid, Make const& m) : loops{laid}, segments{m.segments}, capacities(1, 0) {
    double const thickness = m.above + m.beneath, A = m.area / segments;
    int const slices_above = std::clamp(int(count_near(m.layers * m.above / thickness)), 1, m.layers - 1);
    tube_point = m.layers - slices_above;
    auto const slice = [&](double conductance, double heat) {
      gaps.push_back(conductance * A);
      capacities.back() += heat * A / 2, capacities.push_back(heat * A / 2);
    };
    for (int i = 0; i < m.layers; ++i) {
      double const d = i < tube_point ? m.beneath / tube_point : m.above / slices_above;
      slice(m.conductivity / d, m.heat_per_volume * d);
    }
    if (m.covering > 0) slice(1 / m.covering, covering_heat * m.covering);
    wall_and_plane = loops.wall_resistance() + tube_plane_resistance(m.spacing, loops.tube.outside_diameter, m.conductivity, m.above,
                                                                     1 / (1 / m.U_over + m.covering), m.beneath, m.U_under);
  }

  int points() const { return int(capacities.size()); }
  Place point(Site const& s, int segment, int i) const { return s.own(segment * points() + i); }
  Place bottom(Site const& s, int segment) const { return point(s, segment, 0); }
  Place plane(Site const& s, int segment) const { return point(s, segment, tube_point); }
  Place top(Site const& s, int segment) const { return point(s, segment, points() - 1); }
  double warmest(Site const& s) const {
    double most = 0;
    for (int n = 0; n < segments; ++n) most = std::max(most, s[top(s, n)]);
    return most;
  }

  std::vector<OwnState> states(std::string const& of_top, StateRole top, double start) const {
    std::vector<OwnState> list;
    for (int s = 0; s < segments; ++s)
      for (int i = 0; i < points(); ++i)
        list.push_back({(i == points() - 1 ? of_top
                         : i == tube_point ? "tube plane"
                                           : "depth " + std::to_string(i)) +
                            " " + std::to_string(s),
                        capacities[i], start, 1, 0, i == points() - 1 ? top : StateRole::other});
    return list;
  }
  void settle(Site const& s) {
    UA = loops.count * loops.length / segments / (loops.film_resistance(s.flow(), s.local()) + wall_and_plane);
    share = entering_share(UA, s.capacity_rate());
  }
  void links(Links& book, Site const& s) const {
    for (int n = 0; n < segments; ++n) {
      book.link(s.water(n), plane(s, n), UA * (1 - share));
      book.link(s.water(n), plane(s, n), UA * share, upstream(s, n), plane(s, n));
      for (std::size_t i = 0; i < gaps.size(); ++i) book.link(point(s, n, int(i)), point(s, n, int(i) + 1), gaps[i]);
    }
  }

  /// Rules of a slab's table: a known tube, and that it lies within the thickness (E221, E245).
  template <class Slab>
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &size = value_of<&Slab::size>(e), &depth = value_of<&Slab::tube_depth>(e), &thickness = value_of<&Slab::thickness>(e);
    check_pipe_size(size, e.who, faults);
    auto const tube = find_pipe_size(size.text.empty() ? TubeLoops::usual_tube : size.text);
    if (!tube || thickness.numbers.empty()) return;
    double const half = tube->outside_diameter / 2, thick = thickness.numbers[0],
                 deep = depth.numbers.empty() ? thick / 2 : depth.numbers[0];
    if (deep < half || deep + half > thick)
      faults.add({"E245", depth.given ? depth.at : thickness.at, e.who + ": the tube is not inside the slab",
                  "slab above and below the tube", "correct tube_depth (slab surface to tube center) or thickness",
                  depth.given && thickness.given ? thickness.at : Position{}});
  }
};

}  // namespace steadyfire
