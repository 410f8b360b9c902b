#include "tools/study/study_result.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <cmath>
#include <map>

#include "tools/job/house_run.hpp"
#include "tools/study/rank_influences.hpp"
#include "tools/study/study_columns.hpp"

namespace steadyfire {
namespace {

ClaimRecord answer(Study const& study, Claim const& claim, std::vector<double> const& numbers, UnitSystem units) {
  auto const& f = study.figures[claim.figure];
  ClaimRecord r{fmt::format("{} {} {}", f.name, claim.is_most ? "at most" : "at least", show(claim.limit, f.measure, units))};
  double const slack = 1e-9 * std::abs(claim.limit);  // a limit in other units is met when it is met exactly
  for (double const x : numbers) {
    if (std::isnan(x)) continue;
    ++r.of;
    if (claim.is_most ? x <= claim.limit + slack : x >= claim.limit - slack) ++r.held;
  }
  using Binomial = boost::math::binomial_distribution<double>;
  double const n = double(r.of), held = double(r.held), share = n > 0 ? held / n : 0;
  bool const is_drawn = study.sort != PointSort::full_grid && r.of > 0;
  r.least = is_drawn ? Binomial::find_lower_bound_on_p(n, held, 0.025) : share;
  r.most = is_drawn ? Binomial::find_upper_bound_on_p(n, held, 0.025) : share;
  return r;
}

void rank(StudyRecord& r) {
  std::vector<StudyColumn const*> inputs;
  for (auto const& c : r.inputs)
    if (is_ordered(c)) inputs.push_back(&c);
  if (inputs.empty()) return;
  for (auto const& figure : r.figures) {
    std::vector<double> x, y;
    for (std::size_t i = 0; i < figure.numbers.size(); ++i) {
      if (std::isnan(figure.numbers[i])) continue;
      y.push_back(figure.numbers[i]);
      for (auto const* c : inputs) x.push_back(c->numbers[i]);
    }
    if (y.size() < points_for_each_rank * inputs.size()) continue;
    auto const ranks = rank_influences(x, y);
    for (std::size_t k = 0; k < inputs.size(); ++k)
      if (!std::isnan(ranks[k].correlation)) r.influences.push_back({figure.key, inputs[k]->key, ranks[k].correlation, ranks[k].share});
  }
}

}  // namespace

StudyRecord result_of(Study const& study, Points const& points, Store const& store, UnitSystem units) {
  StudyRecord r;
  r.title = study.title.empty() ? study.base->document().file : study.title;
  r.scenario = study.scenario, r.program_version = STEADYFIRE_VERSION, r.points = word_for(study.sort);
  auto columns = columns_of(study);
  r.inputs = std::move(columns.inputs), r.figures = std::move(columns.figures);
  r.asked = long(points.size());
  std::map<std::string, long> faults;
  store.each([&](KeptPoint&& p) {
    if (!p.fault.empty()) {
      ++r.failed, ++faults[p.fault];
      return;
    }
    auto const at = points.at(p.number);
    for (std::size_t i = 0; i < at.size(); ++i) r.inputs[i].numbers.push_back(at[i]);
    for (std::size_t i = 0; i < p.figures.size(); ++i) r.figures[i].numbers.push_back(p.figures[i]);
  });
  r.faults.assign(faults.begin(), faults.end());
  std::stable_sort(r.faults.begin(), r.faults.end(), [](auto const& a, auto const& b) { return a.second > b.second; });
  for (auto const& c : study.claims) r.claims.push_back(answer(study, c, r.figures[c.figure].numbers, units));
  rank(r);
  r.pictures = study.pictures;
  r.cautions = {caution};
  r.words = sentences_of(r, study);
  return r;
}

}  // namespace steadyfire
