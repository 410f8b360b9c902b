#include "sim/core/finding.hpp"

#include <algorithm>
#include <cmath>

namespace steadyfire {

bool graver(Finding const& a, Finding const& b) { return a.severity != b.severity ? a.severity < b.severity : a.order > b.order; }

Words FindingGroup::also() const {
  std::vector<Words> places;
  for (auto const& f : others) {
    std::vector<Words> figures;
    for (auto const& [name, value, measure] : f.figures) {
      if (std::isnan(value)) continue;
      std::string spaced = name;
      std::replace(spaced.begin(), spaced.end(), '_', ' ');
      figures.push_back(say("{} {}", spaced, Amount{value, measure}));
    }
    bool const has_own_limit = f.limit && (!first.limit || f.limit->value != first.limit->value);
    if (has_own_limit && !figures.empty()) figures.front() += say(" against {}", Amount{f.limit->value, f.limit->measure});
    places.push_back(figures.empty() ? Words(f.place) : say("{} ({})", f.place, listed(figures, ", ")));
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
