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
/// Potable water is a circuit of its own with its own fluid, water at 30 °C.
///
/// Valid   cold lines hold no water and lose no pressure: the street's own does.
void add_hot_water(Builder&, HotWaterSection const&, Entry const& stated, ColdYear const&, int first_day, DhwInputs,
                   std::vector<TapPlan> const&, std::string const& floors, std::string const& heating_call);

}  // namespace steadyfire
