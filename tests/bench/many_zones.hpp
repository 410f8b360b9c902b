#pragma once
/// The same house made larger: a row of flats on two boilers over a buffer tank.

#include <fmt/format.h>

#include "tests/project_of.hpp"

namespace steadyfire {

inline Project house_of(int zones) {
  auto text = fmt::format(R"(format = 1
title = "{0} zones"
[site]
outdoor_design = "0 degF"
weather = {{ kind = "daily wave", mean = "12 degF", swing = "20 degF" }}
[boiler]
heating_input = "{1} kBtu/h"
minimum_input = "{2} kBtu/h"
rated_flow = "{0} gpm"
[lag_boiler]
heating_input = "{1} kBtu/h"
minimum_input = "{2} kBtu/h"
rated_flow = "{0} gpm"
[near_boiler]
arrangement = "buffer tank"
size = "2 in copper M"
circulator = {{ curve = {{ flow = "gpm", head = "ft", points = [[0, 16], [{0}, 11], [{3}, 1]] }} }}
[controls]
reset = {{ cold_supply = "150 degF", mild_supply = "90 degF" }}
)",
                          zones, 12 * zones, 2 * zones, 2 * zones);
  for (int z = 0; z < zones; ++z) {
    double const load = 9 + 2 * (z % 5);  // [kBtu/h]
    auto const emitter = z % 3 == 0   ? fmt::format("{{ kind = \"panel radiator\", output = \"{} kBtu/h\", cv = 2.5 }}", 1.7 * load)
                         : z % 3 == 1 ? fmt::format("{{ kind = \"fin-tube baseboard\", length = \"{} ft\" }}", 3 * load)
                                      : std::string("{ kind = \"radiant slab\" }");
    text += fmt::format("[[zone]]\nname = \"flat {}\"\ndesign_load = \"{} kBtu/h\"\nfloor_area = \"{} ft2\"\nemitter = {}\n", z + 1, load,
                        50 * load, emitter);
    text += fmt::format("thermostat = {{ setting = \"{} degF\" }}\ncirculator = {{ duty = \"small\" }}\n", 68 + z % 4);
  }
  return project_of(text);
}

}  // namespace steadyfire
