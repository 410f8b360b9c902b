#pragma once
/// Who works on the points of a study: threads of this process, or ranks of several.

#include <functional>
#include <span>

#include "tools/study/case.hpp"

namespace steadyfire {

/// A point that has been worked on.
struct Worked {
  std::size_t number;   ///< of the point
  Outcome outcome;
  double seconds = 0;   ///< that it took
  int rank = 0;         ///< who did it
};

class Workers {
 public:
  virtual ~Workers() = default;

  /// Works on points, the next one by whoever is free, and hands each to `keep` in the thread that called, one at a time, in the order in
  /// which they end.
  ///
  /// Shape   `work` is asked from any thread; what it tells hangs on the number alone. `stop` is asked now and then: points begun are then
  ///         dropped.
  /// Errors  what `keep` or `work` throws, thrown again when nobody works any more.
  virtual void run(std::span<std::size_t const> points, std::function<Outcome(std::size_t)> const& work,
                   std::function<void(Worked&&)> const& keep, std::function<bool()> const& stop) = 0;
};

/// Threads of this process; 0 is one for each processor.
class ThreadWorkers final : public Workers {
 public:
  explicit ThreadWorkers(unsigned jobs = 0) : jobs_{jobs} {}
  void run(std::span<std::size_t const>, std::function<Outcome(std::size_t)> const&, std::function<void(Worked&&)> const&,
           std::function<bool()> const& stop) override;

 private:
  unsigned jobs_;
};

}  // namespace steadyfire
