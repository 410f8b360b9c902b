#include "models/hot_water/draw_patterns.hpp"

#include <algorithm>
#include <array>
#include <span>

#include "models/fluid/water.hpp"
#include "sim/core/quantity.hpp"

namespace steadyfire {
namespace {

/// A row of the table: hhmm, kWh, L/min, T_m and T_p [°C]; 0 where the table gives no T_p.
struct Tapping { int clock; double energy, flow, useful, peak = 0; };
constexpr Tapping small(int clock) { return {clock, 0.105, 3, 25}; }
constexpr Tapping floor_cleaning(int clock) { return {clock, 0.105, 3, 10, 40}; }
constexpr Tapping cleaning(int clock) { return {clock, 0.105, 3, 40}; }
constexpr Tapping dishes(int clock, double energy) { return {clock, energy, 4, 10, 55}; }
constexpr Tapping shower(int clock, double energy) { return {clock, energy, 6, 40}; }
constexpr Tapping bath(int clock, double energy, double flow) { return {clock, energy, flow, 10, 40}; }

template <std::size_t N>
constexpr std::array<Tapping, N> alike(double energy, int const (&clocks)[N]) {
  std::array<Tapping, N> all{};
  for (std::size_t i = 0; i < N; ++i) all[i] = {clocks[i], energy, 2, 25};
  return all;
}
constexpr std::array<Tapping, 30> large(double energy, double flow) {
  return {small(700),  shower(715, 1.82), small(726),  bath(745, energy, flow), small(801),          small(815),
          small(830),  small(845),        small(900),  small(930),              small(1000),         floor_cleaning(1030),
          small(1100), small(1130),       small(1145), dishes(1245, 0.735),     small(1430),         small(1500),
          small(1530), small(1600),       small(1630), small(1700),             small(1800),         cleaning(1815),
          cleaning(1830), small(1900),    dishes(2030, 0.735), bath(2046, energy, flow), small(2115), bath(2130, energy, flow)};
}

constexpr auto xxxs = alike(0.015, {700,  705,  715,  726,  730,  900,  930,  1130, 1145, 1200, 1230, 1245,
                                    1430, 1500, 1530, 1600, 1830, 1900, 1930, 2115, 2130, 2135, 2145});
constexpr auto xxs = alike(0.105, {700,  730,  830,  930,  1130, 1145, 1200, 1230, 1245, 1800,
                                   1815, 1830, 1900, 1930, 2000, 2045, 2100, 2115, 2135, 2145});
constexpr Tapping xs[]{{730, 0.525, 3, 35}, {1245, 0.525, 3, 35}, {2030, 1.05, 3, 35}};
constexpr Tapping s[]{small(700),          small(730),  small(830),     small(930),         small(1130),           small(1145),
                      dishes(1245, 0.315), small(1800), cleaning(1815), dishes(2030, 0.42), {2130, 0.525, 5, 45}};
constexpr Tapping m[]{small(700),  shower(705, 1.4),    small(730),     small(801),  small(815),          small(830),
                      small(845),  small(900),          small(930),     floor_cleaning(1030), small(1130), small(1145),
                      dishes(1245, 0.315), small(1430), small(1530),    small(1630), small(1800),         cleaning(1815),
                      cleaning(1830), small(1900), dishes(2030, 0.735), small(2115), shower(2130, 1.4)};
constexpr Tapping l[]{small(700),  shower(705, 1.4), small(730),  small(745),  bath(805, 3.605, 10), small(825),
                      small(830),  small(845),       small(900),  small(930),  floor_cleaning(1030), small(1130),
                      small(1145), dishes(1245, 0.315), small(1430), small(1530), small(1630),       small(1800),
                      cleaning(1815), cleaning(1830), small(1900), dishes(2030, 0.735), bath(2100, 3.605, 10), small(2130)};
constexpr auto xl = large(4.42, 10), xxl = large(6.24, 16);

struct Day { std::span<Tapping const> tappings; double reference; };  // kWh
Day day_of(TappingProfile p) {
  switch (p) {
    case TappingProfile::xxxs: return {xxxs, 0.345};
    case TappingProfile::xxs: return {xxs, 2.1};
    case TappingProfile::xs: return {xs, 2.1};
    case TappingProfile::s: return {s, 2.1};
    case TappingProfile::m: return {m, 5.845};
    case TappingProfile::l: return {l, 11.655};
    case TappingProfile::xl: return {xl, 19.07};
    case TappingProfile::xxl: return {xxl, 24.53};
  }
  return {};
}

double seconds(int clock) { return clock / 100 * 3600. + clock % 100 * 60.; }

/// hhmm, gallons, gallons per minute.
struct Drawn { int clock; double volume, flow; };
constexpr Drawn very_small[]{{0, 2, 1},     {100, 1, 1},   {105, 0.5, 1},   {110, 0.5, 1}, {115, 0.5, 1},
                             {800, 1, 1},   {815, 2, 1},   {900, 1.5, 1},   {915, 1, 1}};
constexpr Drawn low[]{{0, 15, 1.7},  {30, 2, 1},   {100, 1, 1},  {1030, 6, 1.7},   {1130, 4, 1.7}, {1200, 1, 1},
                      {1245, 1, 1},  {1250, 1, 1}, {1615, 2, 1}, {1645, 2, 1.7},   {1700, 3, 1.7}};
constexpr Drawn medium[]{{0, 15, 1.7}, {30, 2, 1},   {140, 9, 1.7}, {1030, 9, 1.7}, {1130, 5, 1.7},  {1200, 1, 1},
                         {1245, 1, 1}, {1250, 1, 1}, {1600, 1, 1},  {1615, 2, 1},   {1645, 2, 1.7},  {1700, 7, 1.7}};
constexpr Drawn high[]{{0, 27, 3},   {30, 2, 1},   {40, 1, 1},   {140, 9, 1.7}, {1030, 15, 3},  {1130, 5, 1.7},  {1200, 1, 1},
                       {1245, 1, 1}, {1250, 1, 1}, {1600, 2, 1}, {1615, 2, 1},  {1630, 2, 1.7}, {1645, 2, 1.7}, {1700, 14, 3}};

}  // namespace

std::vector<Draw> draws_of(TappingProfile p) {
  double constexpr celsius = 273.15, warm = 40, above_useful = 2, per_minute = 1e-3 / 60, kWh = 3.6e6;
  Water const water;
  std::vector<Draw> draws;
  for (auto const& t : day_of(p).tappings) {
    double const wanted = celsius + (t.peak > 0 ? t.peak : std::max(warm, t.useful + above_useful));
    auto const between = water.at((wanted + tapping_cold) / 2);
    Draw d{seconds(t.clock), t.flow * per_minute, wanted,
           t.energy * kWh / (between.density * between.heat_capacity * (wanted - tapping_cold))};
    if (celsius + t.useful > tapping_cold) d.useful_from = celsius + t.useful;
    draws.push_back(d);
  }
  return draws;
}

double reference_energy(TappingProfile p) { return day_of(p).reference * 3.6e6; }

std::vector<Draw> draws_of(DrawPattern p) {
  std::span<Drawn const> constexpr all[]{very_small, low, medium, high};
  double const delivery = unit::degF.to_si(125);
  std::vector<Draw> draws;
  for (auto const& d : all[int(p)])
    draws.push_back({seconds(d.clock), unit::gpm.to_si(d.flow), delivery, unit::gallon.to_si(d.volume)});
  return draws;
}

}  // namespace steadyfire
