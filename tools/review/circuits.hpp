#pragma once
/// What hangs together by water, with all that it holds.

#include <map>

#include "sim/network/plan.hpp"

namespace steadyfire {

/// A part of the installation that shares one water and one pressure.
struct Circuit {
  std::string name;  ///< "the system", "the boiler's circuit", "the zones' circuit"
  std::vector<std::string> joints;
  std::vector<int> pieces;              ///< those with a branch in it
  std::map<std::string, double> parts;  ///< water by zone, "" near the boiler [m³]
  std::shared_ptr<FluidLaw const> fluid;
  double temperature = 0;  ///< stated for its fluid [K]
  bool has_boiler = false;
  int tank = -1;      ///< piece of its expansion tank
  std::string top;    ///< its highest joint
  double height = 0;  ///< of that, above the boiler [m]

  double water() const;  ///< [m³]
  bool holds(std::string const& joint) const;
};

/// Those in which a boiler, an emitter or a circulator stands; the boiler's first. Water is that of pipes, vessels, emitters and
/// heat exchangers as the pieces say; fittings, valves and circulators are left out.
std::vector<Circuit> circuits_of(Installation const&);

bool is_glycol(FluidLaw const&);

}  // namespace steadyfire
