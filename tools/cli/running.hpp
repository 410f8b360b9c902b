#pragma once
/// What commands share that run a house through time.

#include <chrono>

#include "sim/march/forcing.hpp"
#include "sim/study/run_study.hpp"
#include "tools/cli/command.hpp"

namespace steadyfire::cli {

extern char const* const caution;

/// How a run is asked for.
RunOptions options_of(Project const&, UnitSystem);

/// The weather's year as the run meets it: time 0 is midnight of its first day, at its start clock.
class RunWeather final : public Forcing {
 public:
  explicit RunWeather(Project const&);
  double at(double time) const override { return weather_.at(time + offset_); }
  double slope(double time) const override { return weather_.slope(time + offset_); }
  double next_knot(double time) const override { return weather_.next_knot(time + offset_) - offset_; }

 private:
  Weather const& weather_;
  double offset_;
};

/// A bar with the time left on stderr, once a run takes over a second; none where stderr is no terminal.
class Progress {
 public:
  Progress();
  ~Progress();
  void operator()(double share);

 private:
  bool const shown_;
  bool wrote_ = false;
  std::chrono::steady_clock::time_point const began_ = std::chrono::steady_clock::now();
};

/// From then on Ctrl-C is remembered, and ends nothing by itself.
void listen_for_interrupt();
bool was_interrupted();

}  // namespace steadyfire::cli
