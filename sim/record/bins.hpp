#pragma once
/// The three bounded stores of a recorder: bins of time, the sliding hour, thinned samples.

#include <deque>
#include <vector>

#include "sim/record/record.hpp"

namespace steadyfire {

/// Quantities over time in equal bins, whatever the length of the run: when the bins are
/// full, neighbours join and the step doubles. A step of the march is taken as a straight
/// line and shared among all bins it crosses; means are weighted by time.
///
/// Shape   `channels` tell names only; bins that no time fell into repeat the one before.
/// Errors  none by merging: least, mean and most of a joined bin are exact. Within a step a
///         straight line is not the curve; the ends of all steps are.
class Bins {
 public:
  Bins(double start, double step, std::size_t most, std::vector<Channel> channels);
  void add(double from, double to, std::vector<double> const& at_from, std::vector<double> const& at_to);
  void clear(double start);
  Track track() const;

 private:
  struct Bin { double time = 0, integral = 0, least = 0, most = 0; };
  void join_pairs();
  Bin& bin(std::size_t i, std::size_t channel) { return bins_[i * channels_.size() + channel]; }

  double start_, step_, first_step_;
  std::size_t most_, count_ = 0;
  std::vector<Channel> channels_;
  std::vector<Bin> bins_;
};

/// The most happenings in any sliding 60 min, exactly: a window holds what lies less than 3600 s apart.
class SlidingHour {
 public:
  void add(double time);  ///< in order of time [s]
  int worst() const { return worst_; }
  double worst_at() const { return worst_at_; }  ///< [s] the first one of that hour

 private:
  std::deque<double> last_hour_;
  int worst_ = 0;
  double worst_at_ = 0;
};

/// Samples at least `spacing` apart; when there are too many every other one goes and the spacing doubles.
template <class Sample>
class Thinned {
 public:
  Thinned(double spacing, std::size_t most) : spacing_{spacing}, first_spacing_{spacing}, most_{most} {}
  bool wants(double at) const { return samples_.empty() || at >= last_ + spacing_; }
  void add(double at, Sample sample) {
    if (samples_.size() == most_) {
      std::size_t kept = 1;  // the first stays: moved onto itself it would be lost
      for (std::size_t i = 2; i < samples_.size(); i += 2) samples_[kept++] = std::move(samples_[i]);
      samples_.resize(kept), spacing_ *= 2;
    }
    samples_.push_back(std::move(sample)), last_ = at;
  }
  void clear() { samples_.clear(), spacing_ = first_spacing_; }
  std::vector<Sample> const& samples() const { return samples_; }

 private:
  double spacing_, first_spacing_, last_ = 0;
  std::size_t most_;
  std::vector<Sample> samples_;
};

}  // namespace steadyfire
