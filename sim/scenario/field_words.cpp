#include "sim/scenario/field_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "sim/core/units.hpp"
#include "sim/scenario/value_reader.hpp"

namespace steadyfire {
namespace {

/// The unit in which a user of SI reads what is declared in another: the last of the usual ones.
std::string si_symbol(AnyUnit const& unit) {
  std::string const own{unit.symbol};
  if (own.empty() || own == "%" || unit.dimension == Time::dimension) return own;
  if (unit.dimension == Length::dimension) return own == "ft" ? "m" : own == "in" ? "mm" : own;
  if (unit.dimension == Volume::dimension) return "L";
  if (unit.dimension == VolumeFlow::dimension) return "L/s";
  auto const all = usual_units(unit.dimension);
  auto const comma = all.rfind(", ");
  return all.empty() ? own : comma == all.npos ? all : all.substr(comma + 2);
}

std::string decimal(double x) {
  auto text = fmt::format("{:.6g}", x);
  return text == "-0" ? "0" : text;
}

}  // namespace

AnyUnit unit_for(Field const& f, UnitSystem units) {
  auto const symbol = units == UnitSystem::us ? std::string(f.unit.symbol) : si_symbol(f.unit);
  return symbol == f.unit.symbol ? f.unit : parse_unit(symbol, f.unit.dimension).value();
}

std::string words_of(AnyUnit const& unit, double si) {
  double const many = 10'000;
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
