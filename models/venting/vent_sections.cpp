#include "models/venting/vent_sections.hpp"

namespace steadyfire {

void VentRun::check(Entry const& e, Diagnostics& faults) {
  auto const &longest = value_under(e, "longest"), &shortest = value_under(e, "shortest");
  if (longest.given && shortest.given && shortest.numbers.at(0) >= longest.numbers.at(0))
    faults.add({"E222", shortest.at, e.who + ": the shortest length allowed is not below the longest", "the two in order", "", longest.at});
}

void VentSection::check(Entry const& e, Diagnostics& faults) {
  auto const& system = value_under(e, "system");
  bool const from_room = system.numbers == std::vector{double(room_air)};
  if (auto const& intake = value_under(e, "intake"); intake.given && system.numbers != std::vector{double(two_pipes)})
    faults.add({"E222", intake.at, e.who + ": an intake is given, and the system has none of its own", "system = \"two pipes\"",
                from_room ? "" : "the intake of a concentric vent runs with its exhaust", system.at});
  for (auto const* key : {"room_volume", "room_input", "opening", "opening_way"})
    if (auto const& v = value_under(e, key); v.given && !from_room)
      faults.add({"E222", v.at, e.who + ": '" + key + "' is given, and the boiler takes its air from outdoors",
                  "system = \"room air\", or no '" + std::string(key) + "'", "", system.at});
  if (auto const &way = value_under(e, "opening_way"), &area = value_under(e, "opening"); way.given && !area.given && from_room)
    faults.add({"E205", way.at, e.who + ": 'opening_way' lacks 'opening', its free area", "opening = \"50 in2\"", ""});
  if (auto const& derate = value_under(e, "derate_per_1000_ft"); derate.given && !value_under(e, "altitude").given)
    faults.add({"E205", derate.at, e.who + ": a derate is stated, and 'altitude' is not", "altitude = \"5000 ft\"", ""});
}

}  // namespace steadyfire
