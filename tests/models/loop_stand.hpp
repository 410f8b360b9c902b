#pragma once
/// A closed loop around two baths, marched through time by the engine itself.

#include "models/circulator.hpp"
#include "models/emitters/linear_emitter.hpp"
#include "models/boiler.hpp"
#include "models/building/room.hpp"
#include "models/fluid/water.hpp"
#include "models/mixing/injection_circulator.hpp"
#include "models/mixing/mixing_valve.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"
#include "models/radiator_valve.hpp"
#include "models/supply_sensor.hpp"
#include "models/valve.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/march/march.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {

/// So much water that its temperature stays what it is for hours; no head loss to speak of.
struct Bath {
  double unused;
  static constexpr std::string_view kind = "bath", family = "bath", summary = "for tests";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Bath::unused>("unused", 0, 1, "").otherwise(0)}; }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 1e-3 * flow; }
  Cells cells(int, Fluid const&) const { return {1, 1e6, 0}; }
};

class LoopStand {
 public:
  LoopStand() : builder_{kinds()} {
    builder_.installation.fluid = std::make_shared<Water>();
    builder_.installation.fluid_temperature = 323.15;
  }
  LoopStand& add(std::string_view kind, std::string name, std::vector<std::string> ports, std::vector<Setting> settings = {}) {
    builder_.add(kind, std::move(name), std::move(ports), std::move(settings));
    return *this;
  }
  void march(double start_water, double outdoors = 270) {
    Diagnostics faults;
    in_ = builder_.finish(faults);
    if (!faults.empty()) throw InternalError(faults.list()[0].message);
    plan_.emplace(lay_out(in_, start_water));
    weather_.emplace(outdoors);
    march_.emplace(*plan_, *weather_);
  }
  /// Sets a bath; a march that is under way begins anew from where everything else stands.
  void bath(std::string const& name, double kelvin) {
    State const then = march_->state();
    march_.emplace(*plan_, *weather_);
    march_->state() = then;
    march_->state().x[plan_->seat(in_.find(name)).first_cell[0]] = kelvin;
  }
  void run(double seconds) { march_->run(until_ += seconds); }
  double flow(std::string const& name, int branch = 0) { return march_->state().flow[plan_->first_branch[in_.find(name)] + branch]; }
  double own(std::string const& name, int i = 0) { return march_->state().x[plan_->own[in_.find(name)] + i]; }
  double joint(std::string const& name) { return march_->state().x[plan_->first_joint + plan_->joint_named(name)]; }
  long solves() const { return march_->statistics().flow_solves; }
  double heat_capacity() const { return plan_->fluid.heat_capacity; }
  Fluid local(std::string const& name) { return march_->state().local[plan_->first_branch[in_.find(name)]]; }

 private:
  static Catalog kinds() {
    static Kind const all[]{kind<Bath>(),          kind<MixingValve>(), kind<ThermostaticMixingValve>(), kind<InjectionCirculator>(),
                            kind<RadiatorValve>(), kind<Circulator>(),  kind<SupplySensor>(),            kind<LinearEmitter>(),
                            kind<HeatDraw>(),      kind<Room>(),        kind<Valve>()};
    return all;
  }
  Builder builder_;
  Installation in_;
  std::optional<Plan> plan_;
  std::optional<SteadyOutdoors> weather_;
  std::optional<March> march_;
  double until_ = 0;
};

}  // namespace steadyfire
