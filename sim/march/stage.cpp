#include "sim/march/stage.hpp"

#include <cmath>
#include <cstring>

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
      row_of.push_back(row);
      bool const from_given = column[k] >= account::count && column[k] < first_free_place;
      if (row >= first_free_place && from_given) given.push_back({row, column[k], k});
      if (row < account::count && column[k] >= account::count) accounts.push_back({row, column[k], k});
    }
}

Stage::Stage(Plan const& plan, Balance const& balance, State const& state, std::vector<double> weights, MarchStatistics& statistics)
    : plan{plan}, balance{balance}, state_{state}, statistics_{statistics}, weights_{std::move(weights)} {
  for (auto* v : {&known_x_, &known_rates_, &known_curved_, &z_, &step_, &curved_, &curved_before_}) v->resize(plan.places());
}

Now Stage::now(double time, double const* x) const {
  Now now = state_.now(plan);
  now.time = time, now.x = x;
  return now;
}

double Stage::norm(double const* x) const {
  double sum = 0;
  for (std::size_t i = 0; i < weights_.size(); ++i) sum += (x[i] * weights_[i]) * (x[i] * weights_[i]);
  return std::sqrt(sum / double(weights_.size()));
}

void Stage::equations_changed() {
  std::size_t constexpr most_layouts = 512;
  known_ = bent_ = false;
  auto const& pattern = balance.pattern();
  if (layout_ && layout_->column == pattern.column && layout_->row_start == pattern.row_start) return;
  if (layouts_.size() > most_layouts) layouts_.clear();
  auto& layout = layouts_[hash_of(pattern)];
  if (!layout || layout->column != pattern.column || layout->row_start != pattern.row_start)
    layout = std::make_unique<Layout>(pattern), ++statistics_.patterns;
  layout_ = layout.get();
}

void Stage::evaluate(double time, double const* x) {
  std::size_t const n = known_x_.size();
  std::memcpy(known_x_.data(), x, n * sizeof *x);
  std::fill(known_curved_.begin(), known_curved_.end(), 0);
  known_curved_[given::outdoors] = balance.outdoor_slope;
  balance.curved_rates(now(time, x), known_curved_.data());
  auto const& A = balance.pattern();
  int const* const column = A.column.data();
  double const* const value = A.value.data();
  for (std::size_t i = 0, k = 0; i < n; ++i) {
    double sum = known_curved_[i];
    for (std::size_t const end = A.row_start[i + 1]; k < end; ++k) sum += value[k] * x[column[k]];
    known_rates_[i] = sum;
  }
  known_time_ = time, known_ = true, bent_ = false;
  ++statistics_.rhs;
}

void Stage::rates(double time, double const* x, double* rates) {
  // A restart, a first stage and a comparison at an event ask at the same point.
  if (!known_ || known_time_ != time || std::memcmp(x, known_x_.data(), known_x_.size() * sizeof *x) != 0) evaluate(time, x);
  std::memcpy(rates, known_rates_.data(), known_rates_.size() * sizeof *rates);
}

bool Stage::factor(double time, double gamma) {
  if (!bent_) {
    balance.slopes(now(time, known_x_.data()), slopes_);
    auto const& straight = balance.pattern().value;
    bends_.clear();
    for (int const k : balance.curved_slots())
      if (double const bend = slopes_[k] - straight[k]; bend != 0) bends_.push_back({layout_->row_of[k], layout_->column[k], bend});
  } else if (gamma == factored_gamma_) {
    return true;
  }
  ++statistics_.factored;
  bent_ = layout_->lu.factor(slopes_.data(), gamma);
  factored_gamma_ = gamma;
  return bent_;
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

bool Stage::solve(double time, double gamma, double const* base, double const* data, double tolerance, double* change) {
  int constexpr most_corrections = 8;
  std::size_t const n = known_x_.size();
  // With the trivial predictor the base is where the step began, and all is known there.
  if (!known_ || std::memcmp(base, known_x_.data(), n * sizeof *base) != 0) evaluate(time, base);
  if (!factor(known_time_, gamma)) return false;

  for (std::size_t i = 0; i < n; ++i) change[i] = data[i] + gamma * known_rates_[i];
  for (auto const& e : layout_->given) change[e.row] += gamma * slopes_[e.slot] * change[e.column];
  layout_->lu.solve(change);
  ++statistics_.newton;
  if (bends_.empty()) return settle_accounts(gamma, change), std::isfinite(norm(change));

  std::memcpy(step_.data(), change, n * sizeof *change);
  curved_before_ = known_curved_;
  double last = norm(change);
  for (int round = 1; round < most_corrections; ++round) {
    for (std::size_t i = 0; i < n; ++i) z_[i] = base[i] + change[i];
    std::fill(curved_.begin(), curved_.end(), 0);
    curved_[given::outdoors] = balance.outdoor_slope;
    balance.curved_rates(now(time, z_.data()), curved_.data());
    ++statistics_.rhs;
    std::swap(step_, z_);  // z_ holds the last correction
    for (std::size_t i = 0; i < n; ++i) step_[i] = gamma * (curved_[i] - curved_before_[i]);
    for (auto const& b : bends_) step_[b.row] -= gamma * b.slope * z_[b.column];
    layout_->lu.solve(step_.data());
    ++statistics_.newton;
    for (std::size_t i = 0; i < n; ++i) change[i] += step_[i];
    double const size = norm(step_.data());
    // What is still missing is about the next correction, which shrinks as this one did.
    double const rate = last > 0 ? size / last : 0;
    if (size * std::min(1.0, rate) <= tolerance) return settle_accounts(gamma, change), true;
    if (!(size < 2 * last)) return false;
    last = size;
    std::swap(curved_, curved_before_);
  }
  return false;
}

}  // namespace steadyfire
