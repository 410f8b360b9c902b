#pragma once
/// Ready-made piping between boiler and zones, as ordinary pieces.

#include "models/house/piping_sections.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {

/// The joints where zones are hung.
struct Headers { std::string supply, return_; };

/// What hot water asks of the piping for heating.
struct BesideHeating {
  bool is_combi = false, by_valve = false;  ///< by_valve: a valve leads the boiler's water to the plates or to heating
  bool goes_first = false;                  ///< heating waits meanwhile
};

/// Adds the boiler's circulator, its supply and return, what couples it to the zones, and
/// the pipes to the headers. Pieces are named "boiler/supply", "boiler/return",
/// "boiler/circulator", "tees/gap" or "tank" with "tank/supply" and
/// "tank/return", "system/supply", "system/return",
/// "system/circulator", "system/sensor"; where stated "boiler/air separator" behind "boiler/supply",
/// "boiler/dirt separator" and "boiler/strainer" behind "boiler/return", and "system/bypass" between the headers.
///
///   direct                 boiler → zones → boiler, circulator in series where zones have none; with a
///                          bypass the boiler keeps its flow while zone valves shut
///   closely spaced tees    two loops share the short pipe between the tees
///   hydraulic separator    the same, with a wide vessel for that pipe
///   buffer tank            the same, with the vessel's water in layers; four pipes open into it, or
///                          boiler and zones meet in a tee before its top, or before both its ends
///   plate exchanger        two circuits, each with its own water, or glycol on the zones' side
///
/// A second boiler hangs on the same joints with its own circulator: "lag/supply", "lag/return", "lag/circulator".
///
/// A combi boiler always has its circulator, a medium one unless stated; hot water's valve stands before "boiler/supply".
///
/// Shape   runs from joint "boiler outlet" (behind that valve "heating outlet") to joint "boiler inlet"; for a second one
///         "lag outlet" and "lag inlet".
Headers add_near_boiler(Builder&, NearBoilerSection const&, bool zones_have_circulators, bool two_boilers, std::string const& size,
                        BesideHeating const& = {});

}  // namespace steadyfire
