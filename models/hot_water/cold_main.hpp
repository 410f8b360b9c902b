#pragma once
#include "models/fittings.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// The street's main: what was drawn comes back as cold water under pressure, so that potable water is a closed loop.
///
///   loss      = −pressure + ρ·Q²·(999 kg/m³)/(ρ²·Kv²)      heat drawn = W·(T_drawn − T_cold), into "process"
///   T_cold(d) = mean + swing·cos(2π·(d − warmest day)/365 d)     d: the day; constant from midnight to midnight
///
/// Shape   one branch from the drains to the house, with one cell, which `T_cold` enters.
/// Valid   the pressure in the street does not hang on what this house draws. Water left in drains cools to nothing
///         but what is drawn next.
struct ColdMain {
  Pressure pressure;
  double cv;
  Volume water;
  Temperature mean;
  TemperatureChange swing;
  int warmest_day, first_day;

  double cold = 0;  // T_cold [K], from settle()

  static constexpr std::string_view kind = "cold main", family = "cold main", summary = "Cold water from the street main";
  static constexpr Role role = Role::cold_main;
  static constexpr std::array branches{Branch{"drains", "house"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&ColdMain::pressure>("pressure", psi, 1, 300, "static pressure at the house").typical(40, 60, 80),
            number<&ColdMain::cv>("cv", 0.1, 1e4, "flow coefficient Cv of meter and service pipe").typical(5, 10, 20),
            field<&ColdMain::water>("water_content", gallon, 1e-3, 10, "water in the house's cold pipe").otherwise(0.05),
            field<&ColdMain::mean>("mean", degF, 32, 100, "average cold water temperature of the year").otherwise(50),
            field<&ColdMain::swing>("swing", degF_change, 0, 40, "seasonal swing, each side of the average").otherwise(0),
            count<&ColdMain::warmest_day>("warmest_day", 1, 366, "day of the warmest cold water, 1 to 366").otherwise(230),
            count<&ColdMain::first_day>("first_day", 1, 366, "first day of the run, 1 to 366").otherwise(1)};
  }
  double on_day(double day) const { return *mean + *swing * std::cos(2 * 3.14159265358979 * (day - warmest_day) / 365); }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return cv_to_loss(flow, cv, s.local()) - *pressure; }
  Way way(int, Site const&) const { return Way::forward; }
  Cells cells(int, Fluid const&) const { return {1, *water, 0}; }
  double now_cold(Site const& s) const {
    double const since_midnight = std::fmod(s.time_of_day() + 0.5, 86400.0);  // half a second early counts as the new day
    double const midnights = std::ceil((s.time() + 0.5 - since_midnight) / 86400 - 1e-6);
    return on_day(first_day + midnights);
  }
  void settle(Site const& s) { cold = now_cold(s); }
  void links(Links& book, Site const& s) const {
    double const W = s.capacity_rate();
    book.link(s.water(0), account::process, W, s.entering(), given::unity);
    book.give(s.water(0), account::process, -W * (cold - 1));  // unity is 1 K: what is left to the cold water
  }
  enum Mode { flows };
  static constexpr std::array<std::string_view, 1> modes{"under pressure"};
  static auto transitions() {
    using T = Transition<ColdMain>;
    return std::array{T{flows, flows, &ColdMain::midnight, Cause::clock, "", measure::plain, nullptr, false}};
  }
  Reading midnight(Site const& s) const {
    if (*swing == 0) return Reading::never();
    double const then = std::fmod(s.time_of_day() - s.time_in_mode() + 864000.5, 86400.0);
    return Reading::at(s, s.since() + 86400.5 - then, 0);
  }
};

}  // namespace steadyfire
