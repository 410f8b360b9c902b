#pragma once
/// Values by the hour of the day: one for all hours, or 24 from midnight on.

#include "sim/component/kind.hpp"

namespace steadyfire {

/// The value of this hour; half a second early counts as the full hour, so that rounding cannot miss it.
template <class T>
T of_hour(std::vector<T> const& values, Site const& s) {
  return values[values.size() == 1 ? 0 : int((s.time_of_day() + 0.5) / 3600) % 24];
}

/// Due at the first full hour after this mode was entered.
inline Reading at_next_hour(Site const& s) {
  double const then = s.time_of_day() - s.time_in_mode();  // of the day, when this mode was entered
  double const wait = 3600 - std::fmod(then + 0.5 + 864000.0, 3600.0) + 0.5;
  return Reading::at(s, s.since() + wait, 0);
}

/// Adds E230 unless there are one or 24 of them; `who` opens the message.
inline void check_hourly(Value const& v, std::string const& who, std::string const& what, Diagnostics& faults) {
  if (auto const n = v.numbers.size(); v.given && n != 1 && n != 24)
    faults.add({"E230", v.at, who + ": " + std::to_string(n) + " " + what, "one value, or 24 from midnight", "correct the list"});
}

}  // namespace steadyfire
