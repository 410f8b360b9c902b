#include "sim/march/stage.hpp"

#include <cmath>
#include <cstring>

#include "sim/control/transitions.hpp"
#include "sim/march/loops.hpp"

namespace steadyfire {
namespace {
std::size_t hash_of(Sparse const& pattern) {
  std::size_t h = pattern.row_start.size();
  auto const mix = [&](int v) { h ^= std::size_t(v) + 0x9e3779b9 + (h << 6) + (h >> 2); };
  for (int v : pattern.row_start) mix(v);
  for (int v : pattern.column) mix(v);
  return h;
}
}  // namespace

Stage::Layout::Layout(Sparse const& pattern) : row_start{pattern.row_start}, column{pattern.column}, lu{pattern, first_free_place} {
  for (int row = 0; row + 1 < int(row_start.size()); ++row)
    for (int k = row_start[row]; k < row_start[row + 1]; ++k) {
      bool const from_given = column[k] >= account::count && column[k] < first_free_place;
      if (row >= first_free_place && from_given) given.push_back({row, column[k], k});
      if (row < account::count && column[k] >= account::count) accounts.push_back({row, column[k], k});
    }
}

Stage::Stage(Plan const& plan, Balance const& balance, State const& state, std::vector<double> weights, MarchStatistics& statistics)
    : plan{plan}, balance{balance}, state_{state}, statistics_{statistics}, weights_{std::move(weights)} {
  for (auto* v : {&known_x_, &known_rates_, &known_curved_, &leftover_, &z_, &curved_, &end_rates_, &step_, &guarded_x_})
    v->resize(plan.places());
  margins_.resize(guard_slots(plan));
}

Now Stage::now(double time, double const* x) const {
  Now now = state_.now(plan);
  now.time = time, now.x = x;
  return now;
}

/// Weighted root mean square over the places under error control.
double Stage::norm(double const* x) const {
  return std::sqrt(loops::weighted_square(int(weights_.size()), x, weights_.data()) / double(weights_.size()));
}

void Stage::equations_changed() {
  std::size_t constexpr most_layouts = 512;
  known_ = ended_ = is_calm_ = false, guarded_time_ = -1, factored_gamma_ = 0;
  auto const& pattern = balance.pattern();
  if (layout_ && layout_->column == pattern.column && layout_->row_start == pattern.row_start) return;
  if (layouts_.size() > most_layouts) layouts_.clear();
  auto& layout = layouts_[hash_of(pattern)];
  if (!layout || layout->column != pattern.column || layout->row_start != pattern.row_start)
    layout = std::make_unique<Layout>(pattern), ++statistics_.patterns;
  layout_ = layout.get();
}

/// Whether this is where the last stage ended, but for rounding.
bool Stage::ended_at(double time, double const* x) {
  double constexpr rounding = 1e-6;  // in errors allowed; outdoors, of which none is, in K
  if (!ended_ || time != end_time_ || !(std::abs(x[given::outdoors] - z_[given::outdoors]) < rounding)) return false;
  loops::sum(plan.places(), 1, x, -1, z_.data(), step_.data());
  return norm(step_.data()) < rounding;
}

void Stage::know(double time, double const* x) {
  int const n = plan.places();
  if (ended_at(time, x)) {
    known_curved_.swap(curved_), known_rates_.swap(end_rates_);
  } else {
    std::fill(known_curved_.begin(), known_curved_.end(), 0);
    balance.curved_rates(now(time, x), known_curved_.data());
    auto const& A = balance.pattern();
    int const* const column = A.column.data();
    double const* const value = A.value.data();
    for (int i = 0, k = 0; i < n; ++i) {
      double sum = known_curved_[i];
      for (int const end = A.row_start[i + 1]; k < end; ++k) sum += value[k] * x[column[k]];
      known_rates_[i] = sum;
    }
    ++statistics_.rhs;
  }
  known_rates_[given::outdoors] = balance.outdoor_slope;
  std::memcpy(known_x_.data(), x, n * sizeof *x);
  known_time_ = time, known_ = true, factored_here_ = ended_ = false, left_after_ = 0;
}

void Stage::rates(double time, double const* x, double* rates) {
  // A restart, a first stage and a comparison at an event ask at the same point.
  if (!known_ || known_time_ != time || std::memcmp(x, known_x_.data(), known_x_.size() * sizeof *x) != 0) know(time, x);
  std::memcpy(rates, known_rates_.data(), known_rates_.size() * sizeof *rates);
}

void Stage::margins(double time, double const* x, double* slots) {
  std::size_t const size = guarded_x_.size() * sizeof *x;
  if (guarded_time_ != time || std::memcmp(x, guarded_x_.data(), size) != 0) {
    steadyfire::margins(plan, now(time, x), margins_.data());
    guarded_time_ = time, std::memcpy(guarded_x_.data(), x, size);
  }
  std::copy(margins_.begin(), margins_.end(), slots);
}

bool Stage::factor(double gamma) {
  // As long as nothing needs a correction, old slopes serve: by how much they have changed since, the laws leave over.
  if (gamma == factored_gamma_ && (factored_here_ || is_calm_)) return true;
  if (!is_calm_) {
    auto const& bends = balance.bends();
    bent_.assign(bends.size(), 0);
    balance.curved_slopes(now(known_time_, known_x_.data()), bent_.data());
    slopes_ = balance.pattern().value;
    bends_.clear();
    for (std::size_t j = 0; j < bends.size(); ++j)
      if (bent_[j] != 0) slopes_[bends[j].slot] += bent_[j], bends_.push_back({bends[j].row, bends[j].column, bent_[j]});
  }
  ++statistics_.factored;
  factored_here_ = is_calm_ = true;
  bool const sound = layout_->lu.factor(slopes_.data(), gamma);
  factored_gamma_ = sound ? gamma : 0;
  return sound;
}

/// Accounts hang on everything and nothing on them: what they gain follows at the end.
void Stage::settle_accounts(double gamma, double* change) const {
  auto const& entries = layout_->accounts;
  for (std::size_t k = 0; k < entries.size();) {
    int const row = entries[k].row;
    double sum = 0;
    for (; k < entries.size() && entries[k].row == row; ++k) sum += slopes_[entries[k].slot] * change[entries[k].column];
    change[row] += gamma * sum;
  }
}

/// What the laws leave over at base + change, into `leftover_`; by how much that is more than before, into `step_`, which
/// is 0 in rows without laws. Returns the norm of `step_`.
double Stage::ask_laws(double time, double gamma, double const* base, double const* change) {
  loops::add_scaled(plan.places(), base, 1, change, z_.data());
  std::fill(curved_.begin(), curved_.end(), 0);
  balance.curved_rates(now(time, z_.data()), curved_.data());
  ++statistics_.rhs;
  std::fill(step_.begin(), step_.end(), 0);
  for (auto const& b : bends_) step_[b.row] -= b.slope * change[b.column];
  double sum = 0;
  for (int const row : balance.bent_rows()) {
    double const leftover = gamma * (curved_[row] - known_curved_[row] + step_[row]), more = leftover - leftover_[row];
    leftover_[row] = leftover, step_[row] = more;
    sum += (more * weights_[row]) * (more * weights_[row]);
  }
  return surprise_ = std::sqrt(sum / double(weights_.size()));
}

bool Stage::solve(double time, double gamma, double const* base, double const* data, double tolerance, double* change) {
  int constexpr most_corrections = 8;
  // What stays uncorrected is not in the error estimate, and of one sign while a house warms: a fifth of what the integrator allows.
  double constexpr enough = 0.2, hardly = 0.1;
  int const n = plan.places();
  // With the trivial predictor the base is where the step began, and all is known there.
  if (!known_ || std::memcmp(base, known_x_.data(), n * sizeof *base) != 0) know(time, base);
  ended_ = false;
  if (!factor(gamma)) return false;

  double const after = time - known_time_, ratio = left_after_ > 0 ? after / left_after_ : 0;
  bool const is_sure = after < left_after_ && surprise_ < hardly * tolerance;  // between base and a point where all went as reckoned
  left_after_ = after;
  loops::add_scaled(n, data, gamma, known_rates_.data(), change);
  for (int const row : balance.bent_rows()) change[row] += leftover_[row] *= ratio * ratio;
  for (auto const& e : layout_->given) change[e.row] += gamma * slopes_[e.slot] * change[e.column];
  layout_->lu.solve(change);
  ++statistics_.newton;
  double last = norm(change);
  if (is_sure) return settle_accounts(gamma, change), std::isfinite(last);

  for (int round = 1; round < most_corrections; ++round) {
    // A correction is no larger than what asked for it: heat between neighbours evens out.
    if (ask_laws(time, gamma, base, change) <= enough * tolerance) {
      settle_accounts(gamma, change);
      // γ·f(z) is what the stage says, and what the laws gave more than was reckoned with.
      loops::sum(n, 1 / gamma, change, -1 / gamma, data, end_rates_.data());
      for (int const row : balance.bent_rows()) end_rates_[row] += step_[row] / gamma;
      return end_time_ = time, ended_ = std::isfinite(last);
    }
    is_calm_ = false;
    layout_->lu.solve(step_.data());
    ++statistics_.newton;
    loops::add_scaled(n, change, 1, step_.data(), change);
    double const size = norm(step_.data());
    // What is still missing is about the next correction, which shrinks as this one did.
    double const rate = last > 0 ? size / last : 0;
    if (size * std::min(1.0, rate) <= tolerance) return settle_accounts(gamma, change), true;
    if (!(size < 2 * last)) return false;
    last = size;
  }
  return false;
}

}  // namespace steadyfire
