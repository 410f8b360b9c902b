#pragma once
/// Steady flows of a network in each of its states, as plain data. SI.

#include <map>

#include "sim/component/fluid.hpp"

#include "sim/core/diagnostic.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {

struct EdgeFlow {
  std::string name, kind, zone;
  double flow = 0;       ///< [m³/s], positive from → to
  double head_loss = 0;  ///< [m], head(from) − head(to)
  double entering = 0, leaving = 0;  ///< [K] water at its ends, the way it runs now; of a house
  std::optional<double> velocity, reynolds, friction_factor, head_gradient, diameter;  ///< of a round bore
  double fall = 0;            ///< [m] that water falls in it, the way it runs now
  bool is_purgeable = true;
  bool is_potable = false;    ///< fresh water always comes in: its oxygen wears copper at less velocity than in a closed loop
};
struct CirculatorPoint { std::string name; double flow, head, power; };  ///< [m³/s], [m], [W]
struct ZoneFlow {
  std::string name;
  double wanted = 0, got = 0;           ///< [m³/s]
  double drop = 0;                      ///< [K] of its water, as thermometers show it: heat over flow
  double head = 0;                      ///< [m] lost in its emitter
  double supply = 0;                    ///< [K] water reaching its emitter, at design
  double heat = 0, design_load = 0;     ///< [W] its emitter gives at this flow to a room at design; what the room needs then
  double heat_share = 0;                ///< of what the wanted flow would give in a room at design
  double room = 0;                      ///< [K] at design outdoors, calling without end or held by its thermostat
};
struct FlowState {
  std::vector<std::string> calls;       ///< zones that call
  std::string calling;                  ///< the same in words: those that do not call where they are fewer
  std::vector<EdgeFlow> edges;
  std::map<std::string, double> heads;  ///< [m] by joint
  std::map<std::string, double> temperatures;  ///< [K] by joint, of a house
  std::map<std::string, double> pressures;  ///< absolute [Pa] by joint, where an expansion tank says it
  std::vector<CirculatorPoint> circulators;
  std::vector<ZoneFlow> zones;          ///< those that call
  double boiler_flow = 0, zones_flow = 0, boiler_supply = 0, system_supply = 0;  ///< [m³/s], [K]
  double boiler_return = 0;             ///< [K] entering the first boiler, at design
  double boiler_heat = 0;               ///< [W] that the water takes from boilers, holding their outlets at that supply
};
/// One state with one assumption at either end of its usual range, all others in the middle.
struct FlowBand {
  std::string place, key;
  Measure measure;
  double low_value = 0, high_value = 0;  ///< SI
  std::vector<ZoneFlow> low, high;       ///< in the order of the state's zones; empty where it cannot be solved
};
/// A combination of calls for which no flows or temperatures were found.
struct UnsolvedState {
  std::vector<std::string> calls;
  Stopped why;
};
/// Its finding; what the other combinations say stands.
inline constexpr char const* not_solved_id = "flows.not_solved";
struct FlowsRecord {
  std::string title, sample;            ///< sample: words if not every combination was solved
  Fluid fluid{};
  std::string fluid_words;
  std::vector<FlowState> states;        ///< one at least
  std::vector<UnsolvedState> unsolved;
  std::vector<Finding> findings;
  std::vector<Finding> passed;          ///< told as ok: closely spaced tees that are needed
  std::vector<Assumption> assumptions;
  std::size_t band_state = 0;           ///< the state of `band`: the first with most zones calling
  std::vector<FlowBand> band;           ///< by assumption with a range, in their order
  std::vector<std::string> band_zones;  ///< whose own assumptions are in the band; none named: of all
};

}  // namespace steadyfire
