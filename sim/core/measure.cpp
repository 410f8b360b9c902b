#include "sim/core/measure.hpp"

#include <fmt/format.h>

#include <cmath>

namespace steadyfire {
namespace {

void replace_all(std::string& text, std::string_view what, std::string_view by) {
  for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += by.size()) text.replace(at, what.size(), by);
}

}  // namespace

std::string printed_unit(AnyUnit const& unit) {
  // A difference of temperatures is told in degrees, as on the thermometer that shows it; what is told has its word beside it.
  if (unit.symbol == "K" && !unit.dimension.point) return "°C";
  std::string text{unit.symbol};
  for (auto const& [what, by] : {std::pair{"degF", "°F"}, {"degC", "°C"}, {"m2", "m²"}, {"m3", "m³"}, {"ft2", "ft²"}, {"ft3",
      "ft³"}, {"in2", "in²"},
                                 {"inH2O", "in. w.c."}, {"K.h", "°C·h"}, {"K.d", "°C·d"}, {"J/K", "J/°C"}, {"W/K", "W/°C"}, {"money",
                                     ""}, {"um", "µm"}, {"1/h", "per hour"}})
    replace_all(text, what, by);
  // A dot between units, not the one of "in. w.c.".
  for (std::size_t at = 1; at + 1 < text.size(); ++at)
    if (text[at] == '.' && text[at + 1] != ' ' && text.find("w.c.") == std::string::npos) text.replace(at, 1, "·");
  return text;
}

std::string with_unit(std::string number, AnyUnit const& u) {
  auto const unit = printed_unit(u);
  return unit.empty() ? number : number + (unit == "%" ? "" : " ") + unit;
}

std::string show(double si, Measure const& m, UnitSystem system) {
  if (std::isnan(si)) return "-";
  auto const& u = m.unit(system);
  int const digits = system == UnitSystem::us ? m.us_digits : m.si_digits;
  auto number = fmt::format("{:.{}f}", u.from_si(si), digits);
  if (number.find_first_not_of("-0.") == std::string::npos && number.front() == '-') number.erase(0, 1);
  return with_unit(std::move(number), u);
}

}  // namespace steadyfire
