#pragma once
/// From a zone's table to its room, its controls and its branch between the headers.

#include "models/arrangements/near_boiler.hpp"
#include "models/house/sections.hpp"
#include "sim/scenario/reader.hpp"

namespace steadyfire {

/// What all zones of a house share, and what they leave to those who are made after them.
struct ZonesOfHouse {
  Document const& document;
  SiteSection const& site;
  HeadersSection const& headers;
  ControlsSection const& controls;
  double outdoor_design;         ///< [K]
  bool rests_for_hot_water;      ///< in one loop with the boiler a zone's water has no way while hot water has the valve

  /// What calls for heat, what says how warm the boiler's water is wanted, and by which curve: names of pieces, by zone.
  std::vector<std::string> callers{}, sources{}, resets{};
  bool return_is_guarded = false;                 ///< a mixing valve keeps the boiler's return warm, by a sensor there
  bool told_warm_outdoors = false, told_common_reset = false;
};

/// Whether a zone valve moves a zone, stated or as the headers have it.
bool has_valve(Entry const& zone, HeadersSection const&);

/// Adds "<zone>/room", "/thermostat" and "/reset"; with a mixing device what add_mixing makes; "/circulator" or "/valve", "/flow check",
/// "/supply", "/radiator valve", "/emitter", "/return", "/strainer", "/limiter" and "/balancing", as far as stated or usual.
///
/// Errors  adds E215, E222, E244, E261, E262, E263 and E273 for what contradicts itself in the zone.
void add_zone(Builder&, ZonesOfHouse&, Entry const& zone, Headers const&, Diagnostics&);

}  // namespace steadyfire
