#pragma once
/// What the march asks of an integrator; the libraries stay behind it.

#include <exception>

#include "sim/march/stage.hpp"

namespace steadyfire {

/// Steps the equations of a Stage forward and stops where a guard's margin passes
/// through zero from below.
///
/// Errors  `step` throws Stopped E411; what a law throws passes through.
class Stepper {
 public:
  enum class End { step, stop, root };
  virtual ~Stepper() = default;
  /// Begins anew at a point, the first step this long at most.
  virtual void restart(double time, double const* x, double first_step) = 0;
  /// One step, not beyond `stop`, which is met exactly; leaves `time` and `x`.
  virtual End step(double stop) = 0;
  /// The state inside the last step.
  virtual void look_back(double time, double* x) = 0;
  /// Which guard slots ended the last step with a root.
  virtual void found(bool* slots) = 0;

  double time = 0;
  double const* x = nullptr;
};

std::unique_ptr<Stepper> arkode_stepper(Stage&, MarchOptions const&, MarchStatistics&);
std::unique_ptr<Stepper> cvode_stepper(Stage&, MarchOptions const&, MarchStatistics&);

/// Carries what a law throws past a C library.
class Smuggler {
 public:
  template <class Call>
  int operator()(Call call) {
    try {
      call();
      return 0;
    } catch (...) {
      thrown_ = std::current_exception();
      return -1;
    }
  }
  void deliver() {
    if (auto const thrown = std::exchange(thrown_, nullptr)) std::rethrow_exception(thrown);
  }

 private:
  std::exception_ptr thrown_;
};

/// E411, naming the place whose state changes fastest against the error allowed.
[[noreturn]] void stop_unconverged(Stage&, double time, double const* x, std::string const& library_says);

}  // namespace steadyfire
