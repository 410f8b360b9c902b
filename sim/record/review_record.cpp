#include "sim/record/review_record.hpp"

#include <algorithm>
#include <cmath>

namespace steadyfire {

bool Judgement::holds() const {
  double const rounding = 1e-9 * std::max(std::abs(actual.value), std::abs(limit.value));
  return sense == at_most ? actual.value <= limit.value + rounding : actual.value >= limit.value - rounding;
}

Words Judgement::told() const {
  return say("{} {}, {} {} ({})", subject, Amount{actual.value, actual.measure}, limit_word(),
             Amount{limit.value, limit.measure}, whose);
}

std::string ReviewCell::shown(UnitSystem system) const { return is_number ? show(value, measure, system) : words.in(system); }

void ReviewPart::judge(Judgement j) {
  judged.push_back(j);
  if (j.holds()) {
    in_order.push_back(std::move(j));
    return;
  }
  auto words = j.told();
  if (!j.consequence.empty()) words += ". " + j.consequence;
  find({j.id, j.place, j.severity, {j.actual}, j.limit, j.whose, std::move(words), j.order}, j.fix);
}

void ReviewPart::find(Finding f, Words fix) {
  f.fix = std::move(fix);
  findings.push_back(std::move(f));
}

std::vector<Finding> ReviewRecord::findings() const {
  std::vector<Finding> all;
  for (auto const& part : parts) all.insert(all.end(), part.findings.begin(), part.findings.end());
  std::stable_sort(all.begin(), all.end(), graver);
  return all;
}

bool ReviewRecord::has_serious() const {
  return std::any_of(parts.begin(), parts.end(), [](ReviewPart const& part) { return any_serious(part.findings); });
}

}  // namespace steadyfire
