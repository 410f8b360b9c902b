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

  static constexpr std::string_view kind = "storage aquastat", family = "storage aquastat", summary = "Charges a store of hot water";
  static constexpr Role role = Role::relay;
  static std::vector<Field> schema() {
    using namespace unit;
    return {reference<&StorageAquastat::tank>("tank", "tank", "whose thermometer it reads"),
            field<&StorageAquastat::setting>("setting", degF, 60, 180, "it rests there").otherwise(115),
            field<&StorageAquastat::differential>("differential", degF_change, 1, 60, "it calls this far below").otherwise(10)};
  }
  enum Mode { resting, charging };
  static constexpr std::array<std::string_view, 2> modes{"resting", "charging"};
  static auto transitions() {
    using T = Transition<StorageAquastat>;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{resting, charging, &StorageAquastat::cool, "the store has cooled", t},
                      T{charging, resting, &StorageAquastat::warm, "the store is charged", t}};
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

  static constexpr std::string_view kind = "hot water storage", family = "storage", summary = "A small store in the hot line, kept hot";
  static std::vector<Field> schema() {
    using namespace unit;
    using S = StorageEntry;
    return {field<&S::volume>("volume", gallon, 0.5, 500, "water in it"),
            field<&S::setting>("setting", degF, 60, 180, "of its aquastat, which rests there").optional("6 degF below the set point"),
            field<&S::differential>("differential", degF_change, 1, 60, "it calls this far below").otherwise(10),
            field<&S::charge_flow>("charge_flow", gpm, 0.2, 20, "of its circulator").otherwise(2),
            count<&S::layers>("layers", 2, 40, "of its water").otherwise(6)};
  }
};

}  // namespace steadyfire
