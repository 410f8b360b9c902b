#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Where a boiler control measures the system's supply: a thermometer in the pipe.
///
///   reading' = (T_water − reading)/lag
///
/// Shape   one branch with a small fixed loss; one own state, the reading.
struct SupplySensor {
  Time lag;

  static constexpr std::string_view kind = "supply sensor", family = "sensor", summary = "Temperature sensor in the supply pipe";
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {field<&SupplySensor::lag>("lag", unit::second, 0.5, 300, "time lag of the sensor in its well").otherwise(5)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 100.0 * flow * abs(flow) + flow; }
  std::vector<OwnState> states() const { return {{"reading", 0, 293.15, 0.1}}; }
  void begin(Site const& s, std::span<double> own) const { own[0] = s[s.entering()]; }
  void links(Links& book, Site const& s) const { book.follow(s.own(), s.entering(), 1 / *lag); }
};

}  // namespace steadyfire
