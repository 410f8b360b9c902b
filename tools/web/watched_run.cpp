#include "tools/web/watched_run.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "plots/charts.hpp"

namespace steadyfire::web {
namespace {
std::size_t constexpr most_numbers_so_far = 12'000;
}

bool Shares::wants(double share) {
  if (!listener_.tell || share <= 0) return false;
  auto const now = std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now().time_since_epoch()).count();
  int constexpr often = 80;  // [ms]
  if (last_ == 0) last_ = now - often / 2;
  if (now - last_ < often) return false;
  last_ = now;
  return true;
}

Record watched_run(Project const& project, RunOptions options, UnitSystem units, Listener const& listener, Shares& shares,
                   bool with_flows) {
  RunWatch watch;
  watch.interrupted = listener.stop;
  options.picture = [&](double share, std::function<Track()> const& so_far) {
    if (!shares.wants(share)) return;
    auto part = shares.share(share);
    part["over_time"] = chart::over_time(so_far(), units, most_numbers_so_far);
    listener.tell(part);
  };
  auto result = run_house(project, options, watch);
  if (listener.stop && listener.stop()) throw Halted{};
  if (!with_flows) return std::move(result.record);
  options.picture = nullptr;
  add_stop_point(result.record, project, options, watch.interrupted);
  if (listener.stop && listener.stop()) throw Halted{};
  try {
    add_flow_findings(result.record, project);
  } catch (Stopped const& s) {  // the run stands without them
    if (result.record.incomplete.empty()) result.record.incomplete = s.what();
  }
  return std::move(result.record);
}

Json not_a_house() {
  return {{"code", "E241"},
          {"message", "a piping network without boiler and zones cannot run"},
          {"expected", "[boiler] and [[zone]]"},
          {"hint", "see its flows in Lay out"},
          {"line", 0},
          {"column", 0},
          {"file", ""}};
}

}  // namespace steadyfire::web
