#pragma once
#include "models/emitters/heated_space.hpp"

namespace steadyfire {

/// Effectiveness of a crossflow exchanger, both sides unmixed, in the usual approximate form.
///
///   ε = 1 − exp{N^0.22/C·[exp(−C·N^0.78) − 1]},   C = C_min/C_max;   C = 0: 1 − e^(−N)
///
/// Errors  2 % against the exact series.
/// Source  Incropera and DeWitt, table 11.4.
inline double crossflow_effectiveness(double N, double C) {
  if (C < 1e-9) return -std::expm1(-N);
  return -std::expm1(std::pow(N, 0.22) / C * std::expm1(-C * std::pow(N, 0.78)));
}

/// Air handler: a water coil in the air stream of a fan.
///
///   heat = ε·C_min·(T_water,in − T_room)     ε of unmixed crossflow at NTU = UA/C_min
///   UA   = UA_r/[(1 − w) + w·(Q/Q_r)^−0.8]   w: the water side's share of the rated resistance
///
/// Shape   one branch, one cell: the water that leaves. Entering air is the room's; modes fan off and on.
/// Valid   the fan moves its rated air or none; a resting fan takes no heat from the coil, which keeps
///         warm; the fan's electricity ends as heat in the room. Standard air, 1.2041 kg/m³, 1006 J/(kg·K).
/// Source  effectiveness: Incropera and DeWitt table 11.4; exponent 0.8 of turbulent tubes; the rest common practice, no source.
struct AirHandler {
  Power output;
  Conductance conductance;
  Temperature rated_water, rated_air;
  VolumeFlow rated_flow, air_flow;
  Length rated_head_loss;
  Fraction water_share;
  Power fan_power;
  Volume water;
  HeatCapacity metal;
  Reference room;
  std::vector<Reference> calls;

  double air_rate = 0, rated_UA = 0;  // [W/K], from prepare() and the first settle()
  double passed = 0;                  // ε·C_min while the fan runs [W/K], from settle()

  static constexpr double air_heat = 1.2041 * 1006;  // of standard air [J/(m³·K)]
  static constexpr std::string_view kind = "air handler", family = "emitter", summary = "Water coil with a fan";
  static constexpr Role role = Role::emitter;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using A = AirHandler;
    return {field<&A::output>("output", Btu_per_hour, 500, 5e6, "heat given at the rated water, air and flows").optional(),
            field<&A::conductance>("conductance", Btu_per_hour_degF, 1, 1e6, "UA of the coil at the rated flows, instead of an output")
                .optional(),
            field<&A::rated_water>("rated_water", degF, 80, 240, "entering water at which the output is stated").otherwise(180),
            field<&A::rated_air>("rated_air", degF, 40, 90, "entering air at which the output is stated").otherwise(70),
            field<&A::rated_flow>("rated_flow", gpm, 0.1, 1000, "water flow at which output and head loss are stated"),
            field<&A::air_flow>("air_flow", cfm, 10, 1e5, "air moved by the fan"),
            field<&A::rated_head_loss>("rated_head_loss", foot, 0.01, 100, "head loss of the coil at the rated flow").typical(1, 3, 8),
            field<&A::water_share>("water_side_share", percent, 0, 90, "of the coil's resistance to heat, at the rated flow")
                .typical(10, 20, 40),
            field<&A::fan_power>("fan_power", watt, 0, 1e5, "electricity of the fan while it runs").typical(100, 250, 600),
            field<&A::water>("water_content", gallon, 0.01, 100, "water in the coil").typical(0.2, 0.5, 1.5),
            field<&A::metal>("metal", Btu_per_degF, 0.01, 1000, "heat held by the coil").typical(1, 2, 5),
            reference<&A::calls>("calls", "control", "the fan runs while any of these calls; while water flows if not given").optional(),
            reference<&A::room>("room", "room", "the room it heats").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &output = value_under(e, "output"), &UA = value_under(e, "conductance"), &water = value_under(e, "rated_water"),
               &air = value_under(e, "rated_air");
    if (output.given && UA.given)
      faults.add({"E222", UA.at, "air handler: both an output and a conductance", "one of them", "leave out 'conductance'", output.at});
    if (!output.given && !UA.given)
      faults.add(
          {"E205", e.at, "air handler lacks 'output' or 'conductance'", "output = \"30 kBtu/h\" at the rated water, air and flows", ""});
    if (!water.numbers.empty() && !air.numbers.empty() && water.numbers[0] <= air.numbers[0])
      faults.add({"E229", water.at, "air handler: the rated water is not warmer than the rated air", "rated_water above rated_air", ""});
    auto const& air_flow = value_under(e, "air_flow");
    if (output.numbers.empty() || water.numbers.empty() || air.numbers.empty() || air_flow.numbers.empty()) return;
    if (water.numbers[0] <= air.numbers[0]) return;
    if (double const most = air_heat * air_flow.numbers[0] * (water.numbers[0] - air.numbers[0]); output.numbers[0] >= most)
      faults.add({"E246", output.at, "air handler: this output would heat the air above the rated water",
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
    passed = 0;
    if (rate < 1e-6 * rated_rate) return;
    double const UA = rated_UA / (1 - *water_share + *water_share * std::pow(rate / rated_rate, -0.8));
    double const least = std::min(rate, air_rate), most = std::max(rate, air_rate);
    passed = least * crossflow_effectiveness(UA / least, least / most);
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return rated_loss(flow, *rated_flow, *rated_head_loss, s); }
  Cells cells(int, Fluid const&) const { return {1, *water, *metal}; }

  void links(Links& book, Site const& s) const {
    auto const space = heated_space(s, room);
    bool const blows = s.mode() == fan_on;
    book.link(s.water(0), space.to, blows ? passed : 0, s.entering(), space.at);
    book.give(account::electricity, space.to, blows ? *fan_power : 0);
  }

  enum Mode { fan_off, fan_on };
  static constexpr std::array<std::string_view, 2> modes{"fan off", "fan on"};
  static auto transitions() {
    using T = Transition<AirHandler>;
    return std::array{T{fan_off, fan_on, &AirHandler::wanted, "fan is called", wordless},
                      T{fan_on, fan_off, &AirHandler::unwanted, "call of the fan ended", wordless}};
  }
  bool wants(Site const& s) const {
    if (calls.empty()) return std::abs(s.flow()) > 0.01 * *rated_flow * s.fluid().density;
    return std::any_of(calls.begin(), calls.end(), [&](Reference r) { return s.calls(r); });
  }
  Reading wanted(Site const& s) const { return Reading::fact(wants(s)); }
  Reading unwanted(Site const& s) const { return Reading::fact(!wants(s)); }

  double leaving_air(Site const& s) const {
    double const room_air = s[heated_space(s, room).at];
    return room_air + passed * (s[s.entering()] - room_air) / air_rate;
  }
  void findings(Site const& s, std::vector<Finding>& list) const {
    constexpr double cool = 305.37;  // 90 °F
    double const air = leaving_air(s);
    if (s.mode() == fan_on && air < cool)
      list.push_back({"air_handler.cool_air",
                      "",
                      "minor",
                      {{"leaving air", air, measure::fine_temperature}},
                      Figure{"felt as a draft below", cool, measure::temperature},
                      "common practice, no source",
                      "blows air that is felt as cool: the water is too cold or too little for the air moved",
                      15});
  }
};

}  // namespace steadyfire
