#pragma once
/// A house run for the page: told while it runs, ended when nobody waits.

#include "tools/job/figures.hpp"
#include "tools/job/house_run.hpp"
#include "tools/web/request.hpp"

namespace steadyfire::web {

/// Shares of a long ask, at most some ten a second; `part` of the whole, from `from` on. They never fall.
class Shares {
 public:
  Shares(Listener const& listener, double from = 0, double part = 1) : listener_{listener}, from_{from}, part_{part} {}
  bool wants(double share);  ///< whether it is time to tell again
  Json share(double share) const { return {{"share", from_ + part_ * share}}; }
  void operator()(double share) {
    if (share < last_share_) from_ += part_, part_ /= 2;  // a further run of a job: nobody knows how many will come
    last_share_ = share;
    if (wants(share)) listener_.tell(this->share(share));
  }

 private:
  Listener const& listener_;
  double from_, part_, last_share_ = 0;
  long long last_ = 0;  // [ms]
};

/// The run, with its flows' findings as the command `run` tells it. The listener hears of the day so far too.
/// Errors  Halted; a run that had to stop is told by its record.
Record watched_run(Project const&, RunOptions, UnitSystem, Listener const&, Shares&, bool with_flows = true);

/// A house is needed, and this is none: as the command line says it.
Json not_a_house();

}  // namespace steadyfire::web
