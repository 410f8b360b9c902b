#pragma once
/// Which points are being worked on, by whom, and which come next.

#include <deque>
#include <map>
#include <span>
#include <vector>

namespace steadyfire {

/// Hands points out to ranks and takes them back from ranks that fell silent, so that each comes in once.
///
/// Shape   times are seconds on any one clock. A rank is silent when it holds points and nothing has come from it for `patience`, or for
///         twenty times as long as the slowest point took, if that is longer.
class HandOut {
 public:
  HandOut(std::span<std::size_t const> points, double patience);

  /// How many points a rank should hold: enough for half a second, so that it needs not wait for the next.
  std::size_t share() const;
  /// Up to so many that nobody works on; none where all are out or in.
  std::vector<std::size_t> take(int rank, std::size_t most, double now);
  /// A point came in. False: it had come in before, from another rank.
  bool came(int rank, std::size_t point, double seconds, double now);
  std::size_t held_by(int rank) const;
  /// Ranks that are silent; their points go to others from now on. A rank that answers later is heard again.
  std::vector<int> give_up_silent(double now);
  bool all_came() const { return open_ == 0; }

 private:
  enum class Is { waiting, out, in };
  struct Held {
    std::vector<std::size_t> points;
    double heard;  ///< when something last came, or when the first was handed out
  };
  double patience_;
  std::deque<std::size_t> waiting_;
  std::map<std::size_t, Is> state_;
  std::map<int, Held> held_;
  std::size_t open_, seen_ = 0;
  double slowest_ = 0, sum_ = 0;
};

}  // namespace steadyfire
