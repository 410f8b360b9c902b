#include "tools/study/advise/advise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <mutex>
#include <set>

#include "tools/job/catalog.hpp"
#include "tools/study/spread.hpp"

namespace steadyfire {
namespace {

using Sort = Trouble::Sort;
double constexpr negligible = 0.1;  // of trouble

/// By how much cycling is less: by the share of starts that are gone, as a count in one hour scatters more than a day's; all of it
/// where none is left. What any change makes on a day of short cycling is none.
double less_cycling(Judged const& before, Judged const& after) {
  double constexpr scatter = 0.12;  // twice what two such days differ by with nothing changed (tests/bench/yardstick.py)
  double const fall = 1 - double(after.run.burner.starts) / double(std::max(before.run.burner.starts, 1L));
  if (std::abs(fall) <= scatter) return 0;
  double const was = before.total(Subject::cycling), left = after.total(Subject::cycling);
  return fall > 0 && left < negligible ? was - left : was * fall;
}

void weigh(Tried& t, Judged const& before, std::vector<Remedy> const& remedies) {
  t.hardness = 0;
  for (auto const i : t.remedies) t.hardness += 1 + int(remedies[i].hardness);
  if (!t.after.fault.empty()) return;
  for (auto const& was : before.troubles) {  // a zone that is joined to another has not lost its trouble by that
    auto const in = [&](Record const& r) {
      return std::any_of(r.zones.begin(), r.zones.end(), [&](auto const& z) { return z.name == was.place; });
    };
    if (in(before.run) && !in(t.after.run)) t.after.troubles.push_back(was);
  }
  for (int s = 0; s < subjects; ++s) t.effect[std::size_t(s)] = before.total(Subject(s)) - t.after.total(Subject(s));
  t.effect[std::size_t(Subject::cycling)] = less_cycling(before, t.after);
  double most = 0.5;  // [K] that is felt
  for (auto const& was : before.run.zones)
    for (auto const& now : t.after.run.zones)
      if (was.name == now.name && was.room_mean - now.room_mean > most && !before.has(Sort::too_warm)) {
        most = was.room_mean - now.room_mean;
        t.but = say("{} is {} colder on average", was.name, Amount{most, measure::fine_temperature_change});
      }
  double worst = 3 * negligible;
  for (auto const& now : t.after.troubles) {
    if (subject_of(now.sort) == Subject::cycling && t.of(Subject::cycling) >= 0) continue;  // worse only where it starts more often
    auto const was = std::find_if(before.troubles.begin(), before.troubles.end(),
                                  [&](auto const& x) { return x.sort == now.sort && x.place == now.place; });
    double const worse = now.amount - (was == before.troubles.end() ? 0 : was->amount);
    if (worse > worst) worst = worse, t.but = now.words;
  }
}

bool goes_before(Tried const& a, Tried const& b, double of_a, double of_b, bool mends_a, bool mends_b) {
  double constexpr alike = 0.05;
  if (mends_a != mends_b) return mends_a;
  if (a.but.empty() != b.but.empty()) return a.but.empty();
  if (!mends_a && std::abs(of_a - of_b) > alike) return of_a > of_b;
  return a.hardness != b.hardness ? a.hardness < b.hardness : of_a > of_b;
}
bool does_more(Tried const& a, Tried const& b) { return goes_before(a, b, a.of_all(), b.of_all(), a.mends_all(), b.mends_all()); }

/// Whether the size before one remedy helped and left something of what it helps against.
bool wants_more(Advice const& a, std::size_t remedy) {
  auto const& larger = a.remedies[remedy];
  for (auto const& t : a.alone) {
    auto const& r = a.remedies[t.remedies[0]];
    if (r.what != larger.what || r.size + 1 != larger.size || r.hardness != larger.hardness || !t.after.fault.empty()) continue;
    for (int s = 0; s < subjects; ++s)
      if (t.of(Subject(s)) > negligible && t.after.total(Subject(s)) > negligible) return true;
  }
  return false;
}

/// The next size of a remedy, or its own number where it has none.
std::size_t larger_than(Advice const& a, std::size_t remedy) {
  auto const& r = a.remedies[remedy];
  auto const at = std::find_if(a.remedies.begin(), a.remedies.end(), [&](auto const& larger) {
    return larger.what == r.what && larger.size == r.size + 1 && larger.hardness == r.hardness;
  });
  return at == a.remedies.end() ? remedy : std::size_t(at - a.remedies.begin());
}

/// A pair that leaves a little of what one of its changes helps against, as one start too many: the same with more of that one.
std::vector<Tried> with_more_of_one(Advice const& a, std::vector<Tried> const& pairs) {
  double constexpr a_little = 0.5;  // of trouble
  std::vector<Tried> list;
  for (auto const& pair : pairs) {
    if (pair.mends_all() || !pair.after.fault.empty() || !pair.but.empty() || pair.after.total() > a_little) continue;
    for (std::size_t k = 0; k < pair.remedies.size(); ++k) {
      auto const alone = std::find_if(a.alone.begin(), a.alone.end(), [&](auto const& t) { return t.remedies[0] == pair.remedies[k]; });
      auto more = pair.remedies;
      more[k] = larger_than(a, more[k]);
      bool helps = false;
      for (int s = 0; s < subjects; ++s) helps = helps || (alone->of(Subject(s)) > negligible && pair.after.total(Subject(s)) > negligible);
      if (helps && more[k] != pair.remedies[k]) list.push_back({.remedies = more, .after = {}});
    }
  }
  return list;
}

/// What takes most away of each sort of change in each subject, the subjects in turn: what it does elsewhere others may mend.
std::vector<std::size_t> worth_joining(Advice const& a, std::size_t most) {
  std::vector<std::size_t> chosen;
  std::set<std::string> sorts;
  std::array<std::vector<Tried const*>, subjects> lists;
  for (int s = 0; s < subjects; ++s) {
    auto& list = lists[std::size_t(s)] = a.helping(Subject(s));
    double constexpr alike = 0.05;
    std::stable_sort(list.begin(), list.end(), [&](auto const* x, auto const* y) {
      double const by = x->of(Subject(s)) - y->of(Subject(s));
      return std::abs(by) > alike ? by > 0 : x->hardness < y->hardness;
    });
  }
  for (std::size_t rank = 0; chosen.size() < most; ++rank) {
    bool any = false;
    for (auto const& list : lists) {
      if (rank >= list.size()) continue;
      any = true;
      auto const i = list[rank]->remedies[0];
      if (chosen.size() < most && sorts.insert(a.remedies[i].what).second) chosen.push_back(i);
    }
    if (!any) break;
  }
  return chosen;
}

/// Pairs of some changes, the most promising first: by what each takes away alone, then the easiest.
std::vector<Tried> promising_pairs(Advice const& a, std::vector<std::size_t> const& some) {
  auto const alone = [&](std::size_t remedy) -> Tried const& {
    return *std::find_if(a.alone.begin(), a.alone.end(), [&](auto const& t) { return t.remedies[0] == remedy; });
  };
  auto const left = [&](Tried const& pair) {
    double sum = 0;
    for (int s = 0; s < subjects; ++s) {
      double gone = 0;
      for (auto const i : pair.remedies) gone += std::max(0.0, alone(i).of(Subject(s)));
      sum += std::max(0.0, a.before.total(Subject(s)) - gone);
    }
    return sum;
  };
  std::vector<std::pair<double, Tried>> pairs;
  for (std::size_t i = 0; i < some.size(); ++i)
    for (std::size_t k = i + 1; k < some.size(); ++k)
      if (!alone(some[i]).mends_all() && !alone(some[k]).mends_all()) {
        Tried pair{.remedies = {some[i], some[k]}, .after = {}};
        for (auto const r : pair.remedies) pair.hardness += 1 + int(a.remedies[r].hardness);
        double const rest = left(pair);
        pairs.emplace_back(rest, std::move(pair));
      }
  double constexpr alike = 0.25;  // of trouble
  std::stable_sort(pairs.begin(), pairs.end(), [&](auto const& x, auto const& y) {
    double const of_x = std::round(x.first / alike), of_y = std::round(y.first / alike);
    return of_x != of_y ? of_x < of_y : x.second.hardness < y.second.hardness;
  });
  std::vector<Tried> list;
  for (auto& [rest, pair] : pairs) list.push_back(std::move(pair));
  return list;
}

}  // namespace

double Tried::of_all() const {
  double sum = 0;
  for (double const e : effect) sum += e;
  return sum;
}
bool Tried::mends(Subject s) const { return but.empty() && of(s) > negligible && after.total(s) < negligible; }
bool Tried::mends_all() const { return after.fault.empty() && but.empty() && of_all() > negligible && after.total() < negligible; }

std::vector<Tried const*> Advice::helping(Subject s) const {
  std::vector<Tried const*> list;
  double constexpr worth_telling = 0.1;
  for (auto const& t : alone)
    if (t.after.fault.empty() && t.of(s) > std::max(negligible, worth_telling * before.total(s))) list.push_back(&t);
  std::stable_sort(list.begin(), list.end(),
                   [&](auto const* a, auto const* b) { return goes_before(*a, *b, a->of(s), b->of(s), a->mends(s), b->mends(s)); });
  return list;
}

std::vector<Tried const*> Advice::choices() const {
  double constexpr worth_doing = 0.1, worth_one_more = 0.1;  // of all that is wrong
  double const all = before.total();
  auto const worth = [&](Tried const& t) { return t.of_all() - worth_one_more * all * double(t.remedies.size() - 1); };
  std::vector<Tried const*> list;
  for (auto const* tried : {&alone, &together})
    for (auto const& t : *tried)
      if (t.after.fault.empty() && t.but.empty() && t.of_all() >= std::max(negligible, worth_doing * all)) list.push_back(&t);
  std::stable_sort(list.begin(), list.end(),
                   [&](auto const* a, auto const* b) { return goes_before(*a, *b, worth(*a), worth(*b), a->mends_all(), b->mends_all()); });
  return list;
}

std::string changed_text(Case const& house, Advice const& advice, Tried const& t) {
  std::vector<Edit> edits;
  for (auto const i : t.remedies) edits.insert(edits.end(), advice.remedies[i].edits.begin(), advice.remedies[i].edits.end());
  return edited(house.text(), edits, catalog());
}

Advice advise(Case const& house, Judged before, unsigned jobs, std::function<void(double)> const& progress,
              std::function<bool()> const& interrupted) {
  Advice a;
  a.before = std::move(before);
  if (a.before.troubles.empty()) return a;
  a.remedies = remedies_for(house, a.before);
  std::size_t constexpr pairs_of = 6, threes = 4;
  double const expected = double(a.remedies.size() + pairs_of * (pairs_of - 1) / 2 + threes);
  std::atomic<std::size_t> done{0};
  std::mutex one_at_a_time;
  auto const simulate = [&](std::vector<Tried>& all) {
    spread(
        all.size(), jobs,
        [&](std::size_t i) {
          auto& t = all[i];
          try {
            t.after = judge(Case{house.document().file, changed_text(house, a, t), {}, house.units()}, interrupted);
          } catch (BadInput const& e) { t.after.fault = e.what(); } catch (BadEdit const& e) {
            t.after.fault = e.what();
          }
          weigh(t, a.before, a.remedies);
          std::scoped_lock const lock{one_at_a_time};
          if (progress) progress(std::min(1.0, double(++done) / expected));
        },
        interrupted);
  };

  for (int size = 0; std::any_of(a.remedies.begin(), a.remedies.end(), [&](auto const& r) { return r.size >= size; }); ++size) {
    std::vector<Tried> some;
    for (std::size_t i = 0; i < a.remedies.size(); ++i)
      if (a.remedies[i].size == size && (size == 0 || wants_more(a, i))) some.push_back({{i}, {}});
    simulate(some);
    a.alone.insert(a.alone.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
  }
  auto const best = worth_joining(a, pairs_of);
  auto pairs = promising_pairs(a, best);
  std::size_t constexpr at_once = 4;
  for (bool found = false; !pairs.empty() && !found;) {
    auto const end = pairs.begin() + std::ptrdiff_t(std::min(at_once, pairs.size()));
    std::vector<Tried> some(std::make_move_iterator(pairs.begin()), std::make_move_iterator(end));
    pairs.erase(pairs.begin(), end);
    simulate(some);
    auto more = with_more_of_one(a, some);
    simulate(more);
    some.insert(some.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
    found = std::any_of(some.begin(), some.end(), [](auto const& t) { return t.mends_all(); });
    a.together.insert(a.together.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
  }
  auto const pair = std::min_element(a.together.begin(), a.together.end(), does_more);
  if (pair != a.together.end() && !pair->mends_all()) {
    std::vector<Tried> more;
    for (auto const i : best)
      if (more.size() < threes && std::find(pair->remedies.begin(), pair->remedies.end(), i) == pair->remedies.end())
        more.push_back({{pair->remedies[0], pair->remedies[1], i}, {}});
    simulate(more);
    a.together.insert(a.together.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
  }
  std::stable_sort(a.together.begin(), a.together.end(), does_more);
  if (progress) progress(1);
  return a;
}

}  // namespace steadyfire
