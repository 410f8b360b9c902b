#include "sim/heat/balance.hpp"

#include <algorithm>
#include <cassert>
#include <set>
#include <utility>

namespace steadyfire {
namespace {
bool same_places(std::vector<Matter> const& a, std::vector<Matter> const& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](Matter const& p, Matter const& q) { return p.row == q.row && p.column == q.column; });
}
}  // namespace

void Balance::carry_water(Now const& now, Links& book) const {
  for (std::size_t b = 0; b < plan_.branches.size(); ++b) {
    auto const& run = plan_.branches[b];
    double const W = std::abs(now.flow[b]) * plan_.fluids[b].heat_capacity;
    bool const back = now.flow[b] < 0;
    Place before = back ? run.outlet : run.inlet, from = before;
    for (int i = 0; i < run.cells; ++i) {
      Place const to = run.first_cell + (back ? run.cells - 1 - i : i);
      book.carry(from, to, W);
      // Beyond upwind, to third order: the water at the face is (−T_before + 5·T_from + 2·T_to)/6.
      if (run.keeps_slugs && i > 0) book.link(from, to, W / 3, to, from), book.link(from, to, W / 6, from, before);
      before = std::exchange(from, to);
    }
    book.carry(from, back ? run.inlet : run.outlet, W);  // the last cell is what leaves: sensors sit there
  }
}

bool Balance::settle(Now const& now) {
  links_.entries.clear();
  carry_water(now, links_);
  for (auto const& batch : plan_.batches) batch->settle(now), batch->links(now, links_);
  bool changed = false;
  // Who hangs on whom is asked anew only where water has turned.
  if (directions_changed(now) || links_.entries.size() != link_slot_.size()) {
    laws_.clear();
    Pattern pattern{laws_};
    for (auto const& batch : plan_.batches) std::as_const(*batch).laws(now, pattern);
    changed = !same_places(links_.entries, laid_links_) || !same_places(laws_, laid_laws_);
    if (changed) lay_pattern(links_.entries, laws_);
  }
  assert(same_places(links_.entries, laid_links_));
  std::fill(linear_.value.begin(), linear_.value.end(), 0);
  for (std::size_t i = 0; i < links_.entries.size(); ++i) linear_.value[link_slot_[i]] += links_.entries[i].value;
  return changed;
}

/// Whether water runs another way somewhere than when this was asked last; so it is at first.
bool Balance::directions_changed(Now const& now) {
  bool changed = directions_.empty();
  directions_.resize(plan_.branches.size() + 1);  // never empty
  for (std::size_t b = 0; b < plan_.branches.size(); ++b) {
    int const direction = (now.flow[b] > 0) - (now.flow[b] < 0);
    if (std::exchange(directions_[b], direction) != direction) changed = true;
  }
  return changed;
}

void Balance::lay_pattern(std::vector<Matter> const& links, std::vector<Matter> const& laws) {
  std::vector<std::pair<int, int>> places;  // row and column, each once
  for (int i = 0; i < plan_.places(); ++i) places.emplace_back(i, i);
  for (auto const* list : {&links, &laws})
    for (auto const& e : *list) places.emplace_back(e.row, e.column);
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end()), places.end());
  laid_links_ = links, laid_laws_ = laws;
  linear_ = {{0}, {}, {}};
  for (auto const& [row, column] : places) {
    linear_.column.push_back(column);
    linear_.row_start.resize(std::size_t(row) + 2);
    linear_.row_start.back() = int(linear_.column.size());
  }
  linear_.value.assign(linear_.column.size(), 0);
  auto const slots = [&](std::vector<Matter> const& list) {
    std::vector<int> slot;
    for (auto const& e : list) {
      auto const row = linear_.column.begin() + linear_.row_start[e.row];
      slot.push_back(int(std::lower_bound(row, linear_.column.begin() + linear_.row_start[e.row + 1], e.column) - linear_.column.begin()));
    }
    return slot;
  };
  link_slot_ = slots(links);
  auto const law_slots = slots(laws);
  std::set<int> const bent(law_slots.begin(), law_slots.end());
  bends_.clear(), bent_rows_.clear(), law_bend_.clear();
  int row = 0;
  for (int const slot : bent) {
    while (linear_.row_start[row + 1] <= slot) ++row;
    bends_.push_back({slot, row, linear_.column[slot]});
    if (bent_rows_.empty() || bent_rows_.back() != row) bent_rows_.push_back(row);
  }
  for (int const slot : law_slots)
    law_bend_.push_back(
        int(std::lower_bound(bends_.begin(), bends_.end(), slot, [](Bend const& b, int s) { return b.slot < s; }) - bends_.begin()));
}

void Balance::rates(Now const& now, double* rates) const {
  int const* column = linear_.column.data();
  double const* value = linear_.value.data();
  for (int i = 0, k = 0; i < plan_.places(); ++i) {
    double sum = 0;
    for (int const end = linear_.row_start[i + 1]; k < end; ++k) sum += value[k] * now.x[column[k]];
    rates[i] = sum;
  }
  rates[given::outdoors] = outdoor_slope;
  curved_rates(now, rates);
}

void Balance::curved_rates(Now const& now, double* rates) const {
  Rates book{now.x, plan_.per_heat.data(), rates};
  for (auto const& batch : plan_.batches) std::as_const(*batch).laws(now, book);
}

void Balance::curved_slopes(Now const& now, double* by_bend) const {
  Slopes book{now.x, plan_.per_heat.data(), by_bend, law_bend_.data()};
  for (auto const& batch : plan_.batches) std::as_const(*batch).laws(now, book);
}

void Balance::slopes(Now const& now, std::vector<double>& values) const {
  std::vector<double> bent(bends_.size());
  curved_slopes(now, bent.data());
  values = linear_.value;
  for (std::size_t j = 0; j < bends_.size(); ++j) values[bends_[j].slot] += bent[j];
}

}  // namespace steadyfire
