#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Charges a store of hot water: calls while its thermometer has cooled.
///
/// Shape   no branch; modes resting and charging, the odd one calls.
/// Source  common practice, no source.
struct StorageAquastat {
  Reference tank;
  Temperature setting;
  TemperatureChange differential;

  static constexpr std::string_view kind = "storage aquastat", family = "storage aquastat", summary = "Charges the hot water storage tank";
  static constexpr Role role = Role::relay;
  static constexpr Caller caller = Caller::tank;
  static std::vector<Field> schema() {
    using namespace unit;
    return {reference<&StorageAquastat::tank>("tank", "tank", "tank with the sensor"),
            field<&StorageAquastat::setting>("setting", degF, 60, 180, "temperature that ends the call").otherwise(115),
            field<&StorageAquastat::differential>("differential", degF_change, 1, 60, "it calls this far below").otherwise(10)};
  }
  enum Mode { resting, charging };
  static constexpr std::array<std::string_view, 2> modes{"resting", "charging"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<StorageAquastat>;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{resting, charging, &StorageAquastat::cool, Cause::on_temperature, "storage charging: {value}", t},
                      T{charging, resting, &StorageAquastat::warm, Cause::off_temperature, "storage charged: {value}", t}};
  }
  Reading cool(Site const& s) const { return Reading::below(s[s.of(tank)], *setting - *differential); }
  Reading warm(Site const& s) const { return Reading::above(s[s.of(tank)], *setting); }
};

/// What the user says of a store in the hot line: hot water enters above and leaves below to the taps, and a small
/// circulator takes from below, past the flow sensor, until the aquastat rests.
struct StorageEntry {
  Volume volume;
  Temperature setting;
  TemperatureChange differential;
  VolumeFlow charge_flow;
  int layers;

  static constexpr std::string_view kind = "hot water storage", family = "storage", summary = "Small storage tank in the hot water line";
  static std::vector<Field> schema() {
    using namespace unit;
    using S = StorageEntry;
    return {field<&S::volume>("volume", gallon, 0.5, 500, "tank volume"),
            field<&S::setting>("setting", degF, 60, 180, "aquastat setting: the call ends there")
                .optional(say("{} below the hot water setpoint", Amount{degF_change.to_si(6), measure::temperature_change})),
            field<&S::differential>("differential", degF_change, 1, 60, "it calls this far below").otherwise(10),
            field<&S::charge_flow>("charge_flow", gpm, 0.2, 20, "flow of its circulator").otherwise(2),
            count<&S::layers>("layers", 2, 40, "water layers in the model").otherwise(6)};
  }
};

}  // namespace steadyfire
