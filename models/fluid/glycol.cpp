#include "models/fluid/glycol.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "models/fluid/saturation.hpp"

namespace steadyfire {

namespace {

constexpr double base_temperature = 305.8583, base_fraction = 0.307031;
using Powers = std::array<double, 6>;  // of x − 0.307031; rows below are powers of T − 305.8583 K

constexpr std::array<Powers, 4> density_powers{{{1018, 76.04, -24.98, -155.0, -113.1, 234.2},
                                         {-0.5406, -0.945, 0.27, 2.829, -2.221},
                                         {-2.666e-3, 5.541e-3, -4.018e-3, -7.175e-3},
                                         {1.347e-5, -1.343e-5, 3.376e-5}}};
constexpr std::array<Powers, 4> heat_capacity_powers{{{3882, -1304, -1598, 353.9, 5000, -4959},
                                               {2.699, 5.07, 0.9534, 31.02, -71.35},
                                               {-1.659e-3, -4.752e-3, 0.1167, -0.295},
                                               {-1.032e-5, 1.522e-4, -4.87e-4}}};
constexpr std::array<Powers, 4> conductivity{{{0.4513, -0.4795, 0.2076, -0.09083, -0.05952, 0.2104},
                                              {7.955e-4, -1.678e-3, 1.563e-3, -2.518e-3, -3.605e-3},
                                              {3.482e-8, 8.941e-6, -4.615e-5, 6.543e-5},
                                              {-5.966e-9, 1.493e-8, 9.897e-8}}};
constexpr std::array<Powers, 4> log_viscosity{{{0.6837, 3.328, 0.5453, -3.9, -1.587, 35.64},  // of mPa·s
                                               {-3.045e-2, -3.984e-2, -8.6e-4, 0.1054, 0.04475},
                                               {2.525e-4, 4.332e-4, -1.593e-4, -1.589e-3},
                                               {-1.399e-6, -1.86e-6, -4.465e-7}}};
constexpr Powers freezing{259.9, -66.31, -109.4, -228.3, -340.9, 146.5};

template <std::size_t size>
double polynomial(std::array<double, size> const& c, double x) {
  double sum = 0;
  for (std::size_t i = size; i-- > 0;) sum = sum * x + c[i];
  return sum;
}

std::array<double, 4> at_fraction(std::array<Powers, 4> const& rows, double fraction) {
  std::array<double, 4> cubic;
  for (std::size_t i = 0; i < 4; ++i) cubic[i] = polynomial(rows[i], fraction - base_fraction);
  return cubic;
}

}  // namespace

PropyleneGlycol::PropyleneGlycol(double mass_fraction)
    : mass_fraction_{std::clamp(mass_fraction, 0.0, 0.6)},
      freezing_point_{polynomial(freezing, mass_fraction_ - base_fraction)},
      density_{at_fraction(density_powers, mass_fraction_)},
      heat_capacity_{at_fraction(heat_capacity_powers, mass_fraction_)},
      conductivity_{at_fraction(conductivity, mass_fraction_)},
      log_viscosity_{at_fraction(log_viscosity, mass_fraction_)} {
  double const glycol = mass_fraction_ / 76.09, water = (1 - mass_fraction_) / 18.015;  // kmol per kg
  water_mole_fraction_ = water / (water + glycol);
}

Fluid PropyleneGlycol::at(double kelvin) const {
  double const t = std::clamp(kelvin, freezing_point_, 403.15) - base_temperature;
  return {.density = polynomial(density_, t),
          .viscosity = 1e-3 * std::exp(polynomial(log_viscosity_, t)),
          .heat_capacity = polynomial(heat_capacity_, t),
          .conductivity = polynomial(conductivity_, t)};
}

double PropyleneGlycol::vapour_pressure(double kelvin) const {
  return water_mole_fraction_ * saturation_pressure(std::clamp(kelvin, 273.15, 403.15));
}

std::string PropyleneGlycol::describe() const { return fmt::format("propylene glycol, {:.0f}% by mass", 100 * mass_fraction_); }

}  // namespace steadyfire
