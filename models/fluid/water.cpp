#include "models/fluid/water.hpp"

#include <algorithm>
#include <cmath>

#include "models/fluid/saturation.hpp"

namespace steadyfire {

namespace {

constexpr double gas_constant = 461.51805;  // of water [J/(kg·K)]

// The release writes its Gibbs energy in α = 10 K/(593 K − T) and β = 10 K/(T − 232 K).
double density(double a, double b) {
  double const a2 = a * a, a4 = a2 * a2;
  double const in_a = a4 * (6.74458446e3 + a * (-2.22521604e5 + a2 * (1.00231247e8 + a * (-1.63552118e9 + a * 8.32299658e9))));
  double const in_b = b * (5.78545292e-3 + b * (-1.53195665e-2 + b * (3.11337859e-2 + b * (-4.23546241e-2
                    + b * (3.38713507e-2 + b * -1.19946761e-2)))));
  return 1e5 / (gas_constant * 10 * (1.93763157e-2 + in_a + in_b));
}

double heat_capacity(double kelvin, double a, double b) {
  double const a2 = a * a, b2 = b * b;
  double const in_a = a2 * a2 * a2 * (20 * -1.661470539e5 + a * (30 * 2.708781640e6 + a2 * 56 * -1.557191544e8));
  double const in_b = b2 * b2 * (6 * -8.237426256e-1 + b * (12 * 1.908956353 + b * (20 * -2.017597384 + b * 30 * 8.546361348e-1)));
  return -gas_constant * (-8.983025854 + kelvin / 10 * (in_a + in_b));
}

}  // namespace

Fluid Water::at(double kelvin) const {
  double const T = std::clamp(kelvin, 273.15, 403.15);
  double const a = 10 / (593 - T), b = 10 / (T - 232), log_t = std::log(T / 300);
  auto const power = [log_t](double n) { return std::exp(n * log_t); };
  return {.density = density(a, b),
          .viscosity = 1e-6 * (280.68 * power(-1.9) + 511.45 * power(-7.7) + 61.131 * power(-19.6) + 0.45903 * power(-40)),
          .heat_capacity = heat_capacity(T, a, b),
          .conductivity = 1.6630 * power(-1.15) - 1.7781 * power(-3.4) + 1.1567 * power(-6) - 0.432115 * power(-7.6)};
}

double Water::vapour_pressure(double kelvin) const { return saturation_pressure(std::clamp(kelvin, 273.15, 403.15)); }

}  // namespace steadyfire
