#include "sim/control/transitions.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace steadyfire {

bool change_modes(Plan const& plan, State& state, bool const* forced, std::vector<Trip>& trips) {
  auto const first = trips.size();
  for (int round = 0;; ++round) {
    auto const before = trips.size();
    int slot = 0;
    for (auto const& batch : plan.batches) {
      auto const mine = trips.size();
      batch->trip(state.now(plan), forced && round == 0 ? forced + slot : nullptr, state.mode.data(), state.x.data(), trips);
      for (auto i = mine; i < trips.size(); ++i) state.since[trips[i].piece] = state.time;
      slot += batch->guard_slots();
    }
    if (trips.size() == before) break;
    if (round == 60) {
      std::set<std::string> loop;
      for (auto i = before; i < trips.size(); ++i) loop.insert(plan.pieces[trips[i].piece].name);
      std::string names;
      for (auto const& n : loop) names += (names.empty() ? "" : ", ") + n;
      throw Stopped("E412", state.time, "controls do not settle", names, words_of(trips.back()).in(UnitSystem::us),
                    "add a differential or a delay to these controls");
    }
  }
  return trips.size() > first;
}

Words words_of(Trip const& t) {
  bool const is_temperature = t.measure.si.dimension == measure::temperature.si.dimension;
  std::array<std::pair<std::string_view, Amount>, 3> const known{
      {{"{value}", {t.value, t.measure}},
       {"{limit}", {t.limit, t.measure}},
       {"{beyond}", {std::abs(t.value - t.limit), is_temperature ? measure::temperature_change : t.measure}}}};
  Words words;
  for (auto rest = t.words; !rest.empty();) {
    auto const brace = std::min(rest.find('{'), rest.size());
    if (brace > 0) words += Words(rest.substr(0, brace));
    rest.remove_prefix(brace);
    if (rest.empty()) break;
    auto const it = std::find_if(known.begin(), known.end(), [&](auto const& k) { return rest.starts_with(k.first); });
    if (it == known.end()) throw InternalError("no such placeholder: " + std::string(t.words));
    words += Words(it->second);
    rest.remove_prefix(it->first.size());
  }
  return words;
}

int guard_slots(Plan const& plan) {
  int n = 0;
  for (auto const& b : plan.batches) n += b->guard_slots();
  return n;
}

void margins(Plan const& plan, Now const& now, double* slots) {
  for (auto const& b : plan.batches) b->margins(now, slots), slots += b->guard_slots();
}

double next_due(Plan const& plan, Now const& now) {
  double first = 1e300;
  for (auto const& b : plan.batches) first = std::min(first, b->due(now));
  return first;
}

}  // namespace steadyfire
