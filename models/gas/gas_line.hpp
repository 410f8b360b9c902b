#pragma once
/// The gas line as a tree from the meter, and what is left of the pressure at its ends.

#include "models/gas/gas_flow.hpp"
#include "models/gas/gas_sections.hpp"

namespace steadyfire {

/// A pipe or tube by what it carries.
struct GasPipe {
  std::string name, from, to, size;
  Position at, to_at;
  double straight = 0, stated_fittings = 0, bores = 0;  ///< [m], [m], and fittings counted in bores
  double bore = 0;                                      ///< [m]; 0 of corrugated tube
  std::vector<double> table_length{}, table_flow{};         ///< of corrugated tube [m], [m³/s]
  double table_drop = 0;                                ///< [Pa]
  int before = -1;                                      ///< the pipe that feeds it

  double length() const { return straight + stated_fittings + bores * bore; }
  /// Flow at which so much pressure is lost a metre [m³/s].
  double flow_at(double gradient, FuelGas const&) const;
  /// What it may carry in a line of that longest length and drop [m³/s]: by the table's row for that length or the next longer one, of
  /// the code, or for corrugated tube of its maker. Beyond the last row by the length itself.
  double capacity(double allowed, double longest, FuelGas const&) const;
  /// The length of that row [m].
  double row(double allowed, double longest) const;
  /// Pressure that a flow loses in all of it [Pa]. Of corrugated tube by its table, log to log, straight on beyond its ends.
  double drop(double flow, FuelGas const&) const;
};

struct GasBurner {
  std::string name, at;
  Position stands_at;
  double input = 0;                             ///< [W]
  double least_pressure = 0, most_pressure = 0; ///< [Pa], NaN where not stated
  int pipe = -1;                                ///< the one that ends at its joint; -1 is the meter itself
};

/// Shape   every pipe but those at the meter has one `before`; the order is that of the file.
struct GasLine {
  std::vector<GasPipe> pipes;
  std::vector<GasBurner> burners;

  /// Of every pipe [m³/s], with every burner firing, or one alone.
  std::vector<double> flows(FuelGas const&, int alone = -1) const;
  /// From the meter to a burner.
  std::vector<int> way_to(int burner) const;
  double length_to(int burner) const;
  /// To the burner that lies farthest.
  double longest() const;
  double drop_to(int burner, std::vector<double> const& flows, FuelGas const&) const;

  /// The same line with pipes as wide as the longest-length method wants them; what suffices stays. Corrugated tube stays
  /// too, and what no size would do.
  ///
  /// Errors  none: no way's drop exceeds `allowed` then, as each piece loses at most its share of the longest length.
  GasLine widened(FuelGas const&, double allowed) const;
};

/// Most input of a boiler [W]: the larger of heating and hot water, where it has both.
double most_input(Entry const& boiler);

/// The line that a scenario's tables state. Errors: adds to `faults` joints fed twice (E281), a circle (E282), what no pipe leads to
/// (E283), a burner that has no input or a boiler that is not there (E284), a gas that the boiler does not burn (E285).
GasLine gas_line_of(std::span<Entry const> tables, Diagnostics& faults);

}  // namespace steadyfire
