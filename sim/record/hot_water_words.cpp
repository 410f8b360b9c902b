#include "sim/record/hot_water_words.hpp"

#include <map>

namespace steadyfire {

std::string_view word_for(DrawCause cause) {
  switch (cause) {
    case DrawCause::start_flow:
      return "below start flow";
    case DrawCause::pipes:
      return "ended before hot";
    case DrawCause::set_point:
      return "set point";
    case DrawCause::heating_turn:
      return "heating's turn";
    case DrawCause::burner:
      return "burner";
    case DrawCause::plates:
      return "plates";
    case DrawCause::flow_limiter:
      return "flow limiter";
    case DrawCause::heating:
      return "heating";
    case DrawCause::minimum_fire:
      return "minimum fire";
    case DrawCause::pressure:
      return "pressure";
    case DrawCause::other:
      break;
  }
  return "other";
}

Words failed_words(HotWaterRecord const& h) {
  std::map<int, std::pair<long, long>> by_tap;  // failed, of
  for (auto const& f : h.failures)
    if (f.severity == Severity::serious) by_tap[f.tap].first += f.draws, by_tap[f.tap].second = f.of;
  if (by_tap.empty()) return {};
  std::vector<Words> taps;
  for (auto const& [tap, n] : by_tap) taps.push_back(say("{} {} of {}", h.taps[std::size_t(tap)].name, n.first, n.second));
  return say("{} of {} draws fail: {}", h.failed(), h.all.draws, listed(taps, ", "));
}

Words dip_words(RoomDip const& d) {
  return say("fell {}, from {} to {}, while heating waited {} for hot water", Amount{d.before - d.lowest, measure::fine_temperature_change},
             Amount{d.before, measure::fine_temperature}, Amount{d.lowest, measure::fine_temperature}, Amount{d.waited, measure::minutes});
}

Words help_words(HotWaterRecord const& h) {
  std::vector<Words> ways;
  for (auto const& r : h.remedies) ways.push_back(say("{} ({})", r.what, r.effect));
  return ways.empty() ? Words() : say("What would help (effects calculated): {}", listed(ways, ", or "));
}

}  // namespace steadyfire
