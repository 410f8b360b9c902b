#pragma once
#include "models/valve.hpp"

namespace steadyfire {

/// Vessel in the pipe in which water slows down, so that bubbles rise or dirt sinks.
///
///   Δp = SG·(Q/Kv)²      v = Q/(π/4·D²) in the vessel
///
/// Shape   one branch with one water cell; its heat loss is left out.
/// Valid   tells the speed in the vessel, not how much it catches. The limit of 0.5 ft/s: common practice, no source (0.3 to 0.5).
struct SeparatingVessel {
  double cv, kv;
  Length diameter;
  Volume water;

  static constexpr double fastest = 0.5 * 0.3048;  ///< [m/s]
  static constexpr Role role = Role::other;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {number<&SeparatingVessel::cv>("cv", 1e-3, 1e5, "flow coefficient Cv").typical(15, 30, 60).unless("kv"),
            number<&SeparatingVessel::kv>("kv", 1e-3, 1e5, "flow coefficient Kv").optional(),
            field<&SeparatingVessel::diameter>("diameter", inch, 0.5, 40, "inside diameter of the vessel").typical(2, 3, 6),
            field<&SeparatingVessel::water>("water_content", gallon, 0.01, 100, "water in the vessel").typical(0.1, 0.3, 1)};
  }
  static void check(Entry const& e, Diagnostics& faults) { Valve::check_cv<SeparatingVessel>(e, faults, true); }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return kv_loss(flow, kv_from(cv, kv), s.local()); }
  BoreFlow bore_flow(int, Site const& s) const {
    double const v = speed(s);
    return {*diameter, v, s.local().density * v * *diameter / s.local().viscosity};
  }
  Cells cells(int, Fluid const&) const { return {1, *water, 0}; }
  double speed(Site const& s) const {
    return std::abs(s.flow()) / s.local().density / (3.14159265358979 / 4 * *diameter * *diameter);
  }

 protected:
  void tell_speed(Site const& s, std::vector<Finding>& list, char const* what_passes) const {
    double const v = speed(s);
    if (v <= fastest) return;
    list.push_back({.id = "separator.fast",
                    .place = "",
                    .severity = Severity::minor,
                    .figures = {{"velocity", v, measure::velocity}, {"diameter", *diameter, measure::diameter}},
                    .limit = Figure{"limit", fastest, measure::velocity},
                    .whose = common_practice,
                    .words = say("velocity in the vessel {}, limit {} ({}). Faster water carries {} through it.",
                                 Amount{v, measure::velocity}, Amount{fastest, measure::velocity}, common_practice, what_passes),
                    .order = 12,
                    .fix = "use a larger separator."});
  }
};

/// Air separator: bubbles rise in the slow water of its vessel and leave by its vent.
struct AirSeparator : SeparatingVessel {
  static constexpr std::string_view kind = "air separator", family = "air separator", summary = "Air separator";
  void findings(Site const& s, std::vector<Finding>& list) const { tell_speed(s, list, "air"); }
};

/// Dirt separator: grit sinks in the slow water of its vessel and is drained from its bottom.
struct DirtSeparator : SeparatingVessel {
  static constexpr std::string_view kind = "dirt separator", family = "dirt separator", summary = "Dirt separator";
  void findings(Site const& s, std::vector<Finding>& list) const { tell_speed(s, list, "dirt"); }
};

}  // namespace steadyfire
