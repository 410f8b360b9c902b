#pragma once
/// Watches what comes out of the taps.

#include <memory>

#include "sim/march/march.hpp"
#include "sim/record/hot_water_record.hpp"

namespace steadyfire {

/// From steps and trips to a HotWaterRecord, in bounded memory.
///
///   T = (ṁ_hot·T_hot + ṁ_cold·T_cold)/(ṁ_hot + ṁ_cold)      energy = ∫ṁ·cp·(T − T_main) dt
///   energy short = wanted − ∫ṁ·cp·(min(T, T_wanted) − T_main) dt
///
/// Shape   taps are pieces of Role::tap, hot by their first branch and cold by their second; a tap is open while its mode calls. A draw
///         that the end of the run cuts off is left out. Dips are of rooms while hot water's control served it alone.
/// Errors  steps are taken as straight lines: time to hot is off by the bend within a step.
class DrawsWatcher final : public Watcher {
 public:
  DrawsWatcher(Plan const&, Installation const&, std::size_t most_draws = 5000);
  ~DrawsWatcher() override;
  static bool has_taps(Plan const&);
  void stepped(double from, std::vector<double> const& before, State const& now) override;
  void tripped(std::vector<Trip> const& trips, State const& now) override;
  /// All but what can be delivered, which hangs on more than the run.
  HotWaterRecord record() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace steadyfire
