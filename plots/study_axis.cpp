#include "plots/study_axis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "plots/page_text.hpp"

namespace steadyfire {
namespace {

constexpr size_t intervals = 16;

Measure with_decimals(Measure m, int decimals) {
  m.us_digits = m.si_digits = decimals;
  return m;
}
int decimals_of(StudyColumn const& c, UnitSystem s) { return s == UnitSystem::us ? c.measure.us_digits : c.measure.si_digits; }

/// The fewest decimals that tell these numbers as they are; where there are none, the fewest that tell them apart.
int decimals_for(StudyColumn const& c, UnitSystem s, std::vector<double> const& values) {
  int const most = std::max(2, decimals_of(c, s));
  auto const& unit = c.measure.unit(s);
  for (int d = 0; d <= most + 4; ++d) {
    double const scale = std::pow(10, d);
    bool exact = true, apart = true;
    double before = std::nan("");
    for (double si : values) {
      double const v = unit.from_si(si) * scale;
      exact = exact && std::abs(v - std::round(v)) < 1e-6 * std::max(1., std::abs(v));
      apart = apart && !(std::round(v) == before);
      before = std::round(v);
    }
    if ((exact && apart) || (d >= decimals_of(c, s) && apart)) return d;
  }
  return most + 4;
}

/// 1, 2 or 5 of a power of ten, not below `least`: intervals that end at round numbers.
double round_step(double least) {
  double const ten = std::pow(10, std::floor(std::log10(least)));
  for (double by : {1., 2., 5.})
    if (by * ten >= least * (1 - 1e-9)) return by * ten;
  return 10 * ten;
}

}  // namespace

std::vector<double> distinct(std::vector<double> const& numbers, size_t most) {
  std::set<double> seen;
  for (double v : numbers) {
    if (std::isfinite(v)) seen.insert(v);
    if (seen.size() > most) return {};
  }
  return {seen.begin(), seen.end()};
}

StudyColumn const* find_column(StudyRecord const& r, std::string const& key) {
  for (auto const* columns : {&r.inputs, &r.figures})
    for (auto const& c : *columns)
      if (c.key == key) return &c;
  return nullptr;
}

ColumnText::ColumnText(StudyColumn const& c, UnitSystem s, std::optional<int> decimals)
    : column_{&c}, system_{s}, measure_{with_decimals(c.measure, decimals.value_or(decimals_of(c, s)))} {}

std::string ColumnText::told(double si) const {
  if (std::isnan(si)) return "–";
  if (has_words()) return number(si);
  if (column_->is_factor) return "×\u00a0" + number(si);
  if (name_has_unit()) return number(si);
  return printed(si, measure_, system_);
}

std::string ColumnText::number(double si) const {
  if (std::isnan(si)) return "–";
  if (has_words()) {
    auto const i = std::lround(si);
    return i >= 0 && size_t(i) < column_->words.size() ? column_->words[size_t(i)] : "–";
  }
  auto const words = show(si, measure_, system_);
  return words.substr(0, words.find_first_of(" %"));
}

std::string ColumnText::label() const {
  if (has_words()) return name();
  auto const unit = column_->is_factor ? "× stated value" : printed_unit(measure_.unit(system_));
  return unit.empty() || name_has_unit() ? name() : name() + " [" + unit + "]";
}

bool ColumnText::name_has_unit() const {
  auto const unit = printed_unit(measure_.unit(system_));
  return !column_->is_factor && unit.starts_with("per ") && name().find(unit) != std::string::npos;
}

double ColumnText::plain(double si) const {
  if (!std::isfinite(si) || has_words()) return si;
  double const scale = std::pow(10, decimals() + 4);
  return std::round(measure_.unit(system_).from_si(si) * scale) / scale;
}

double ColumnText::outward(double si, int way) const {
  if (has_words() || !std::isfinite(si)) return si;
  auto const& unit = measure_.unit(system_);
  double const scale = std::pow(10, decimals()), v = unit.from_si(si) * scale;
  double const rounding = 1e-9 * std::max(1., std::abs(v));  // what is told exactly stays as it is
  return unit.to_si((way > 0 ? std::ceil(v - rounding) : std::floor(v + rounding)) / scale);
}

ColumnText input_text(StudyColumn const& c, UnitSystem s) {
  auto const few = distinct(c.numbers, most_places);
  return few.empty() ? ColumnText{c, s} : ColumnText{c, s, decimals_for(c, s, few)};
}

StudyAxis::StudyAxis(StudyColumn const& c, UnitSystem s) : text_{c, s} {
  at_ = distinct(c.numbers, most_places);
  if (!at_.empty() || c.numbers.empty()) {
    text_ = ColumnText{c, s, decimals_for(c, s, at_)};
    for (double v : c.numbers) {
      auto const found = std::lower_bound(at_.begin(), at_.end(), v);
      places_.push_back(found != at_.end() && *found == v ? int(found - at_.begin()) : -1);
    }
    return;
  }
  double low = INFINITY, high = -INFINITY;
  for (double v : c.numbers)
    if (std::isfinite(v)) low = std::min(low, v), high = std::max(high, v);
  if (!(low < high)) {  // no number at all
    places_.assign(c.numbers.size(), -1);
    return;
  }
  auto const& unit = c.measure.unit(s);
  double const step = round_step((unit.from_si(high) - unit.from_si(low)) / intervals), first = std::floor(unit.from_si(low) / step);
  for (double k = first; k == first || (k - 1) * step < unit.from_si(high); ++k) edges_.push_back(unit.to_si(k * step));
  if (edges_.size() < 2) edges_.push_back(unit.to_si((first + 1) * step));
  for (size_t i = 0; i + 1 < edges_.size(); ++i) at_.push_back((edges_[i] + edges_[i + 1]) / 2);
  text_ = ColumnText{c, s, decimals_for(c, s, edges_)};
  for (double v : c.numbers) {
    auto const above = std::upper_bound(edges_.begin(), edges_.end(), v) - edges_.begin();
    places_.push_back(std::isfinite(v) ? int(std::clamp<long>(above - 1, 0, long(size()) - 1)) : -1);
  }
}

std::string StudyAxis::number(size_t place) const { return text_.number(at_[place]); }

std::string StudyAxis::told(size_t place) const {
  return is_binned() ? text_.number(edges_[place]) + " to " + text_.told(edges_[place + 1]) : text_.told(at_[place]);
}

std::string StudyAxis::few(size_t begin, size_t end) const {
  std::string out = text_.name() + " is ";
  for (size_t i = begin; i < end; ++i) out += (i == begin ? "" : " or ") + text_.told(at_[i]);
  return out;
}

std::string StudyAxis::up_to(size_t place) const {
  if (text_.has_words() || (place == 0 && !is_binned())) return few(0, place + 1);
  return is_binned() ? text_.name() + " is below " + text_.told(edges_[place + 1])
                     : text_.name() + " is " + text_.told(at_[place]) + " or less";
}

std::string StudyAxis::from(size_t place) const {
  if (text_.has_words() || (place + 1 == size() && !is_binned())) return few(place, size());
  return is_binned() ? text_.name() + " is above " + text_.told(edges_[place])
                     : text_.name() + " is " + text_.told(at_[place]) + " or more";
}

}  // namespace steadyfire
