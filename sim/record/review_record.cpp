#include "sim/record/review_record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace steadyfire {

bool Judgement::holds() const {
  double const rounding = 1e-9 * std::max(std::abs(actual.value), std::abs(limit.value));
  return sense == at_most ? actual.value <= limit.value + rounding : actual.value >= limit.value - rounding;
}

std::string ReviewCell::shown(UnitSystem system) const { return is_number ? show(value, measure, system) : words; }

void ReviewPart::judge(Judgement j, UnitSystem system) {
  if (j.holds()) {
    in_order.push_back(std::move(j));
    return;
  }
  std::string const words = fmt::format("{}: {} where {} {} is allowed", j.subject, show(j.actual.value, j.actual.measure, system),
                                        j.sense == Judgement::at_most ? "at most" : "at least",
                                        show(j.limit.value, j.limit.measure, system));
  find({j.id, j.place, j.weight, {j.actual}, j.limit, j.whose, words, j.order}, j.remedy);
}

void ReviewPart::find(Finding f, std::string remedy) {
  f.remedy = std::move(remedy);
  findings.push_back(std::move(f));
}

std::vector<Finding> ReviewRecord::findings() const {
  std::vector<Finding> all;
  for (auto const& part : parts) all.insert(all.end(), part.findings.begin(), part.findings.end());
  auto const rank = [](Finding const& f) { return f.weight == "serious" ? 0 : f.weight == "minor" ? 1 : 2; };
  std::stable_sort(all.begin(), all.end(), [&](Finding const& a, Finding const& b) {
    return rank(a) != rank(b) ? rank(a) < rank(b) : a.order > b.order;
  });
  return all;
}

bool ReviewRecord::has_serious() const {
  return std::any_of(parts.begin(), parts.end(), [](ReviewPart const& part) {
    return std::any_of(part.findings.begin(), part.findings.end(), [](Finding const& f) { return f.weight == "serious"; });
  });
}

}  // namespace steadyfire
