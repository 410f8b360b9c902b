#pragma once
/// What a burner needs that takes its air from the room.

#include <algorithm>

#include "sim/core/quantity.hpp"

namespace steadyfire {

/// Room volume [m³] for the input of all appliances in it [W]: 50 ft³ for each 1000 Btu/h.
///
/// Valid   an ordinary house; a tight one needs openings.
/// Source  standard method of NFPA 54 and IFGC 304.5.1, from memory.
inline double room_volume_wanted(double input) {
  double constexpr cubic_foot = 0.028316846592;
  return 50 * cubic_foot * input / unit::kBtu_per_hour.scale;
}

/// Where the openings of a room lead.
enum class OpeningWay { vertical, horizontal, one, indoors };

/// Free area of each opening [m²].
///
///   vertical    two, straight outdoors or by vertical ducts    1 in² for each 4000 Btu/h
///   horizontal  two, by horizontal ducts                       1 in² for each 2000 Btu/h
///   one         one, outdoors                                  1 in² for each 3000 Btu/h
///   indoors     two, to rooms on the same floor                1 in² for each 1000 Btu/h, at least 100 in²
///
/// Source  NFPA 54 and IFGC 304.5.3 and 304.6, from memory.
inline double opening_wanted(double input, OpeningWay way) {
  double constexpr square_inch = 0.0254 * 0.0254;
  double const Btu_per_hour = input / unit::Btu_per_hour.scale;
  switch (way) {
    case OpeningWay::vertical: return Btu_per_hour / 4000 * square_inch;
    case OpeningWay::horizontal: return Btu_per_hour / 2000 * square_inch;
    case OpeningWay::one: return Btu_per_hour / 3000 * square_inch;
    case OpeningWay::indoors: break;
  }
  return std::max(100.0, Btu_per_hour / 1000) * square_inch;
}

}  // namespace steadyfire
