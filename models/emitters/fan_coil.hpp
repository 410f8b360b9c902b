#pragma once
#include "models/effectiveness.hpp"
#include "models/emitters/heated_space.hpp"

namespace steadyfire {

/// What tells one sort of fan coil from another: common practice, no source.
struct AirHandlerMake {
  static constexpr std::string_view kind = "air handler", summary = "Air handler: hydronic coil with a blower";
  static constexpr double rated_water = 180, rated_air = 70;                                  // [degF]
  static constexpr double head[]{1, 3, 8}, fan[]{100, 250, 600}, water[]{0.2, 0.5, 1.5}, metal[]{1, 2, 5};  // ft, W, gal, Btu/degF
  static constexpr Usual usual{120, 140, 160, 20};
};
struct KickSpaceMake {
  static constexpr std::string_view kind = "kick-space convector", summary = "Kick-space heater under a cabinet; warm water starts its fan";
  static constexpr double rated_water = 180, rated_air = 65;
  static constexpr double head[]{0.3, 1, 3}, fan[]{25, 45, 80}, water[]{0.03, 0.06, 0.15}, metal[]{0.2, 0.4, 1};
  static constexpr double aquastat[]{100, 120, 140};  // [degF]
  static constexpr Usual usual{140, 160, 180, 20};
};
struct UnitHeaterMake {
  static constexpr std::string_view kind = "unit heater", summary = "Unit heater: hung coil with a propeller fan";
  static constexpr double rated_water = 200, rated_air = 60;
  static constexpr double head[]{0.5, 1.5, 5}, fan[]{40, 120, 400}, water[]{0.1, 0.3, 1}, metal[]{0.5, 1.5, 5};
  static constexpr Usual usual{140, 160, 180, 20};
};

/// Water coil in the air stream of a fan: air handler, kick-space convector or unit heater.
///
///   heat = ε·C_min·(T_water,in − T_room)     ε of unmixed crossflow at NTU = UA/C_min
///   UA   = UA_r/[(1 − w) + w·(Q/Q_r)^−0.8]   w: the water side's share of the rated resistance
///
/// entered as N·W·(φ·T_in + (1 − φ)·T_cell − T_room) with 1 − e^(−N) = ε·C_min/W, which is the same at
/// rest; still water gives C_air·(1 − e^(−UA/C_air))·(T_cell − T_room), its film that of Q_r/20.
///
/// The fan is asked for by its calls (a kick-space convector's always). It starts after `fan_delay`, when
/// the coil's mean water has reached `fan_on_water` and the air would leave at the low limit or above; it
/// stops when the call ends, or either has fallen by its differential.
///
/// Shape   one branch, one cell: the water that leaves. Entering air is the room's; modes fan off, fan on,
///         fan waiting.
/// Valid   the fan moves its rated air or none; a resting fan takes no heat from the coil, which keeps
///         warm; the fan's electricity ends as heat in the room. Standard air, 1.2041 kg/m³, 1006 J/(kg·K).
/// Source  effectiveness: see crossflow_effectiveness; exponent 0.8 of turbulent tubes; the rest common practice, no source.
template <class Make>
struct FanCoil {
  Power output;
  Conductance conductance;
  Temperature rated_water, rated_air, fan_on_water, low_limit;
  VolumeFlow rated_flow, air_flow;
  Length rated_head_loss;
  Fraction water_share;
  Power fan_power;
  TemperatureChange differential;
  Time fan_delay;
  Volume water;
  HeatCapacity metal;
  Reference room;
  std::vector<Reference> calls;

  double air_rate = 0, rated_UA = 0;   // [W/K], from prepare() and the first settle()
  double passed = 0, share = 0;        // N·W while the fan runs [W/K], φ: from settle()

  static constexpr double air_heat = 1.2041 * 1006;  // of standard air [J/(m³·K)]
  static constexpr std::string_view kind = Make::kind, family = "emitter", summary = Make::summary;
  static constexpr Role role = Role::emitter;
  static constexpr Usual usual = Make::usual;
  static constexpr bool by_water_alone = requires { Make::aquastat; };
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using F = FanCoil;
    auto const usually = [](Field const& f, double const (&t)[3]) { return f.typical(t[0], t[1], t[2]); };
    auto aquastat = field<&F::fan_on_water>("fan_on_water", degF, 60, 200, "aquastat: coil water temperature that starts the fan");
    if constexpr (by_water_alone) aquastat = usually(aquastat, Make::aquastat);
    else aquastat = aquastat.optional();
    std::vector<Field> fields{
        field<&F::output>("output", Btu_per_hour, 500, 5e6, "output at rated water, air and flows").optional(),
        field<&F::conductance>("conductance", Btu_per_hour_degF, 1, 1e6, "UA of the coil at the rated flows, instead of an output")
            .optional(),
        field<&F::rated_water>("rated_water", degF, 80, 240, "entering water temperature of the rated output").otherwise(Make::rated_water),
        field<&F::rated_air>("rated_air", degF, 40, 90, "entering air temperature of the rated output").otherwise(Make::rated_air),
        field<&F::rated_flow>("rated_flow", gpm, 0.1, 1000, "water flow of the rated output and head loss"),
        field<&F::air_flow>("air_flow", cfm, 10, 1e5, "air flow of the fan"),
        usually(field<&F::rated_head_loss>("rated_head_loss", foot, 0.01, 100, "head loss of the coil at rated_flow"), Make::head),
        field<&F::water_share>("water_side_share", percent, 0, 90, "water-side share of the coil's thermal resistance at rated_flow")
            .typical(10, 20, 40),
        usually(field<&F::fan_power>("fan_power", watt, 0, 1e5, "electric power of the fan while it runs"), Make::fan),
        aquastat,
        field<&F::low_limit>("low_limit", degF, 40, 150, "low limit: minimum leaving air temperature to run the fan").optional(),
        field<&F::differential>("limit_differential", degF_change, 0.5, 40, "differential of both limits before the fan stops")
            .otherwise(10),
        field<&F::fan_delay>("fan_delay", minute, 0, 30, "delay from the call to the fan start").otherwise(0),
        usually(field<&F::water>("water_content", gallon, 0.01, 100, "water in the coil"), Make::water),
        usually(field<&F::metal>("metal", Btu_per_degF, 0.01, 1000, "heat stored in the coil's metal, per degree"), Make::metal),
        reference<&F::room>("room", "room", "room that it heats").optional("the zone's room")};
    if constexpr (!by_water_alone)
      fields.push_back(reference<&F::calls>("calls", "control",
                                            "controls that call the fan")
                           .optional("in a house the zone's thermostat; else while water flows"));
    return fields;
  }
  static void check(Entry const& e, Diagnostics& faults) {
    using F = FanCoil;
    auto const &output = value_of<&F::output>(e), &UA = value_of<&F::conductance>(e), &water = value_of<&F::rated_water>(e),
               &air = value_of<&F::rated_air>(e), &start = value_of<&F::fan_on_water>(e), &limit = value_of<&F::low_limit>(e);
    if (output.given && UA.given)
      faults.add({"E222", UA.at, e.who + ": both 'output' and 'conductance'", "one of them", "remove 'conductance'", output.at});
    if (!output.given && !UA.given)
      faults.add(
          {"E205", e.at, e.who + ": 'output' is missing", "output = \"30 kBtu/h\" at rated water, air and flows, or a conductance",
              "take it from the data sheet", {}, {}, "output"});
    if (start.given && limit.given && !start.numbers.empty() && !limit.numbers.empty() && limit.numbers[0] >= start.numbers[0])
      faults.add({"E270", limit.at, e.who + ": low_limit is not below fan_on_water",
                  "low_limit below fan_on_water", "lower low_limit, or the fan starts and stops at once", start.at});
    if (!water.numbers.empty() && !air.numbers.empty() && water.numbers[0] <= air.numbers[0])
      faults.add({"E229", water.at, e.who + ": rated_water is not above rated_air", "rated_water above rated_air",
          "swap or correct the two temperatures"});
    auto const& air_flow = value_of<&F::air_flow>(e);
    if (output.numbers.empty() || water.numbers.empty() || air.numbers.empty() || air_flow.numbers.empty()) return;
    if (water.numbers[0] <= air.numbers[0]) return;
    if (double const most = air_heat * air_flow.numbers[0] * (water.numbers[0] - air.numbers[0]); output.numbers[0] >= most)
      faults.add({"E246", output.at, e.who + ": this output heats the air above the rated water temperature",
                  "less than " + show(most, measure::power, UnitSystem::us), "check air_flow, rated_water and rated_air", air_flow.at});
  }

  /// The UA that gives the rated output; NTU 20, almost all that the flows can carry, is the most.
  double conductance_for_output(double water_rate) const {
    double const least = std::min(air_rate, water_rate), C = least / std::max(air_rate, water_rate);
    double const wanted = *output / (least * (*rated_water - *rated_air));
    double low = 0, high = 20;
    for (int i = 0; i < 60; ++i) (crossflow_effectiveness((low + high) / 2, C) < wanted ? low : high) = (low + high) / 2;
    return high * least;
  }
  void prepare() { air_rate = air_heat * *air_flow; }
  void settle(Site const& s) {
    double const rated_rate = *rated_flow * s.fluid().density * s.fluid().heat_capacity, rate = s.capacity_rate();
    if (rated_UA == 0) rated_UA = std::isnan(*conductance) ? conductance_for_output(rated_rate) : *conductance;
    double const UA = rated_UA / (1 - *water_share + *water_share * std::pow(std::max(rate / rated_rate, 0.05), -0.8));
    if (rate < 1e-6 * rated_rate) {
      passed = -air_rate * std::expm1(-UA / air_rate), share = 0;
      return;
    }
    double const least = std::min(air_rate, rate), most = std::max(air_rate, rate);
    double const of_water = least / rate * crossflow_effectiveness(UA / least, least / most);
    passed = -rate * std::log1p(-std::min(of_water, 1 - 1e-9));
    share = entering_share(passed, rate);
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return rated_loss(flow, *rated_flow, *rated_head_loss, s); }
  Cells cells(int, Fluid const&) const { return {1, *water, *metal}; }

  void links(Links& book, Site const& s) const {
    auto const space = heated_space(s, room, 0);
    bool const blows = s.mode() == fan_on;
    book.link(s.water(0), space.to, blows ? passed * share : 0, s.entering(), space.at);
    book.link(s.water(0), space.to, blows ? passed * (1 - share) : 0, s.water(0), space.at);
    book.give(account::electricity, space.to, blows ? *fan_power : 0);
  }

  enum Mode { fan_off, fan_on, fan_waiting };
  static constexpr std::array<std::string_view, 3> modes{"fan off", "fan on", "fan waiting"};
  static auto transitions() {
    using T = Transition<FanCoil>;
    auto constexpr t = measure::fine_temperature;
    auto constexpr ended = "fan off: call ended";
    return std::array{T{fan_off, fan_waiting, &FanCoil::wanted, Cause::call, "", measure::plain, nullptr, false},
                      T{fan_waiting, fan_off, &FanCoil::unwanted, Cause::call_ended, "", measure::plain, nullptr, false},
                      T{fan_waiting, fan_on, &FanCoil::warm, Cause::on_temperature, "fan on: coil water {value}", t},
                      T{fan_on, fan_off, &FanCoil::unwanted, Cause::call_ended, ended},
                      T{fan_on, fan_waiting, &FanCoil::water_cool, Cause::off_temperature, "fan waits: coil water fell to {value}", t},
                      T{fan_on, fan_waiting, &FanCoil::air_cool, Cause::low_limit, "fan waits: leaving air {value}, minimum {limit}", t}};
  }
  bool wants(Site const& s) const {
    if (by_water_alone) return true;
    if (calls.empty()) return std::abs(s.flow()) > 0.01 * *rated_flow * s.fluid().density;
    return std::any_of(calls.begin(), calls.end(), [&](Reference r) { return s.calls(r); });
  }
  double mean_water(Site const& s) const { return share * s[s.entering()] + (1 - share) * s[s.water(0)]; }
  /// What leaves, or would leave if the fan ran.
  double leaving_air(Site const& s) const {
    double const room_air = s[heated_space(s, room, 0).at];
    return room_air + passed * (mean_water(s) - room_air) / air_rate;
  }
  Reading wanted(Site const& s) const { return Reading::fact(wants(s)); }
  Reading unwanted(Site const& s) const { return Reading::fact(!wants(s)); }
  Reading warm(Site const& s) const {
    if (s.time() < s.since() + *fan_delay) return Reading::after(s, *fan_delay);
    double const water = mean_water(s);
    double const by_water = std::isnan(*fan_on_water) ? 1 : water - *fan_on_water;
    double const by_air = std::isnan(*low_limit) ? 1 : leaving_air(s) - *low_limit;
    return {std::min(by_water, by_air), water};
  }
  Reading water_cool(Site const& s) const {
    return std::isnan(*fan_on_water) ? Reading::never() : Reading::below(mean_water(s), *fan_on_water - *differential);
  }
  Reading air_cool(Site const& s) const {
    return std::isnan(*low_limit) ? Reading::never() : Reading::below(leaving_air(s), *low_limit - *differential);
  }

  void findings(Site const& s, std::vector<Finding>& list) const {
    constexpr double cool = 305.37;     // 90 °F
    constexpr double patience = 1800;   // [s]
    double const air = leaving_air(s), water = mean_water(s);
    bool const flows = std::abs(s.flow()) > 0.1 * *rated_flow * s.fluid().density;
    if (s.mode() == fan_on && flows && air < cool)
      list.push_back({.id = "air_handler.cool_air",
                      .place = "",
                      .severity = Severity::minor,
                      .figures = {{"leaving air", air, measure::fine_temperature}},
                      .limit = Figure{"felt as a draft below", cool, measure::temperature},
                      .whose = common_practice,
                      .words = say("leaving air {}, felt as a draft below {} ({}).", Amount{air, measure::temperature},
                                   Amount{cool, measure::temperature}, common_practice),
                      .order = 15,
                      .fix = "raise the supply temperature or the water flow, or lower the air flow."});
    if (s.mode() != fan_waiting || !flows || s.time_in_mode() <= *fan_delay + patience) return;
    bool const by_air = std::isnan(*fan_on_water);
    list.push_back({.id = "fan_coil.fan_waits",
                    .place = "",
                    .severity = Severity::serious,
                    .figures = {{"water", water, measure::fine_temperature}, {"leaving air", air, measure::fine_temperature}},
                    .limit = by_air ? Figure{"low limit of leaving air", *low_limit, measure::temperature}
                                    : Figure{"fan starts at", *fan_on_water, measure::temperature},
                    .whose = "its control",
                    .words = say("fan held off for {}; {} {}, {} {}. No heat is delivered.", Amount{patience, measure::minutes},
                                 by_air ? "leaving air" : "water", Amount{by_air ? air : water, measure::temperature},
                                 by_air ? "low limit" : "fan starts at", Amount{by_air ? *low_limit : *fan_on_water, measure::temperature}),
                    .order = 60,
                    .fix = by_air ? "raise the supply temperature or lower the low limit of the leaving air."
                                  : "raise the supply temperature or lower the fan start setting."});
  }
};

using AirHandler = FanCoil<AirHandlerMake>;
using KickSpaceConvector = FanCoil<KickSpaceMake>;
using UnitHeater = FanCoil<UnitHeaterMake>;

}  // namespace steadyfire
