#include "sim/record/record.hpp"

#include <algorithm>

namespace steadyfire {

BandEnd outcome(Record const& r, double value) {
  BandEnd end{value, r.burner.starts, r.burner.starts_per_hour_worst, r.burner.burn_median, 0, r.energy.fuel, r.incomplete};
  for (auto const& z : r.zones) end.coldest_room = end.coldest_room > 0 ? std::min(end.coldest_room, z.room_mean) : z.room_mean;
  return end;
}

std::string_view loss_name(std::string_view key) {
  if (key == "floor_down") return "under the slab";
  if (key == "motor") return "electricity (motors and boiler)";
  return key;
}

}  // namespace steadyfire
