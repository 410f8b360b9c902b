#pragma once
/// What the user says of domestic hot water (DHW) and of its taps.

#include "sim/core/count_up.hpp"
#include "models/hot_water/hot_water_control.hpp"
#include "models/hot_water/recirculation.hpp"
#include "models/hot_water/storage.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"
#include "models/pipe_sizes.hpp"
#include "models/weather/weather.hpp"

namespace steadyfire {

/// The year's cold water: mean, swing to either side, and its warmest day.
struct ColdYear {
  double mean = 283.15, swing = 0;  ///< [K]
  int warmest_day = 230;
};

/// Mains temperature from that of the air.
///
///   T = (a + 6) + r·(Δ/2)·sin(0.986·(d − 15 − lag) − 90°)     r = 0.4 + 0.01·(a − 44), lag = 35 − (a − 44) days
///
/// Shape   a: mean of the year's air [K]; Δ: between its warmest and coldest monthly means [K]. Inside all in degF.
/// Valid   mains buried as those it was fitted to; towns that draw from wells or lakes differ by several °F.
/// Source  Burch and Christensen, NREL 2007, as in public reference designs for homes; from memory.
inline ColdYear mains_by_air(double mean_air, double difference) {
  double const a = AnyUnit{unit::degF}.from_si(mean_air), delta = difference / unit::degF_change.scale;
  double const ratio = 0.4 + 0.01 * (a - 44), lag = 35 - (a - 44);
  double const warmest = 15 + lag + 180 / 0.986;
  return {unit::degF.to_si(a + 6), std::max(0.0, ratio * delta / 2) * unit::degF_change.scale,
          int(count_near(std::fmod(warmest + 729, 365))) + 1};
}

struct ConstantInlet {
  Temperature temperature;
  static constexpr std::string_view kind = "steady", family = "cold inlet", summary = "Incoming water of constant temperature";
  static std::vector<Field> schema() {
    return {field<&ConstantInlet::temperature>("temperature", unit::degF, 32, 100, "incoming water temperature").typical(40, 50, 60)};
  }
};
struct SeasonalInlet {
  Temperature mean;
  TemperatureChange swing;
  int warmest_day;
  static constexpr std::string_view kind = "by season", family = "cold inlet", summary = "Incoming water that follows the seasons";
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&SeasonalInlet::mean>("mean", degF, 32, 100, "average over the year"),
            field<&SeasonalInlet::swing>("swing", degF_change, 0, 40, "seasonal swing, each side of the average"),
            count<&SeasonalInlet::warmest_day>("warmest_day", 1, 366, "day of the warmest incoming water, 1 to 366").otherwise(230)};
  }
};
struct InletByAir {
  Temperature mean;
  TemperatureChange difference;
  static constexpr std::string_view kind = "by air temperature", family = "cold inlet",
                                    summary = "Incoming water from the year's air temperature (published correlation)";
  static std::vector<Field> schema() {
    using namespace unit;
    return {field<&InletByAir::mean>("mean_air", degF, -20, 100, "average air temperature of the year")
        .optional("from the site's weather, if it covers a year"),
            field<&InletByAir::difference>("monthly_difference", degF_change, 0, 120,
                "warmest minus coldest monthly average air temperature")
                .optional("from the site's weather, if it covers a year")};
  }
};

/// Hot water as it is drawn.
struct HotWaterSection {
  int operation, valve;
  Temperature set_point;
  VolumeFlow start_flow, stop_flow, flow_limit;
  Entry plates, circulator, cold_inlet, mixing_valve, draws, recirculation, storage, second_heater;
  Time longest_wait, heating_turn, turning_time;
  Pressure supply_pressure;
  Length trunk_length, insulation;
  std::string trunk_size;

  enum Valve { diverting, proportioning, parallel_circuits };
  static constexpr std::string_view kind = "hot water", family = "hot water", summary = "Domestic hot water (DHW) on demand";
  static constexpr Home home = Home::single;
  static std::vector<Field> schema() {
    using namespace unit;
    using S = HotWaterSection;
    return {choice<&S::operation>("operation", {"priority", "shared"}, "priority: heating waits for hot water; shared: both at once")
        .otherwise(0),
            choice<&S::valve>("valve", {"diverting", "proportioning", "parallel circuits"}, "valve or piping that feeds the heat exchanger")
                .optional("diverting with priority; proportioning when shared"),
            field<&S::set_point>("set_point", degF, 70, 180, "hot water setpoint").otherwise(120),
            field<&S::start_flow>("start_flow", gpm, 0.05, 10, "flow that starts hot water (flow switch on)").typical(0.4, 0.5, 0.8),
            field<&S::stop_flow>("stop_flow", gpm, 0.02, 10, "flow that stops hot water (flow switch off)").typical(0.25, 0.4, 0.6),
            entry<&S::plates>("exchanger", "exchanger", "heat exchanger for hot water").optional("sized to the boiler"),
            entry<&S::circulator>("circulator", "circulator", "circulator of the heat exchanger, with parallel circuits")
                .optional("a medium one"),
            field<&S::flow_limit>("flow_limit", gpm, 0.1, 50, "flow limiter setting ahead of the heat exchanger")
                .optional(say("assumed: the flow that full fire warms by {}; {} is none",
                              Amount{degF_change.to_si(70), measure::temperature_change}, Amount{gpm.to_si(50), measure::flow})),
            field<&S::longest_wait>("longest_wait", minute, 1, 1440, "longest wait of heating under priority").otherwise(60),
            field<&S::heating_turn>("heating_turn", minute, 1, 240, "heating time after that wait").otherwise(20),
            field<&S::turning_time>("turning_time", second, 0, 120, "running time of the valve motor").typical(3, 6, 15),
            entry<&S::cold_inlet>("cold_inlet", "cold inlet", "incoming water temperature")
                .optional(say("{} all year", Amount{degF.to_si(50), measure::temperature})),
            field<&S::supply_pressure>("supply_pressure", psi, 5, 200, "static street pressure").typical(40, 60, 80),
            entry<&S::mixing_valve>("mixing_valve", "mixing", "thermostatic mixing valve at the outlet").optional("none"),
            field<&S::trunk_length>("trunk_length", foot, 0.5, 500, "pipe length from heat exchanger to the branches of the taps")
                .otherwise(10),
            text<&S::trunk_size>("trunk_size", "size of that pipe").optional("3/4 in copper M"),
            field<&S::insulation>("insulation", inch, 0, 4, "insulation thickness of trunk and branches; 0 is bare").otherwise(0),
            entry<&S::recirculation>("recirculation", "recirculation", "recirculation loop to the taps").optional("none"),
            entry<&S::storage>("storage", "storage", "small storage tank in the hot water line").optional("none"),
            entry<&S::second_heater>("second_heater", "second heater", "second water heater, for draws beyond the boiler").optional("none"),
            entry<&S::draws>("draws", "draws", "draw schedule, in addition to the taps' own").optional("only the taps' own")};
  }
  static bool shares(Entry const& e) { return get<&HotWaterSection::operation>(e) == 1; }
  static Valve valve_of(Entry const& e) {
    auto const& v = value_of<&HotWaterSection::valve>(e).numbers;
    return !v.empty() ? Valve(int(v[0])) : shares(e) ? proportioning : diverting;
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_of<&HotWaterSection::trunk_size>(e), e.who, faults);
    HotWaterControl::check_flows<HotWaterSection>(e, faults);
    using S = HotWaterSection;
    auto const &valve = value_of<&S::valve>(e), &operation = value_of<&S::operation>(e);
    if (shares(e) && valve_of(e) == diverting)
      faults.add({"E341", valve.at, e.who + ": a diverting valve cannot share; operation is \"shared\"",
                  "valve = \"proportioning\" or \"parallel circuits\"", "change the valve, or set operation = \"priority\"", operation.at});
    if (auto const& c = value_of<&S::circulator>(e); c.given && valve_of(e) != parallel_circuits)
      faults.add({"E222", c.at, e.who + ": 'circulator' does not go with a valve",
                  "valve = \"parallel circuits\"",
                      "or remove 'circulator': the boiler's circulator serves both", valve.given ? valve.at : Position{}});
    auto const &back = value_of<&S::recirculation>(e), &store = value_of<&S::storage>(e), &set_point = value_of<&S::set_point>(e);
    if (back.entry && !store.entry && get<&RecirculationEntry::past_sensor>(*back.entry) == 1)
      faults.add({"E347", value_of<&RecirculationEntry::past_sensor>(*back.entry).at,
                  e.who + ": recirculation bypasses the flow switch, so nothing reheats it",
                  "flow_sensor = \"passed\", or a storage", "change flow_sensor, or add storage"});
    if (auto const* setting = store.entry ? &value_of<&StorageEntry::setting>(*store.entry) : nullptr;
        setting && !setting->numbers.empty() && !set_point.numbers.empty() && setting->numbers[0] > set_point.numbers[0] - 1)
      faults.add({"E348", setting->at,
                  e.who + ": storage setting is " + show(setting->numbers[0], measure::temperature, UnitSystem::us) +
                      ", not below the hot water setpoint of " + show(set_point.numbers[0], measure::temperature, UnitSystem::us),
                  "a setting some degrees below the set_point", "lower the setting", set_point.given ? set_point.at : Position{}});
    if (auto const& m = value_of<&S::mixing_valve>(e); m.entry && m.entry->kind->name != ThermostaticMixingValve::kind)
      faults.add({"E342", m.at, e.who + ": a " + m.entry->kind->name + " follows the heating controls",
                  "mixing_valve = { kind = \"thermostatic mixing valve\", setting = \"115 °F\" }", "use a thermostatic mixing valve", {}});
    else if (m.entry) {
      auto const &setting = value_of<&ThermostaticMixingValve::setting>(*m.entry), &set = value_of<&S::set_point>(e);
      if (!setting.numbers.empty() && !set.numbers.empty() && setting.numbers[0] > set.numbers[0] + 1e-6)
        faults.add({"E343", setting.given ? setting.at : m.at,
                    e.who + ": mixing valve setting is " + show(setting.numbers[0], measure::temperature, UnitSystem::us) +
                        ", above the hot water setpoint of " + show(set.numbers[0], measure::temperature, UnitSystem::us),
                    "a setting at most the set_point", "lower the setting", set.given ? set.at : Position{}});
    }
  }
};

/// A tap, its run, and what a family draws there.
struct TapSection {
  VolumeFlow flow;
  Temperature temperature;
  Length run_length, insulation;
  std::string run_size;
  std::vector<Time> at, lasts;
  std::vector<Volume> volumes;

  static constexpr std::string_view kind = "tap", family = "tap section",
                                    summary = "A tap, its pipe from the trunk, and its draws";
  static constexpr bool begins_names = true;
  static constexpr Home home = Home::repeated;
  static std::vector<Field> schema() {
    using namespace unit;
    using S = TapSection;
    return {field<&S::flow>("flow", gpm, 0.05, 50, "mixed water flow").typical(1.5, 2, 2.5),
            field<&S::temperature>("temperature", degF, 50, 180, "mixed water temperature").otherwise(105),
            field<&S::run_length>("run_length", foot, 0.5, 500, "length of its own pipe from the trunk").otherwise(20),
            text<&S::run_size>("run_size", "size of that pipe").optional("1/2 in copper M"),
            clocks<&S::at>("at", "daily opening times").optional("never"),
            list<&S::volumes>("volume", gallon, 0.01, 2000, "volume of each draw: one for all, or one per time").optional("from lasts"),
            list<&S::lasts>("lasts", minute, 0.05, 600, "duration of each draw, instead of volume: one, or one per time")
                .optional("from volume"),
            field<&S::insulation>("insulation", inch, 0, 4, "insulation thickness of its pipe").optional("same as the trunk")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_of<&TapSection::run_size>(e), e.who, faults);
    auto const &at = value_of<&TapSection::at>(e), &volume = value_of<&TapSection::volumes>(e), &lasts = value_of<&TapSection::lasts>(e);
    if (volume.given && lasts.given)
      faults.add({"E222", lasts.at, e.who + ": both 'volume' and 'lasts'", "one of them", "remove one of them", volume.at});
    if (at.given && !volume.given && !lasts.given)
      faults.add({"E205", at.at, e.who + ": 'at' needs 'volume' or 'lasts'",
                  "volume = \"10 gal\", or lasts = \"8 min\"", "state how much is drawn"});
    for (auto const* v : {&volume, &lasts}) {
      if (!v->given) continue;
      if (!at.given) faults.add({"E205", v->at, e.who + ": 'at' is missing", "at = [\"7:00\", \"18:30\"]", "state when the tap opens"});
      else if (!v->numbers.empty() && !at.numbers.empty() && v->numbers.size() != 1 && v->numbers.size() != at.numbers.size())
        faults.add({"E344", v->at,
                    e.who + ": " + std::to_string(v->numbers.size()) + " amounts for " + std::to_string(at.numbers.size()) + " times",
                    "one for all, or one per time", "correct the list", at.at});
    }
  }
};

}  // namespace steadyfire
