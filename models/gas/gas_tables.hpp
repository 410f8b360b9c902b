#pragma once
/// The lengths for which the fuel gas code prints capacities.

#include <cmath>
#include <initializer_list>

#include "sim/core/count_up.hpp"
#include "models/gas/gas_flow.hpp"

namespace steadyfire {

/// The row of the code's capacity tables that a longest length is sized by [m]: its own, else the next longer. Beyond the last row
/// the length itself.
///
/// Source  2018 IFGC 402.4, rows of the low-pressure tables, from memory: 10 to 100 ft by 10, to 200 by 25, to 1000 by 50, to 2000 by 100.
inline double table_row(double length) {
  double const feet = length / unit::foot.scale;
  struct Rows { double last, step; };
  for (auto const& [last, step] : {Rows{100, 10}, Rows{200, 25}, Rows{1000, 50}, Rows{2000, 100}})
    if (feet <= last * (1 + 1e-9)) return unit::foot.scale * step * count_up(feet / step);
  return length;
}

/// Whether the code prints a table for this gas and drop: natural gas of 0.60 at 0.3, 0.5, 3 and 6 in. w.c., propane of 1.50 at 0.5.
inline bool has_table(FuelGas const& gas, double drop) {
  double const inches = drop / unit::inch_water.scale;
  auto const is = [&](double d) { return std::abs(inches - d) < 1e-6; };
  if (std::abs(gas.specific_gravity - 0.60) < 1e-6) return is(0.3) || is(0.5) || is(3) || is(6);
  return std::abs(gas.specific_gravity - 1.50) < 1e-6 && is(0.5);
}

}  // namespace steadyfire
