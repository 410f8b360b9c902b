#pragma once
/// The installation as pieces that meet in joints: what was stated, what an
/// arrangement added, and who plays which part. Knows no time and no arrays.

#include <map>
#include <optional>

#include "sim/component/kind.hpp"

namespace steadyfire {

/// Where a file states a piece, or would: in an entry of one of its tables, or by a table of its own.
struct StatedIn {
  Kind const* table = nullptr;  ///< null where nobody said
  std::string name;             ///< of the table, where it may repeat
  Field const* key = nullptr;   ///< of the entry; null where the table itself states the piece
};

/// One component with its values, its joints and its words.
struct Piece {
  std::string name;   ///< "bath/supply"; unique
  Kind const* kind = nullptr;
  std::vector<Value> values;       ///< in the order of the kind's fields
  std::vector<std::string> ports;  ///< joint names: inlet and outlet of each branch
  std::string zone;                ///< "" near the boiler
  Position at;                     ///< where the file speaks of it
  StatedIn stated_in{};            ///< said by who makes the piece
};

/// What the file prescribes at a joint of an open network.
struct GivenJoint {
  std::string name;
  std::optional<double> head;    ///< [m]
  std::optional<double> inflow;  ///< [m³/s]
  Position at;
};

/// Who plays which part in a zone: numbers of pieces, −1 for none.
struct ZoneParts {
  std::string name;
  int room = -1, thermostat = -1, emitter = -1, mover = -1, reset = -1;  ///< mover: circulator or zone valve
  double design_load = 0;         ///< [W]
  double design_room = 293.15;    ///< [K]
  double wanted_flow = 0;         ///< [m³/s] design load over (ρ·cp·design drop)
  double design_drop = 0;         ///< [K]
  int mixing = -1;                ///< what mixes its water, hot by its first branch
  int flow_check = -1, supply = -1;  ///< supply: the pipe to the emitter
  double held_at = 0;             ///< [K] where a radiator valve, and not the thermostat, holds the room; else 0
};

/// A heat carrier of its own in the part of the network that hangs together with a joint.
struct OwnFluid {
  std::string joint;
  std::shared_ptr<FluidLaw const> fluid;
  double temperature = 333.15;  ///< [K]
};

/// What an arrangement made, by the part that it plays; `coupling` is a separator or buffer between boiler and zones.
enum class Part {
  gap, coupling, exchanger, boiler_circulator, system_circulator, system_supply, system_bypass, system_sensor,  // near the boiler
  plates, hot_water_control, cold_main, hot_water_limiter, hot_water_mixing, storage, charger                  // of hot water
};

struct Installation {
  std::string title;
  std::shared_ptr<FluidLaw const> fluid;
  double fluid_temperature = 333.15;  ///< [K] for heat capacity, and for head loss where no cell tells
  std::vector<OwnFluid> own_fluids;
  std::map<std::string, double> heights;  ///< [m] of joints above the boiler; 0 if not named
  std::vector<Piece> pieces;
  std::vector<GivenJoint> joints;
  std::vector<ZoneParts> zones;
  std::map<Part, int> parts;
  int boiler = -1, relay = -1;
  int tank_control = -1;
  int lag_boiler = -1, lag_control = -1;  ///< a second boiler, and what calls it
  double outdoor_design = 255.37;     ///< [K]
  double design_supply = 0;           ///< [K] highest wanted supply at design
  std::vector<Assumption> assumptions;

  int find(std::string_view piece) const;  ///< its number, or −1
  int part(Part p) const;                  ///< the number of what plays it, or −1
  ZoneParts const* zone(std::string_view name) const;  ///< null if no zone has it
};

}  // namespace steadyfire
