#pragma once
/// Heat between zones, through the walls and floors that they share.

#include "sim/network/builder.hpp"
#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// Table [[between]]: what two zones share. Without it no heat passes from one zone to another.
struct BetweenSection {
  std::vector<Reference> zones;  // read as names
  Area area;
  Resistance resistance;

  static constexpr std::string_view kind = "between", family = "between",
                                    summary = "A wall or a floor between two zones, through which the warmer heats the other";
  static constexpr Home home = Home::repeated;
  static constexpr bool is_nameless = true;
  static std::vector<Field> schema();
};

/// Adds a partition for each such table, once the rooms of all zones stand.
///
/// Errors  adds E293 for a zone that is unknown or has no room, and for others than two different zones.
void add_partitions(Document const&, Builder&, Diagnostics&);

}  // namespace steadyfire
