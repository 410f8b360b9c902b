#pragma once
/// The words in which a kind speaks to the engine. A kind is a plain struct; it
/// states only what it has, and batch_of.hpp finds out what that is.
///
/// One sign rule everywhere: `flow` > 0 runs from inlet to outlet; `loss` is
/// inlet minus outlet, so a circulator's is negative; heat runs from → to.

#include <span>
#include <string>
#include <vector>

#include "sim/component/cause.hpp"
#include "sim/component/fluid.hpp"
#include "sim/core/dual.hpp"
#include "sim/core/finding.hpp"
#include "sim/core/schema.hpp"

namespace steadyfire {

/// Where heat can be, or go: the index of a state. Accounts count joules that
/// cross the border; the given places hold what the surroundings prescribe [K];
/// everything else is a state of the installation.
using Place = int;
namespace account {
enum : Place { fuel, flue, jacket, piping, floor_down, envelope, gains, process, electricity, motor, count };
inline constexpr std::string_view names[]{"fuel",     "flue",  "jacket",  "piping",      "floor_down",
                                          "envelope", "gains", "process", "electricity", "motor"};
}
namespace given {
enum : Place { outdoors = account::count, ground, unheated, unity, end };  ///< `unity` is always 1: constants hang on it
}
inline constexpr Place first_free_place = given::end;

/// What a picture or a summary takes a piece for.
enum class Role { other, pipe, circulator, valve, check, emitter, boiler, tank, exchanger, room, thermostat, relay, reset, expansion,
                  tap, cold_main };

/// Who asks for heat of its own accord, where relays and valves only pass it on: a call of such a piece is the reason of a burn.
enum class Caller { none, thermostat, tank, recirculation, tap, snow };

/// What a value of a piece is to the engine, whatever its kind calls it. A kind has each at most once.
enum class FieldRole {
  other,
  held_pressure,                                                                         // of an expansion tank, gauge
  has_check,                                                                             // of a circulator
  charged_tank,                                                                          // of the control that charges it
  most_input, least_input, fixed_target, on_below, off_above, least_rest,                // of a boiler
  hot_water_set_point,                                                                   // of the control that serves hot water
  setting, setback, differential,                                                        // of what calls for a zone: a thermostat, a tank
  draw_flows, draw_temperatures, draw_volumes,                                           // of a tap, one a draw
  cold_outdoors, cold_supply, mild_outdoors, mild_supply, lowest_supply, highest_supply  // of a reset curve
};

struct Branch { std::string_view inlet, outlet; };  ///< the names of its two ports
inline constexpr int most_branches = 4;

struct Cells {
  int count = 0;
  double water = 0;  ///< in all cells [m³]
  double metal = 0;  ///< wetted metal that follows the water [J/K]
  bool keeps_slugs = false;  ///< water moves on in a row without mixing: carried to third order where there are four cells or more
};

/// What an own state is to others: `wanted` a temperature that its control asks for, `draw` the number of a tap's
/// next draw, `floor` and `surface` the skin of an emitter, where the water enters first; `air` and `surfaces` of a room
/// take its heat, while its first own state is the temperature that a person feels and a thermometer shows.
enum class StateRole { other, fire, wanted, draw, floor, surface, air, surfaces, count };

struct OwnState {
  std::string name;
  double capacity;  ///< [J/K]; 0: no heat store but a signal, of which a law gives the rate
  double start;
  double tolerance = 1;   ///< error allowed, as a multiple of the run's [K]; signals in fractions want less
  double moves_flow = 0;  ///< a head loss hangs on it: flows are solved anew when it has changed by this much; 0 if none does
  StateRole role = StateRole::other;
};

/// What the trade expects of an emitter where nobody stated it: common practice, no source.
struct Usual {
  double low, supply, high, drop;  ///< water reaching it on a design day, and how far it cools [degF]
  double averaging = 1.5;          ///< of the outdoor temperature that its reset follows [h]
  double cycles = 3;               ///< of its thermostat at half load [1/h]
};

/// How water runs through a round bore; NaN where a branch has none.
struct BoreFlow {
  double diameter = Field::none;         ///< [m]
  double velocity = Field::none;         ///< [m/s], unsigned
  double reynolds = Field::none;
  double friction_factor = Field::none;  ///< Darcy
  double fall = Field::none;             ///< it drops by this much on its way [m]; NaN: as its joints do
  bool is_purgeable = true;              ///< air can be flushed out of it when it is filled
};

/// What a mode is to others: bits, one set for each mode of a kind, in the order of its `modes`.
using Traits = unsigned;
namespace trait {
enum : Traits {
  none = 0,
  calls = 1,         ///< asks those who listen to it: a thermostat's "calling", a zone valve's "open"
  burns = 2,         ///< has a flame
  ignites = 4,       ///< a burn begins
  set_back = 8,      ///< holds the setback temperature
  serves_alone = 16  ///< makes hot water while heating waits
};
}

/// Which way a branch lets water through at this moment.
enum class Way { open, shut, forward };

/// The numbers that the plan gave one piece.
struct Seat {
  int piece = 0, own = 0, branch = 0;
  std::array<int, most_branches> first_cell{}, cells{}, inlet{}, outlet{};
  std::array<bool, most_branches> keeps_slugs{};
};

/// The whole installation at one moment, as pieces may see it.
struct Now {
  double time = 0;                 // [s] from the start of the run
  double clock = 0;                // [s] time of day at time 0
  Fluid const* fluid = nullptr;    // by branch, for heat: constant density and heat capacity in a run
  double const* x = nullptr;       // by place
  double const* flow = nullptr;    // by branch [kg/s]
  Fluid const* local = nullptr;    // by branch, at its own temperature: for head loss and films
  int const* mode = nullptr;       // by piece
  double const* since = nullptr;   // by piece, when the mode was entered [s]
  int const* own = nullptr;        // by piece, its first own state
  Place const* by_role = nullptr;  // by piece and role, its first own state of that role
  Traits const* const* traits = nullptr;  // by piece, then by mode
};

/// One piece's window on it. Cells count from inlet to outlet.
class Site {
 public:
  Site(Seat const& seat, Now const& now) : seat_{seat}, now_{now} {}

  Fluid const& fluid(int branch = 0) const { return now_.fluid[seat_.branch + branch]; }
  Fluid const& local(int branch = 0) const { return now_.local[seat_.branch + branch]; }
  double flow(int branch = 0) const { return now_.flow[seat_.branch + branch]; }                          ///< [kg/s]
  double capacity_rate(int branch = 0) const { return std::abs(flow(branch)) * fluid(branch).heat_capacity; }  ///< [W/K]
  Place water(int cell, int branch = 0) const { return seat_.first_cell[branch] + cell; }
  int cells(int branch = 0) const { return seat_.cells[branch]; }
  bool keeps_slugs(int branch = 0) const { return seat_.keeps_slugs[branch]; }
  Place entering(int branch = 0) const { return flow(branch) < 0 ? seat_.outlet[branch] : seat_.inlet[branch]; }
  Place outlet(int branch = 0) const { return seat_.outlet[branch]; }
  Place inlet(int branch = 0) const { return seat_.inlet[branch]; }
  Place outlet_cell(int branch = 0) const { return water(cells(branch) - 1, branch); }
  /// The last cell before the water leaves, whichever way it runs.
  Place leaving_cell(int branch = 0) const { return flow(branch) < 0 ? water(0, branch) : outlet_cell(branch); }
  Place own(int i = 0) const { return seat_.own + i; }
  Place of(Reference r, int i = 0) const { return now_.own[r.piece] + i; }
  /// Its first own state of a role; its first at all where none has it.
  Place of(Reference r, StateRole role) const { return now_.by_role[r.piece * int(StateRole::count) + int(role)]; }
  double operator[](Place p) const { return now_.x[p]; }

  int mode() const { return now_.mode[seat_.piece]; }
  int mode(Reference r) const { return now_.mode[r.piece]; }
  Traits traits(Reference r) const { return now_.traits[r.piece][now_.mode[r.piece]]; }
  bool calls(Reference r) const { return traits(r) & trait::calls; }
  bool burns(Reference r) const { return traits(r) & trait::burns; }
  double time() const { return now_.time; }
  double since() const { return now_.since[seat_.piece]; }
  double time_in_mode() const { return now_.time - since(); }
  /// Seconds since midnight.
  double time_of_day() const { return std::fmod(now_.clock + now_.time, 86400.0); }

 private:
  Seat const& seat_;
  Now const& now_;
};

/// A guard's instrument: what it reads and where it trips, so that every event
/// can be told with its numbers. The march stops where `margin` reaches zero. A
/// guard on time alone says when it is due, so that it is met exactly.
struct Reading {
  double margin, value;
  double due = Field::none;    ///< [s] of run time
  double limit = Field::none;  ///< what words compare the value with: where it trips, unless the guard names another
  static Reading above(double value, double limit) { return {value - limit, value, Field::none, limit}; }
  static Reading below(double value, double limit) { return {limit - value, value, Field::none, limit}; }
  static Reading after(Site const& s, double wait) { return at(s, s.since() + wait, wait); }
  static Reading at(Site const& s, double due, double value) { return {s.time() - due, value, due}; }
  /// A fact that changes at events only, as another piece's mode.
  static Reading fact(bool holds, double value = 0, double limit = Field::none) {
    return {holds ? 1.0 : -1e30, value, holds ? 0.0 : 1e300, limit};
  }
  static Reading never() { return {-1e30, 0, 1e300}; }
};

template <class K>
struct Transition {
  int from, to;
  Reading (K::*guard)(Site const&) const;
  Cause cause;
  std::string_view words;  ///< what happens and why; {value}, {limit} and {beyond}, their distance, stand for the reading's
  Measure measure = measure::plain;
  void (K::*action)(Site const&, std::span<double> own) const = nullptr;
  bool told = true;  ///< stands in the list of events
};

}  // namespace steadyfire
