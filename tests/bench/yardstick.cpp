/// yardstick HOUSE DAYS [TOLERANCE GUARDED [cvode]]: days of one house, each 0.02 K warmer than the one before.
///
/// HOUSE is a shipped scenario or a number of zones (many_zones.hpp). One JSON object a line: of a day its starts, fuel, burn
/// lengths, rooms at each hour and what the march did. `yardstick.py` asks for what it needs and compares.

#include <fmt/ranges.h>

#include <cstdlib>
#include <iostream>

#include "tests/bench/many_zones.hpp"
#include "tests/scenarios/whole_run.hpp"

int main(int count, char** words) try {
  using namespace steadyfire;
  if (count < 3) return std::cerr << "yardstick HOUSE DAYS [TOLERANCE GUARDED [cvode]]\n", 2;
  std::string const house = words[1];
  MarchOptions options;
  if (count > 4) options.tolerance = std::atof(words[3]), options.guarded_tolerance = std::atof(words[4]);
  options.by_cvode = count > 5;
  auto const zones = std::atoi(house.c_str());
  auto const project = zones > 0 ? house_of(zones) : whole_run::shipped(house);
  for (int day = 0; day < std::atoi(words[2]); ++day) {
    auto const o = whole_run::march(project, 24, options, 0.02 * day);
    auto const& s = o.statistics;
    fmt::print(R"({{"starts": {}, "fuel_J": {}, "stored_J": {}, "closure": {}, "burns_s": [{:.3f}], "rooms_K": [[{}]], )", o.starts, o.fuel,
               o.stored, o.closure, fmt::join(o.burns, ", "), [&] {
                 std::vector<std::string> hours;
                 for (auto const& rooms : o.hourly) hours.push_back(fmt::format("{:.6f}", fmt::join(rooms, ", ")));
                 return fmt::format("{}", fmt::join(hours, "], ["));
               }());
    fmt::print(R"("steps": {}, "solutions": {}, "factors": {}, "laws": {}, "events": {}, "flows": {}}})"
               "\n",
               s.steps, s.newton, s.factored, s.rhs, s.events, s.flow_solves);
    std::fflush(stdout);
  }
} catch (std::exception const& e) {
  return std::cerr << e.what() << '\n', 1;
}
