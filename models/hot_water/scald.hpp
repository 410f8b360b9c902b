#pragma once
/// How long hot water takes to burn skin.

#include <algorithm>
#include <array>
#include <cmath>

namespace steadyfire {

struct ScaldTime { double temperature, second_degree, third_degree; };  ///< [K], [s]

/// Printed tables of one and the same work differ by a factor of two.
/// Source  Moritz and Henriques 1947, as in two public tables.
inline constexpr std::array scald_times{ScaldTime{322.15, 480, 600}, ScaldTime{324.15, 120, 252}, ScaldTime{328.15, 17, 30},
                                        ScaldTime{333.15, 3, 5}};

/// Time until a second-degree burn [s], its logarithm straight between the printed temperatures.
///
/// Valid   49 to 60 °C; infinity below, the last value above.
inline double time_to_scald(double kelvin) {
  if (kelvin < scald_times.front().temperature - 1e-9) return INFINITY;
  for (std::size_t i = 1; i < scald_times.size(); ++i) {
    auto const &a = scald_times[i - 1], &b = scald_times[i];
    if (kelvin > b.temperature) continue;
    double const share = (kelvin - a.temperature) / (b.temperature - a.temperature);
    return a.second_degree * std::pow(b.second_degree / a.second_degree, share);
  }
  return scald_times.back().second_degree;
}

}  // namespace steadyfire
