#pragma once
/// What the report and the page show of a run alike.

#include <string>
#include <vector>

#include "sim/record/record.hpp"

namespace steadyfire {

/// "1 d 06:12:05": time since the start of the run.
std::string clock(double seconds);

/// Whether the run is a day at most: then its close-up shows all of it, finely.
bool is_one_day(Record const&);
/// The track that shows the whole run finest.
Track const& finest_whole(Record const&);

/// The energy by where it went, each with its share of the fuel.
struct EnergyRow {
  std::string what, energy, share;
};
std::vector<EnergyRow> energy_rows(EnergyRecord const&, UnitSystem);

}  // namespace steadyfire
