#pragma once
/// What the water laws need to know of the liquid in the pipes.

#include <string>

namespace steadyfire {

/// Properties of a liquid at one temperature.
struct Fluid {
  double density;        ///< [kg/m³]
  double viscosity;      ///< dynamic [Pa·s]
  double heat_capacity;  ///< at constant pressure [J/(kg·K)]
  double conductivity;   ///< [W/(m·K)]
};

/// A liquid as a function of temperature alone: between 1 and 3 bar pressure
/// changes the density of water by 0.01 %.
///
/// Valid   `coldest()` to `hottest()` [K]; outside, every law stays finite and
///         continuous, so that a solver may pass through, but its error is not stated.
/// Errors  none at run time.
class FluidLaw {
 public:
  virtual ~FluidLaw() = default;
  virtual Fluid at(double kelvin) const = 0;
  virtual double vapour_pressure(double kelvin) const = 0;  ///< absolute [Pa]
  virtual double coldest() const = 0;                       ///< freezing or end of the data [K]
  virtual double hottest() const = 0;                       ///< end of the data [K]
  virtual std::string describe() const = 0;                 ///< "water", for a heading
};

}  // namespace steadyfire
