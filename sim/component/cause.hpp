#pragma once
/// What makes a control act: for programs that read. Sentences for people are a transition's `words`.

#include <array>
#include <string_view>

namespace steadyfire {

enum class Cause {
  timer,                             ///< a step of a sequence has had its time
  clock,                             ///< a time of day
  on_temperature, off_temperature,   ///< cold enough to start, warm enough to stop
  low_limit,                         ///< too cold to go on
  high_limit, high_limit_reset,
  call, call_ended,
  setback_began, setback_ended,
  warm_weather_shutdown, heating_on, ///< by the outdoor temperature
  flow_lost,
  draw_began, draw_ended,            ///< of hot water
  heating_turn,                      ///< heating has waited for hot water long enough
  lead_busy, lead_idle,              ///< the boiler that fires first
  snow_began, snow_gone,
  count
};

/// In the order of Cause. Stable: JSON holds them.
inline constexpr std::array<std::string_view, std::size_t(Cause::count)> cause_names{
    "timer", "clock", "on_temperature", "off_temperature", "low_limit", "high_limit", "high_limit_reset", "call", "call_ended",
    "setback_began", "setback_ended", "warm_weather_shutdown", "heating_on", "flow_lost", "draw_began", "draw_ended", "heating_turn",
    "lead_busy", "lead_idle", "snow_began", "snow_gone"};
constexpr std::string_view name_of(Cause c) { return cause_names[std::size_t(c)]; }

}  // namespace steadyfire
