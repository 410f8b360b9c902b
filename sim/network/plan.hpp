#pragma once
/// The installation laid out in arrays: which piece owns which branch and state.
/// The only thing that the solvers see.

#include "sim/network/installation.hpp"

namespace steadyfire {

struct Plan {
  /// One branch: joints by place, its water cells, its piece.
  struct Run { int inlet, outlet, first_cell, cells, piece, limb; bool keeps_slugs; };

  std::shared_ptr<FluidLaw const> fluid_law;
  double fluid_temperature = 333.15;  ///< [K]
  Fluid fluid{};                      ///< at that temperature
  std::vector<std::shared_ptr<FluidLaw const>> fluid_laws;  // by branch: parts of the network may hold fluids of their own
  std::vector<Fluid> fluids;                                // by branch, at the temperature stated for its part
  std::vector<Piece> pieces;
  std::vector<std::unique_ptr<Batch>> batches;
  std::vector<int> batch_of, seat_of;  // by piece
  std::vector<Run> branches;
  std::map<Part, int> parts;
  std::vector<int> first_branch, own, own_count;  // by piece
  std::vector<Place> by_role;          // by piece and StateRole, its first own state of that role, else its first at all
  std::vector<Traits const*> traits;   // by piece, then by mode
  std::vector<std::string> names;      // by place
  std::vector<double> capacity, per_heat, start, tolerance;  // by place; per_heat is 1/capacity
  int first_joint = first_free_place, joints = 0;
  std::vector<double> joint_height;               // by joint, above the boiler [m]
  std::vector<std::pair<int, double>> flow_movers;  // own states on which a head loss hangs, with the change that matters
  std::vector<std::optional<double>> joint_head;  // by joint [m]
  std::vector<double> joint_inflow;               // by joint [m³/s]

  int places() const { return int(start.size()); }
  /// A joint by its name. Errors: InternalError if there is none.
  int joint_named(std::string_view) const;
  /// How far a branch rises from inlet to outlet [m].
  double rise(Run const& run) const { return joint_height[run.outlet - first_joint] - joint_height[run.inlet - first_joint]; }
  /// A piece's first own state of a role, or −1.
  int place(int piece, StateRole) const;
  /// Whether a place stores heat, so that its state is a temperature; else it is a signal.
  bool holds_heat(Place p) const { return per_heat[p] > 0 && capacity[p] > 0; }
  /// All own states of a piece.
  std::vector<Place> own_states(int piece) const;
  Traits traits_of(int piece, int mode) const { return traits[piece][mode]; }
  /// The first mode of a piece with a trait, or −1.
  int mode_with(int piece, Traits) const;
  bool plays(int piece, Part p) const {
    auto const at = parts.find(p);
    return at != parts.end() && at->second == piece;
  }
  Seat const& seat(int piece) const { return batches[batch_of[piece]]->seats[seat_of[piece]]; }
};

/// Lays the pieces out. Cells and joints start at `start_water`, rooms and slabs where
/// their kinds say.
///
/// Shape  a joint is a mixing point that holds 5 g of water, and what a tank keeps there: a state,
///        so that mixing and stagnation need no special case; the lag of 5 g is 0.05 s at 0.1 kg/s.
/// Errors InternalError for names that the reader should have refused.
Plan lay_out(Installation const&, double start_water = 293.15);

/// All that changes with time.
struct State {
  double time = 0, clock = 0;
  std::vector<double> x, flow, since;  // by place, by branch [kg/s], by piece
  std::vector<int> mode;               // by piece
  std::vector<Fluid> local;            // by branch
  std::vector<double> pressure;        // by joint, piezometric [Pa]

  explicit State(Plan const&);
  Now now(Plan const&) const;
};

/// Heat in everything that stores, accounts included [J]: never changes by itself.
double stored_heat(Plan const&, std::vector<double> const& x);

}  // namespace steadyfire
