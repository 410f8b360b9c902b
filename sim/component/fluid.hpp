#pragma once
/// What a heat carrier is to the engine.

#include <string>

namespace steadyfire {

struct Fluid { double density, viscosity, heat_capacity, conductivity; };  ///< [kg/m³] [Pa·s] [J/(kg·K)] [W/(m·K)]

class FluidLaw {
 public:
  virtual ~FluidLaw() = default;
  virtual Fluid at(double kelvin) const = 0;
  virtual std::string describe() const = 0;
  virtual double coldest() const = 0;  ///< of its validity [K]
  virtual double hottest() const = 0;
  virtual double vapour_pressure(double kelvin) const = 0;  ///< [Pa]
};

}  // namespace steadyfire
