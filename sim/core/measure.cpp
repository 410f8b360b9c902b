#include "sim/core/measure.hpp"

#include <fmt/format.h>

#include <cmath>

namespace steadyfire {

std::string show(double si, Measure const& m, UnitSystem system) {
  if (std::isnan(si)) return "-";
  auto const& u = m.unit(system);
  int const digits = system == UnitSystem::us ? m.us_digits : m.si_digits;
  auto number = fmt::format("{:.{}f}", u.from_si(si), digits);
  if (number.find_first_not_of("-0.") == std::string::npos && number.front() == '-') number.erase(0, 1);
  return u.symbol.empty() ? number : number + " " + std::string(u.symbol);
}

}  // namespace steadyfire
