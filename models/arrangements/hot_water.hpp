#pragma once
/// Ready-made piping of domestic hot water, as ordinary pieces.

#include "models/hot_water/draw.hpp"
#include "models/hot_water/hot_water_sections.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {

/// A tap with its draws.
struct TapPlan {
  std::string name;
  TapSection tap;
  DrawList draws;
};

/// What else a house says of its hot water.
struct HotWaterPlace {
  std::string floors;        ///< zones whose floor takes the boiler's water as it comes
  std::string heating_call;  ///< whose call is heating's
  std::string output_call;   ///< of the zone whose output runs the recirculator; "" if it has its own
  bool from_tank = false;    ///< a potable tank stands between "cold tee" and "hot made", and the boiler is no combi
};

/// The inputs that plates and findings are sized by [W].
struct DhwInputs { double most, least; };

/// Adds what is on both sides of the plates. Pieces are named "hot water/…": "control", "plates" and "sensor";
/// "diverter", or with parallel circuits "circulator"; "cold main", "limiter", "mixing", "trunk"; of each tap "NAME/run", "NAME/tap".
///
///   boiler water   "boiler outlet" → diverter → plates → "boiler return"; its other way leads to "heating outlet"
///                  parallel circuits: "boiler outlet" → plates → circulator → "boiler inlet"
///   potable        "cold main" → control with its flow sensor → limiter → plates → sensor → mixing → trunk → runs → taps
///                  → "drain" → cold main; cold water reaches taps and mixing straight from "cold main"
///
/// Where stated "check" before "cold tee", so that nothing hot runs back to cold taps; "storage" from "hot made" to "hot stored"
/// with "charger" and "aquastat"; "second" from "cold tee" to "hot made"; "return", "return sensor" and "recirculator" from
/// "hot trunk" back, with "recirculation".
///
/// Potable water is a circuit of its own with its own fluid, water at 30 °C.
///
/// Valid   cold lines hold no water and lose no pressure: the street's own does.
void add_hot_water(Builder&, HotWaterSection const&, Entry const& stated, ColdYear const&, int first_day, DhwInputs,
                   std::vector<TapPlan> const&, HotWaterPlace const&);

/// Whether a piece stands in the combi boiler's casing, so that nobody buys, pipes or wires it.
bool is_inside_combi(Piece const&);

}  // namespace steadyfire
