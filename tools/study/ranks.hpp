#pragma once
/// One process of several that MPI started together, on one machine or on many.

#include <set>
#include <string>

#include "tools/study/workers.hpp"

namespace steadyfire {

/// The part that this process plays: rank 0 keeps the store, hands points out and works too; the others work.
///
/// Shape   one for the whole program, begun before anything is read; other ranks than 0 are mute from then on.
/// Valid   where MPI started the program (`was_started_by_mpi`).
class Ranks final : public Workers {
 public:
  static bool was_started_by_mpi();

  /// `patience` [s]: a rank from which nothing came for so long is given up, and its points are handed to others.
  explicit Ranks(double patience);
  /// Leaves together with the others; where one is lost, without waiting for it.
  ~Ranks() override;
  Ranks(Ranks const&) = delete;

  int rank() const { return rank_; }
  int size() const { return size_; }

  /// Every rank tells what it is about to do ("" and why it cannot, if it cannot); all must tell the same.
  /// Errors  BadInput on all of them where one cannot or tells something else.
  void agree(std::string const& what, std::string const& why_not = "") const;

  /// Rank 0: works on points with the help of all.
  void run(std::span<std::size_t const>, std::function<Outcome(std::size_t)> const&, std::function<void(Worked&&)> const&,
           std::function<bool()> const& stop) override;
  /// Other ranks: works on what is handed over until it is told to end. Errors: std::runtime_error where rank 0 falls silent for long.
  void serve(std::function<Outcome(std::size_t)> const& work);

 private:
  /// Tells all to end; who does not answer within `patience` is lost. All are told whether somebody is: MPI's own end waits for everyone.
  void part(std::set<int> lost);

  double patience_;
  int rank_ = 0, size_ = 1;
  bool somebody_is_lost_ = false;
};

}  // namespace steadyfire
