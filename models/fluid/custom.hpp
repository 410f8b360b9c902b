#pragma once
#include <algorithm>
#include <utility>

#include "models/fluid/saturation.hpp"
#include "sim/component/fluid.hpp"

namespace steadyfire {

/// A liquid of constant properties, as a textbook or a data sheet states them.
///
/// Valid   the range its author gives [K]; with constant density it makes no thermosiphon.
/// Errors  vapour pressure is taken as water's: high, hence on the safe side, for a solution.
class CustomFluid final : public FluidLaw {
 public:
  CustomFluid(std::string name, Fluid properties, double coldest, double hottest)
      : name_{std::move(name)}, properties_{properties}, coldest_{coldest}, hottest_{hottest} {}

  Fluid at(double) const override { return properties_; }
  double vapour_pressure(double kelvin) const override { return saturation_pressure(std::clamp(kelvin, 273.15, 403.15)); }
  double coldest() const override { return coldest_; }
  double hottest() const override { return hottest_; }
  std::string describe() const override { return name_; }

 private:
  std::string name_;
  Fluid properties_;
  double coldest_, hottest_;
};

}  // namespace steadyfire
