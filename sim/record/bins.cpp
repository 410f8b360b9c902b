#include "sim/record/bins.hpp"

#include <algorithm>
#include <cmath>

namespace steadyfire {

Bins::Bins(double start, double step, std::size_t most, std::vector<Channel> channels)
    : start_{start}, step_{step}, first_step_{step}, most_{most}, channels_{std::move(channels)}, bins_(most_ * channels_.size()) {}

void Bins::clear(double start) {
  start_ = start, step_ = first_step_, count_ = 0;
  std::fill(bins_.begin(), bins_.end(), Bin{});
}

void Bins::join_pairs() {
  for (std::size_t i = 0; i < most_; ++i)
    for (std::size_t c = 0; c < channels_.size(); ++c) {
      Bin joined;
      for (std::size_t const part : {2 * i, 2 * i + 1}) {
        if (part >= most_) continue;
        Bin const& b = bin(part, c);
        if (b.time == 0) continue;
        joined.least = joined.time > 0 ? std::min(joined.least, b.least) : b.least;
        joined.most = joined.time > 0 ? std::max(joined.most, b.most) : b.most;
        joined.time += b.time, joined.integral += b.integral;
      }
      bin(i, c) = joined;
    }
  count_ = (count_ + 1) / 2, step_ *= 2;
}

void Bins::add(double from, double to, std::vector<double> const& at_from, std::vector<double> const& at_to) {
  if (!(to > from)) return;
  while (to > start_ + double(most_) * step_) join_pairs();
  auto const last = std::min(most_ - 1, std::size_t((to - start_) / step_));
  for (auto i = std::size_t((from - start_) / step_); i <= last; ++i) {
    double const left = std::max(from, start_ + double(i) * step_), right = std::min(to, start_ + double(i + 1) * step_),
                 span = right - left;
    if (!(span > 0)) continue;
    count_ = std::max(count_, i + 1);
    for (std::size_t c = 0; c < channels_.size(); ++c) {
      double const slope = (at_to[c] - at_from[c]) / (to - from);
      double const a = left == from ? at_from[c] : at_from[c] + slope * (left - from),
                   b = right == to ? at_to[c] : at_from[c] + slope * (right - from);
      Bin& here = bin(i, c);
      auto const [low, high] = std::minmax(a, b);
      here.least = here.time > 0 ? std::min(here.least, low) : low;
      here.most = here.time > 0 ? std::max(here.most, high) : high;
      here.time += span, here.integral += span * (a + b) / 2;
    }
  }
}

Track Bins::track() const {
  Track track{start_, step_, channels_};
  for (std::size_t c = 0; c < channels_.size(); ++c) {
    auto& channel = track.channels[c];
    for (std::size_t i = 0; i < count_; ++i) {
      Bin const& b = bins_[i * channels_.size() + c];
      bool const empty = b.time == 0 && i > 0;
      channel.least.push_back(empty ? channel.least.back() : float(b.least));
      channel.mean.push_back(empty ? channel.mean.back() : b.time > 0 ? float(b.integral / b.time) : 0);
      channel.most.push_back(empty ? channel.most.back() : float(b.most));
    }
  }
  return track;
}

void SlidingHour::add(double time) {
  while (!last_hour_.empty() && time - last_hour_.front() >= 3600) last_hour_.pop_front();
  last_hour_.push_back(time);
  if (int(last_hour_.size()) > worst_) worst_ = int(last_hour_.size()), worst_at_ = last_hour_.front();
}

}  // namespace steadyfire
