#include "tools/study/front_search.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>
#include <pagmo/algorithms/compass_search.hpp>
#include <pagmo/algorithms/nsga2.hpp>
#include <pagmo/batch_evaluators/member_bfe.hpp>
#include <pagmo/bfe.hpp>
#include <pagmo/population.hpp>
#include <pagmo/problem.hpp>
#include <pagmo/utils/generic.hpp>
#include <pagmo/utils/multi_objective.hpp>
#include <random>

#include "tools/study/spread.hpp"

namespace steadyfire {
namespace {

using Cloud = std::vector<std::vector<double>>;

/// The search as pagmo asks for it.
///
/// Shape   merits as shares of `scale`. What lies beyond `reach` is worse than all within, what has a fault worse still, the more so the
///         farther out. A billionth for each point asked tells equal ones apart, as distances in a crowd of equals would be 0/0.
struct Answer {
  FrontSearch* search = nullptr;
  std::vector<double> scale{}, reach{}, home{};
  std::function<double(Trial const&)> number{};
  mutable long asked = 0;

  std::pair<pagmo::vector_double, pagmo::vector_double> get_bounds() const {
    pagmo::vector_double least, most;
    if (search)
      for (auto const& s : search->spans()) least.push_back(s.least), most.push_back(s.most);
    else least = {0}, most = {1};
    return {least, most};
  }
  pagmo::vector_double::size_type get_nobj() const { return number || scale.empty() ? 1 : scale.size(); }
  pagmo::vector_double fitness(pagmo::vector_double const& x) const { return batch_fitness(x); }
  pagmo::vector_double batch_fitness(pagmo::vector_double const& all) const {
    auto const n = search->spans().size();
    Cloud points;
    for (auto x = all.begin(); x != all.end(); x += long(n)) points.push_back(search->snapped({x, x + long(n)}));
    pagmo::vector_double answer;
    for (auto const i : search->judge(points)) {
      auto const& t = search->trials()[i];
      double const apart = 1e-9 * double(++asked);
      double const out = !t.is_good() ? 1e9 * (1 + away(t.at)) : number ? 0 : beyond(t.verdict.merits);
      for (std::size_t k = 0; k < get_nobj(); ++k)
        answer.push_back(apart + (out > 0 ? out : number ? number(t) : t.verdict.merits[k] / scale[k]));
    }
    return answer;
  }
  double beyond(std::vector<double> const& merits) const {
    double sum = 0;
    for (std::size_t k = 0; k < merits.size(); ++k) sum += std::max(0.0, (merits[k] - reach[k]) / scale[k]);
    return sum > 0 ? 1e6 * (1 + sum) : 0;
  }
  double away(std::vector<double> const& at) const {
    double sum = 0;
    for (std::size_t k = 0; k < at.size(); ++k) sum += std::abs(at[k] - home[k]) / (search->spans()[k].most - search->spans()[k].least);
    return sum;
  }
};

}  // namespace

FrontSearch::FrontSearch(std::vector<Span> spans, Judge judge, unsigned jobs, std::function<bool()> stop,
                         std::function<void(std::size_t)> told)
    : spans_{std::move(spans)}, judge_{std::move(judge)}, jobs_{jobs}, stop_{std::move(stop)}, told_{std::move(told)} {}

std::vector<double> FrontSearch::snapped(std::vector<double> x) const {
  for (std::size_t k = 0; k < x.size(); ++k) {
    auto const& s = spans_[k];
    if (s.step > 0) x[k] = s.step * std::round(x[k] / s.step);
    x[k] = std::clamp(x[k], s.least, s.most);
  }
  return x;
}

std::vector<std::size_t> FrontSearch::judge(Cloud const& points) {
  std::vector<std::size_t> numbers, fresh;
  for (auto const& p : points) {
    auto const [place, is_new] = known_.try_emplace(p, trials_.size());
    if (is_new) fresh.push_back(trials_.size()), trials_.push_back({p, {}});
    numbers.push_back(place->second);
  }
  std::atomic<std::size_t> judged{trials_.size() - fresh.size()};
  spread(
      fresh.size(), jobs_,
      [&](std::size_t i) {
        auto& t = trials_[fresh[i]];
        t.verdict = judge_(t.at);
        ++judged;
      },
      [&] {
        if (told_) told_(judged);
        return stop_ && stop_();
      });
  if (stop_ && stop_()) throw SearchStopped{};
  return numbers;
}

void FrontSearch::find_front(long runs, unsigned seed, Cloud const& starts, std::vector<double> const& reach) {
  long const wanted = std::clamp(8 * long(spans_.size()), 20L, 60L);
  long const crowd = std::max(8L, std::min(wanted, runs / 5) / 4 * 4), generations = std::max(1L, runs / crowd - 1);
  auto const first = judge(starts);
  Answer asked;
  asked.search = this, asked.reach = reach, asked.home = starts.empty() ? std::vector<double>{} : starts[0];
  if (asked.home.empty())
    for (auto const& s : spans_) asked.home.push_back((s.least + s.most) / 2);
  auto const good = std::find_if(trials_.begin(), trials_.end(), [](auto const& t) { return t.is_good(); });
  std::size_t merits = 0;
  if (good != trials_.end()) {
    merits = good->verdict.merits.size();
    for (double m : good->verdict.merits) asked.scale.push_back(std::abs(m) > 0 ? std::abs(m) : 1);
  }
  if (merits < 2) throw std::invalid_argument{"a front needs a good start and two merits"};
  pagmo::problem problem{asked};
  pagmo::bfe const together{pagmo::member_bfe{}};
  pagmo::population all{problem, 0, seed};
  auto const add = [&](pagmo::vector_double const& points) {
    auto const worth = together(problem, points);
    auto const n = spans_.size();
    for (std::size_t i = 0; i * n < points.size(); ++i)
      all.push_back({points.begin() + long(i * n), points.begin() + long((i + 1) * n)},
                    {worth.begin() + long(i * merits), worth.begin() + long((i + 1) * merits)});
  };
  pagmo::vector_double begin;
  for (auto const& s : starts)
    if (long(begin.size() / spans_.size()) < crowd) begin.insert(begin.end(), s.begin(), s.end());
  std::mt19937 chance{seed};
  auto const random = pagmo::batch_random_decision_vector(problem, std::size_t(crowd) - begin.size() / spans_.size(), chance);
  begin.insert(begin.end(), random.begin(), random.end());
  add(begin);
  double const mutated = std::max(0.2, 1 / double(spans_.size()));
  pagmo::nsga2 method{unsigned(generations), 0.9, 10, mutated, 15, seed};
  method.set_bfe(together);
  method.evolve(all);
}

void FrontSearch::polish(std::vector<double> const& start, std::function<double(Trial const&)> const& number, long runs) {
  Answer asked;
  asked.search = this, asked.home = start, asked.number = number;
  pagmo::problem problem{asked};
  pagmo::population one{problem, 0, 1};
  one.push_back(start);
  pagmo::compass_search{unsigned(std::max(runs, 1L)), 0.08, 0.008, 0.5}.evolve(one);
}

std::vector<std::size_t> best_compromises(Cloud const& merits) {
  std::vector<std::size_t> front;
  if (merits.empty()) return front;
  if (merits.size() == 1) return {0};
  auto const sorted = pagmo::fast_non_dominated_sorting(merits);
  for (auto const i : std::get<0>(sorted).at(0)) front.push_back(i);
  std::sort(front.begin(), front.end(), [&](auto a, auto b) { return merits[a] < merits[b] || (merits[a] == merits[b] && a < b); });
  front.erase(std::unique(front.begin(), front.end(), [&](auto a, auto b) { return merits[a] == merits[b]; }), front.end());
  return front;
}

std::size_t evenest(Cloud const& front) {
  auto best = front.at(0), worst = best;
  for (auto const& f : front)
    for (std::size_t k = 0; k < f.size(); ++k) best[k] = std::min(best[k], f[k]), worst[k] = std::max(worst[k], f[k]);
  auto const away = [&](std::vector<double> const& f) {
    double sum = 0;
    for (std::size_t k = 0; k < f.size(); ++k)
      if (worst[k] > best[k]) sum += std::pow((f[k] - best[k]) / (worst[k] - best[k]), 2);
    return sum;
  };
  std::size_t least = 0;
  for (std::size_t i = 1; i < front.size(); ++i)
    if (away(front[i]) < away(front[least])) least = i;
  return least;
}

namespace {

/// The way of one coordinate to one end of its span.
class Walk {
public:
  Walk(FrontSearch& search, std::vector<double> const& at, std::size_t which, double end,
       std::function<std::string(Trial const&)> const& harm)
      : search_{search}, at_{at}, which_{which}, end_{end}, harm_{harm} {}

  /// How far it may go, and why no farther.
  std::pair<double, std::string> go() {
    auto const& span = search_.spans()[which_];
    double good = at_[which_], bad = end_;
    std::string why;
    Cloud ways;
    constexpr int stops = 6;
    for (int i = 1; i <= stops; ++i) ways.push_back(moved(at_[which_] + (end_ - at_[which_]) * i / stops));
    auto const numbers = search_.judge(ways);
    for (std::size_t i = 0; i < ways.size() && why.empty(); ++i) {
      why = harm_(search_.trials()[numbers[i]]);
      (why.empty() ? good : bad) = ways[i][which_];
    }
    if (why.empty()) return {end_, ""};
    double const fine = span.step > 0 ? 1.01 * span.step : (span.most - span.least) / 100;
    while (std::abs(bad - good) > fine) {
      auto const between = moved((good + bad) / 2);
      if (between[which_] == good || between[which_] == bad) break;
      auto const harmed = harm_(search_.trials()[search_.judge({between})[0]]);
      if (harmed.empty()) good = between[which_];
      else bad = between[which_], why = harmed;
    }
    return {good, why};
  }

private:
  std::vector<double> moved(double x) const {
    auto point = at_;
    auto const& s = search_.spans()[which_];
    point[which_] = s.step > 0 && x != end_ ? s.step * std::round(x / s.step) : x;
    point[which_] = std::clamp(point[which_], s.least, s.most);
    return point;
  }

  FrontSearch& search_;
  std::vector<double> const& at_;
  std::size_t which_;
  double end_;
  std::function<std::string(Trial const&)> const& harm_;
};

}  // namespace

std::vector<Leeway> leeway(FrontSearch& search, std::vector<double> const& at, std::function<std::string(Trial const&)> const& harm) {
  std::vector<Leeway> all;
  for (std::size_t k = 0; k < at.size(); ++k) {
    auto const& s = search.spans()[k];
    auto const [least, least_why] = Walk{search, at, k, s.least, harm}.go();
    auto const [most, most_why] = Walk{search, at, k, s.most, harm}.go();
    all.push_back({least, most, least_why.empty(), most_why.empty(), least_why, most_why});
  }
  return all;
}

}  // namespace steadyfire
