#include "tools/study/hand_out.hpp"

#include <algorithm>
#include <cmath>

namespace steadyfire {

HandOut::HandOut(std::span<std::size_t const> points, double patience)
    : patience_{patience}, waiting_{points.begin(), points.end()}, open_{points.size()} {
  for (auto const p : points) state_[p] = Is::waiting;
}

std::size_t HandOut::share() const {
  if (seen_ == 0) return 1;
  double constexpr ahead = 0.5;  // [s]
  double const each = std::max(sum_ / double(seen_), 1e-6);
  return std::size_t(std::clamp(1 + std::ceil(ahead / each), 2.0, 100.0));
}

std::vector<std::size_t> HandOut::take(int rank, std::size_t most, double now) {
  std::vector<std::size_t> taken;
  while (taken.size() < most && !waiting_.empty()) {
    auto const p = waiting_.front();
    waiting_.pop_front();
    auto& is = state_.at(p);
    if (is != Is::waiting) continue;  // it came in late from a rank that had been given up
    is = Is::out;
    taken.push_back(p);
  }
  if (taken.empty()) return taken;
  auto& held = held_[rank];
  if (held.points.empty()) held.heard = now;
  held.points.insert(held.points.end(), taken.begin(), taken.end());
  return taken;
}

bool HandOut::came(int rank, std::size_t point, double seconds, double now) {
  if (auto const held = held_.find(rank); held != held_.end()) {
    held->second.heard = now;
    std::erase(held->second.points, point);
  }
  ++seen_, sum_ += seconds, slowest_ = std::max(slowest_, seconds);
  auto& is = state_.at(point);
  if (is == Is::in) return false;
  is = Is::in, --open_;
  return true;
}

std::size_t HandOut::held_by(int rank) const {
  auto const held = held_.find(rank);
  return held == held_.end() ? 0 : held->second.points.size();
}

std::vector<int> HandOut::give_up_silent(double now) {
  std::vector<int> silent;
  double const longest = std::max(patience_, 20 * slowest_);
  for (auto& [rank, held] : held_) {
    if (held.points.empty() || now - held.heard < longest) continue;
    silent.push_back(rank);
    for (auto const p : held.points)
      if (auto& is = state_.at(p); is == Is::out) is = Is::waiting, waiting_.push_front(p);
    held.points.clear();
  }
  return silent;
}

}  // namespace steadyfire
