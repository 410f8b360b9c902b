#include "plots/warmth_scale.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace steadyfire {
namespace {

double linear(double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); }
double encoded(double v) { return std::clamp(v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055, 0., 1.); }

Colour from_oklab(std::array<double, 3> const& lab) {
  auto const cube = [](double v) { return v * v * v; };
  double const l = cube(lab[0] + 0.3963377774 * lab[1] + 0.2158037573 * lab[2]),
               m = cube(lab[0] - 0.1055613458 * lab[1] - 0.0638541728 * lab[2]),
               s = cube(lab[0] - 0.0894841775 * lab[1] - 1.2914855480 * lab[2]);
  return {encoded(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s), encoded(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          encoded(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

}  // namespace

std::array<double, 3> oklab(Colour c) {
  double const r = linear(c.red), g = linear(c.green), b = linear(c.blue);
  double const l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b),
               m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b),
               s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s, 1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

Colour warmth_colour(double share) {
  static std::array const cold = oklab({0.05, 0.20, 0.45}), hot = oklab({1.0, 0.88, 0.22});
  share = std::clamp(share, 0., 1.);
  std::array<double, 3> lab;
  for (int i = 0; i < 3; ++i) lab[i] = cold[i] + share * (hot[i] - cold[i]);
  return from_oklab(lab);
}

std::string hex(Colour c) {
  auto const byte = [](double v) { return int(std::lround(255 * v)); };
  return fmt::format("#{:02x}{:02x}{:02x}", byte(c.red), byte(c.green), byte(c.blue));
}

}  // namespace steadyfire
