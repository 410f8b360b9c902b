#include "tools/study/study_columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/record/json_parts.hpp"
#include "sim/scenario/field_words.hpp"

namespace steadyfire {
namespace {

/// Decimals that tell the axis' numbers apart, or a thousandth of its range; six at most.
int digits_of(Axis const& axis, AnyUnit const& unit) {
  std::vector<double> shown;
  for (int i = 0; i < 50; ++i) shown.push_back(unit.from_si(axis.quantile((i + 0.5) / 50)));
  auto const [low, high] = std::minmax_element(shown.begin(), shown.end());
  double const range = *high - *low, fine = range > 0 ? range / 100 : std::max(1e-3, std::abs(*high) / 100);
  for (int d = 0; d < 6; ++d) {
    double const scale = std::pow(10, d);
    bool const as_stated = axis.sort == Axis::Sort::values && std::all_of(shown.begin(), shown.end(), [&](double x) {
                             return std::abs(x * scale - std::round(x * scale)) < 1e-6 * std::max(1.0, std::abs(x));
                           });
    if (as_stated || (axis.sort != Axis::Sort::values && 1 / scale <= fine)) return d;
  }
  return axis.sort == Axis::Sort::values ? std::clamp(int(std::ceil(-std::log10(fine))), 0, 6) : 6;
}

StudyColumn column_of(Parameter const& p, Axis const& axis) {
  using S = Field::Sort;
  auto const& f = *p.turn.field;
  StudyColumn c;
  c.key = p.turn.address, c.name = p.name, c.is_factor = p.as == Parameter::As::factor;
  if (p.as == Parameter::As::word) c.words = p.words;
  else if (f.sort == S::choice && !c.is_factor) c.words = f.choices;
  else if (f.sort == S::flag) c.words = {"false", "true"};
  if (!c.words.empty()) return c.measure = measure::count, c;
  if (c.is_factor) return c.measure = {unit::one, unit::one, digits_of(axis, unit::one), digits_of(axis, unit::one)}, c;
  auto const us = unit_for(f, UnitSystem::us), si = unit_for(f, UnitSystem::si);
  c.measure = {us, si, digits_of(axis, us), digits_of(axis, si)};
  return c;
}

}  // namespace

StudyColumns columns_of(Study const& s) {
  StudyColumns all;
  for (std::size_t i = 0; i < s.parameters.size(); ++i) all.inputs.push_back(column_of(s.parameters[i], s.axes[i]));
  for (auto const& f : s.figures) {
    StudyColumn c;
    c.key = f.key, c.name = f.name, c.heading = f.heading, c.measure = f.measure;
    c.lower_is_better = f.better == Better::lower, c.higher_is_better = f.better == Better::higher;
    all.figures.push_back(std::move(c));
  }
  return all;
}

std::string heading_of(StudyColumn const& c, UnitSystem units) {
  auto const& heading = c.heading.empty() ? c.name : c.heading;
  if (c.is_factor) return heading + " [× own]";
  auto const symbol = c.measure.unit(units).symbol;
  return symbol.empty() || !c.words.empty() ? heading : fmt::format("{} [{}]", heading, symbol);
}

std::string si_unit(Measure const& m) { return m.si.dimension.point ? "K" : json_unit(m); }

}  // namespace steadyfire
