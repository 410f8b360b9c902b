#include "tools/study/latin_hypercube.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

namespace steadyfire {

std::vector<double> latin_hypercube(std::size_t count, std::size_t dimensions, unsigned seed) {
  std::mt19937 words{seed};  // the standard says its every word; what the standard's distributions make of them hangs on the library
  auto const draw = [&] {
    auto const high = words() >> 5, low = words() >> 6;
    return std::ldexp(double(high) * 0x1p26 + double(low), -53);
  };
  std::vector<double> points(count * dimensions);
  std::vector<std::size_t> strata(count);
  for (std::size_t k = 0; k < dimensions; ++k) {
    std::iota(strata.begin(), strata.end(), std::size_t{0});
    // 53 bits of a number below 1, times `left`, never round up to `left`.
    for (std::size_t left = count; left > 1; --left) std::swap(strata[left - 1], strata[std::size_t(draw() * double(left))]);
    for (std::size_t i = 0; i < count; ++i)
      points[i * dimensions + k] = std::min((double(strata[i]) + draw()) / double(count), 1 - 0x1p-53);  // rounding may reach 1
  }
  return points;
}

}  // namespace steadyfire
