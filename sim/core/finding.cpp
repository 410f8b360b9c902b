#include "sim/core/finding.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace steadyfire {

bool graver(Finding const& a, Finding const& b) { return a.severity != b.severity ? a.severity < b.severity : a.order > b.order; }

std::string Finding::fix_in(UnitSystem system) const {
  auto text = fix.in(system);
  auto const is_letter = [&](std::size_t i, int (*of)(int)) { return i < text.size() && of(static_cast<unsigned char>(text[i])); };
  if (is_letter(0, std::isupper) && (is_letter(1, std::islower) || (text.size() > 1 && text[1] == ' ')))
    text[0] = char(std::tolower(static_cast<unsigned char>(text[0])));
  return text;
}

namespace {
/// What the sentence of such a finding calls its limit.
std::string_view limit_word(Finding const& f) {
  if (f.limit->name == "guideline") return "guideline";
  if (f.limit->name == "wanted") return "needs";
  return f.figures[0].value < f.limit->value ? "minimum" : "limit";
}
}  // namespace

Words FindingGroup::also() const {
  std::vector<Words> places;
  for (auto const& f : others) {
    bool const has_figure = !f.figures.empty() && !std::isnan(f.figures[0].value);
    if (!has_figure) {
      places.push_back(f.place);
      continue;
    }
    bool const has_own_limit = f.limit && (!first.limit || f.limit->value != first.limit->value);
    places.push_back(say("{} ({}{}{})", f.place, f.words.frame() == first.words.frame() ? "" : "at worst ",
                         Amount{f.figures[0].value, f.figures[0].measure},
                         has_own_limit ? say(", {} {}", limit_word(f), Amount{f.limit->value, f.limit->measure}) : Words()));
  }
  return listed(places, ", ");
}

std::vector<FindingGroup> grouped(std::vector<Finding> findings) {
  std::stable_sort(findings.begin(), findings.end(), graver);
  std::vector<FindingGroup> groups;
  for (auto& f : findings) {
    auto const joins = [&](FindingGroup const& g) {  // of two at one place each says what the other does not
      bool const is_same = g.first.id == f.id && g.first.severity == f.severity &&
                           g.first.fix.in(UnitSystem::si) == f.fix.in(UnitSystem::si);
      auto const is_there = [&](Finding const& o) { return o.place == f.place; };
      return is_same && !f.place.empty() && !is_there(g.first) && std::none_of(g.others.begin(), g.others.end(), is_there);
    };
    auto const group = std::find_if(groups.begin(), groups.end(), joins);
    if (group == groups.end()) groups.push_back({std::move(f), {}});
    else group->others.push_back(std::move(f));
  }
  return groups;
}

bool any_serious(std::vector<Finding> const& all) {
  return std::any_of(all.begin(), all.end(), [](auto const& f) { return f.severity == Severity::serious; });
}

}  // namespace steadyfire
