#pragma once
/// What the surroundings prescribe over time.

#include <limits>

namespace steadyfire {

/// Outdoor temperature, piecewise linear or smooth.
class Forcing {
 public:
  virtual ~Forcing() = default;
  virtual double at(double time) const = 0;         ///< [K]
  virtual double slope(double time) const = 0;      ///< [K/s], right of `time`
  virtual double next_knot(double time) const = 0;  ///< [s] where the slope jumps next, > time
};

class SteadyOutdoors final : public Forcing {
 public:
  explicit SteadyOutdoors(double kelvin) : kelvin_{kelvin} {}
  double at(double) const override { return kelvin_; }
  double slope(double) const override { return 0; }
  double next_knot(double) const override { return std::numeric_limits<double>::max(); }

 private:
  double kelvin_;
};

}  // namespace steadyfire
