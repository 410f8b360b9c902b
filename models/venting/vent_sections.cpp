#include "models/venting/vent_sections.hpp"

namespace steadyfire {

void VentRun::check(Entry const& e, Diagnostics& faults) {
  auto const &longest = value_of<&VentRun::longest>(e), &shortest = value_of<&VentRun::shortest>(e);
  if (longest.given && shortest.given && shortest.numbers.at(0) >= longest.numbers.at(0))
    faults.add({"E222", shortest.at, e.who + ": 'shortest' is not below 'longest'", "shortest below longest",
        "swap or correct the two lengths", longest.at});
}

void VentSection::check(Entry const& e, Diagnostics& faults) {
  auto const& system = value_of<&VentSection::system>(e);
  bool const from_room = system.numbers == std::vector{double(room_air)};
  if (auto const& intake = value_of<&VentSection::intake>(e); intake.given && system.numbers != std::vector{double(two_pipes)})
    faults.add({"E222", intake.at, e.who + ": 'intake' does not go with this system", "system = \"two pipes\"",
                from_room ? "remove 'intake', or change the system" : "remove 'intake': a concentric vent has its own", system.at});
  using V = VentSection;
  each_value<&V::room_volume, &V::room_input, &V::opening, &V::opening_way>(e, [&](std::string const& key, Value const& v) {
    if (v.given && !from_room)
      faults.add({"E222", v.at, e.who + ": '" + key + "' does not go with combustion air from outdoors",
                  "system = \"room air\", or no '" + key + "'", "remove '" + key + "'", system.at});
  });
  if (auto const &way = value_of<&V::opening_way>(e), &area = value_of<&V::opening>(e); way.given && !area.given && from_room)
    faults.add({"E205", way.at, e.who + ": 'opening_way' needs 'opening'", "opening = \"50 in²\"", "add the free area of one opening"});
  if (auto const& derate = value_of<&VentSection::derate>(e); derate.given && !value_of<&VentSection::altitude>(e).given)
    faults.add({"E205", derate.at, e.who + ": 'derate_per_1000_ft' needs 'altitude'", "altitude = \"5000 ft\"", "add the site altitude"});
}

}  // namespace steadyfire
