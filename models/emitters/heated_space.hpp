#pragma once
/// What all emitters share: where their heat goes, and how water that cools along a
/// cell is met by one temperature.

#include "sim/component/kind.hpp"

namespace steadyfire {

/// Where an emitter's heat arrives, and whose temperature drives it.
struct HeatedSpace {
  Divided to;
  Place at;
};

/// Air and surfaces of its room, by the share that it radiates. What convects for the most part is driven by the air, a
/// floor or a panel, whose published curves stand over the temperature that a person feels, by that. Without a room it
/// heats the unheated space, which keeps its given temperature, and the heat is counted as process heat.
inline HeatedSpace heated_space(Site const& s, Reference room, double radiant) {
  if (!room) return {{account::process, account::process, 0}, given::unheated};
  Place const air = s.of(room, StateRole::air);
  return {{air, s.of(room, StateRole::surfaces), radiant}, radiant < 0.5 ? air : s.of(room)};
}

/// Share of an emitter's heat that it radiates to the surfaces of its room, where nobody states it.
/// Source  CIBSE Guide A, radiative and convective shares of heat emitters, from memory.
namespace radiated {
inline constexpr double baseboard = 0.1, panel_radiator = 0.3, column_radiator = 0.2, towel_warmer = 0.3, floor = 0.5, ceiling = 0.67,
                        wall = 0.5;
}  // namespace radiated
template <auto M>
Field radiant_share_field(double usual) {
  return field<M>("radiant_share", unit::percent, 0, 100, "share of its heat radiated to the surfaces of the room").otherwise(100 * usual);
}

/// Where the water comes from that enters a cell.
inline Place upstream(Site const& s, int cell) {
  int const before = s.flow() < 0 ? cell + 1 : cell - 1;
  return before < 0 || before == s.cells() ? s.entering() : s.water(before);
}

/// Share φ of the entering water in the mean temperature of a cell, φ·T_in + (1 − φ)·T_cell.
///
///   φ = 1/N − 1/(e^N − 1),   N = UA/(ṁ·cp)
///
/// With it the steady outlet of one cell is that of plug flow, T_s + (T_in − T_s)·e^(−N), for
/// every flow; ½, the arithmetic mean, at large flow, 0 in still water, which the water that
/// would come next must not feel.
///
/// Shape   φ·N < 1, so that no cell cools below what it heats.
/// Source  closed form.
inline double entering_share(double UA, double capacity_rate) {
  if (capacity_rate * 700 <= UA) return capacity_rate > 0 ? capacity_rate / UA : 0;
  double const N = UA / capacity_rate;
  return N < 1e-4 ? 0.5 - N / 12 : 1 / N - 1 / std::expm1(N);
}

/// x·|x|^(n−1) of a temperature difference [K], odd, its slope finite at zero.
///
///   x·(x² + δ²)^((n−1)/2),   δ = 0.05 K
///
/// Errors  at n = 1.1 0.05 % at 0.5 K and 0.01 % at 1 K; at n = 1.4 0.2 and 0.05 %.
template <class N>
N odd_power(N x, double n) {
  using std::pow;
  return x * pow(x * x + 0.0025, (n - 1) / 2);
}

/// Water cells that heat a space by a power of their excess over it.
///
///   heat of a cell = c·ΔT^n,   ΔT = φ·T_in + (1 − φ)·T_cell − T_air
inline void heat_by_excess(auto& book, Site const& s, HeatedSpace space, double coefficient, double exponent, double share) {
  for (int i = 0; i < s.cells(); ++i)
    book.heat(s.water(i), space.to,
              [=](auto in, auto cell, auto air) { return coefficient * odd_power(share * in + (1 - share) * cell - air, exponent); },
              upstream(s, i), s.water(i), space.at);
}

/// A heated floor and the space over it, by the standard's curve; mirrored where the floor is colder.
///
///   8.92·A·(T_floor − T_air)^1.1
///
/// Source  EN 1264-2, ISO 11855-2.
inline void floor_heat(auto& book, Place floor, HeatedSpace space, double area) {
  book.heat(floor, space.to, [c = 8.92 * area](auto floor, auto air) { return c * odd_power(floor - air, 1.1); }, floor, space.at);
}

/// Loss by the square of the flow, through one rated point [Pa]; near rest a straight piece.
///
///   Δp = ρ·g·h_r·Q·√(Q² + (Q_r/1000)²)/Q_r²
///
/// Errors  0.005 % above a tenth of the rated flow.
template <class Flow>
Flow rated_loss(Flow flow, double rated_flow, double rated_head, Site const& s) {
  double const least = 1e-3 * rated_flow;
  Flow const Q = flow / s.local().density;
  return s.fluid().density * 9.80665 * rated_head / (rated_flow * rated_flow) * Q * sqrt(Q * Q + least * least);
}

}  // namespace steadyfire
