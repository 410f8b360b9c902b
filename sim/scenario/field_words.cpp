#include "sim/scenario/field_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "sim/core/si_unit.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/value_reader.hpp"

namespace steadyfire {
namespace {

std::string decimal(double x) {
  auto text = fmt::format("{:.6g}", x);
  return text == "-0" ? "0" : text;
}

}  // namespace

AnyUnit unit_for(Field const& f, UnitSystem units) {
  if (units == UnitSystem::si) return si_unit(f.unit);
  // A few fields are declared in SI, because what they are taken from is.
  for (auto const d : {ConductancePerLength::dimension, HeatPerVolume::dimension, SpecificHeat::dimension, Density::dimension,
                       TemperatureChange::dimension})
    if (f.unit.dimension == d && si_unit(f.unit).symbol == f.unit.symbol) return parse_unit(usual_units(d, units).at(0), d).value();
  return f.unit;
}

std::string words_of(AnyUnit const& unit, double si) {
  double const many = 1000;
  if (unit.symbol == "Btu/h" && std::abs(unit.from_si(si)) >= many) return words_of(AnyUnit{unit::kBtu_per_hour}, si);
  auto const printed = printed_unit(unit);
  return decimal(unit.from_si(si)) + (printed.empty() || printed == "%" ? "" : " ") + printed;
}

std::string words_of(Field const& f, Value const& v, UnitSystem units) {
  using Sort = Field::Sort;
  if (v.entry) return v.entry->kind ? v.entry->kind->name : "";
  if (!v.texts.empty()) return fmt::format("{}", fmt::join(v.texts, ", "));
  if (!v.text.empty()) return v.text;
  if (v.numbers.empty() || std::isnan(v.numbers[0])) return "";
  switch (f.sort) {
    case Sort::choice: {
      auto const i = std::size_t(v.numbers[0]);
      return i < f.choices.size() ? f.choices[i] : "";
    }
    case Sort::flag: return v.numbers[0] != 0 ? "true" : "false";
    case Sort::clock: return clock_text(v.numbers[0] / 3600);
    case Sort::clocks: {
      std::vector<std::string> all;
      for (double s : v.numbers) all.push_back(clock_text(s / 3600));
      return fmt::format("{}", fmt::join(all, ", "));
    }
    case Sort::list: {
      std::vector<std::string> all;
      for (double si : v.numbers) all.push_back(words_of(unit_for(f, units), si));
      return fmt::format("{}", fmt::join(all, ", "));
    }
    case Sort::curve: return "a curve";
    case Sort::number:
    case Sort::count: return decimal(v.numbers[0]);
    default: return words_of(unit_for(f, units), v.numbers[0]);
  }
}

}  // namespace steadyfire
