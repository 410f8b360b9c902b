#pragma once
#include "models/emitters/slab_body.hpp"
#include "models/hourly.hpp"

namespace steadyfire {

/// Air that sweeps over a plane, turbulent from its edge on [W/(m²·K)].
///
///   h = 0.037·(k/L)·Re^0.8·Pr^⅓,   Re = v·L/ν        air at 0 °C: k 0.0243, ν 1.33e-5, Pr 0.71
///
/// Valid   in still air 4 W/(m²·K) at least: common practice, no source.
/// Source  ASHRAE Handbook HVAC Applications, snow melting, from memory; Incropera and DeWitt, flat plate.
inline double wind_coefficient(double wind, double length) {
  constexpr double k = 0.0243, viscosity = 1.33e-5, prandtl = 0.71;
  return std::max(4.0, 0.037 * k / length * std::pow(wind * length / viscosity, 0.8) * std::cbrt(prandtl));
}

/// Humidity ratio of saturated air at 1 atm [kg/kg], over water.
///
///   W = 0.622·p/(101325 Pa − p),   p = 610.94 Pa·exp(17.625·t/(t + 243.04)),   t in °C
///
/// Valid   −30 to 40 °C.
/// Errors  below 0 °C that over ice is lower, by 10 % at −10 °C.
/// Source  Magnus's form with the coefficients of Alduchov and Eskridge (1996), from memory.
template <class N>
N saturated_humidity(N kelvin) {
  using std::exp;
  N const t = kelvin - 273.15, p = 610.94 * exp(17.625 * t / (t + 243.04));
  return 0.622 * p / (101325.0 - p);
}

/// Heated pavement under the sky, with the control that melts snow and idles.
///
///   surface → sky, of one m²   c·q_melt + (1 − c)·(q_dry + w·q_wet),   c = s/(s + 0.5 kg/m²), w = s/(s + 0.05 kg/m²)
///     q_melt = 500 W/(m²·K)·(T_s − 0 °C)⁺        a millimetre of melt water, 0.56 W/(m·K), over it
///     q_dry  = h·(T_s − T_o) + 0.9·σ·(T_s⁴ − T_sky⁴)    h: wind_coefficient; T_sky⁴ = f·T_o⁴ + (1 − f)·(0.0552·T_o^1.5)⁴
///     q_wet  = h/(cp·Le^⅔)·(W_sat(T_s) − φ·W_sat(T_o))⁺·2.50 MJ/kg,   Le^⅔ = 0.90
///   lying snow   s' = fall·(1 − s/150 kg/m²) − c·q_melt/(334 kJ/kg + 2.1 kJ/(kg·K)·(0 °C − T_o)⁺)
///   within and bottom → ground     see SlabBody; A/R_down
///
/// It calls by itself: as snow lies (0.2 kg/m², a snow switch) until none does, whenever the mean surface is
/// below `surface`; without snow to hold `idle`, if that is given.
///
/// Shape   one branch, a cell a segment; own states: those of SlabBody and the snow that lies [kg/m²]; modes
///         off, melting, holding (snow, warm enough), idling. Has no room. Heat to the sky counts as process heat.
/// Valid   wind, humidity and cloud are constant, and the sky is closed (f = 1) in hours with snow; snow comes as stated, not by
///         the weather; lying snow keeps wind and sky off its share c; melt water runs off; no sun, no rain, no traffic.
/// Errors  the balance of a bare surface at 33 °F is that of the ASHRAE example within 5 %; c and w smooth what
///         is a matter of patches: against the limits c = 0 and 1 they move the load, never the heat of fusion.
/// Source  balance: ASHRAE Handbook HVAC Applications, snow melting and freeze protection, from memory; clear sky:
///         Swinbank (1963); Lewis relation.
struct SnowMeltSlab {
  Area area;
  Length spacing, tube_length, tube_depth, thickness, reach;
  int loop_count, layers, segments;
  std::string size;
  double loss_coefficient;
  Conductivity conductivity;
  HeatPerVolume heat_per_volume;
  Resistance down_resistance;
  Velocity wind;
  Fraction humidity, cloud;
  std::vector<Velocity> snowfall;
  Temperature surface, idle, start;
  TemperatureChange differential;

  SlabBody body;
  double down = 0, by_wind = 0;      // of a segment [W/K]; h [W/(m²·K)]: from prepare()
  double falls = 0, clouded = 1;     // [kg/(m²·s)], f: from settle()

  static constexpr std::string_view kind = "snow-melt slab", family = "emitter", summary = "Outdoor snow-melt slab with its control";
  static constexpr Role role = Role::emitter;
  static constexpr Caller caller = Caller::snow;
  static constexpr Usual usual{100, 120, 140, 25};
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using S = SnowMeltSlab;
    Unit<Velocity::dimension> constexpr inch_per_hour{"in/h", 0.0254 / 3600}, mph{"mph", 0.44704};
    return {
        field<&S::area>("area", square_foot, 1, 1e6, "heated slab area"),
        list<&S::snowfall>("snowfall", inch_per_hour, 0, 2,
                           "snowfall as water: one value, or 24 from midnight (a tenth of the depth of fresh snow)")
            .optional(),
        field<&S::surface>("surface", degF, 33, 60, "average surface temperature to hold during snow").otherwise(38),
        field<&S::idle>("idle", degF, 20, 50, "average surface temperature to hold without snow").optional("no idling"),
        field<&S::differential>("differential", degF_change, 0.5, 10, "differential between call and call end")
            .otherwise(2)
            .as(FieldRole::differential),
        field<&S::wind>("wind", mph, 0, 60, "wind speed over the slab").typical(5, 10, 20),
        field<&S::reach>("reach", foot, 1, 500, "length of slab along the wind").otherwise(20),
        field<&S::humidity>("humidity", percent, 0, 100, "relative humidity of the outdoor air").typical(60, 80, 95),
        field<&S::cloud>("cloud", percent, 0, 100, "cloud cover without snow, share of the sky").typical(0, 50, 100),
        count<&S::loop_count>("loops", 0, 500, TubeLoops::count_help()).otherwise(0),
        field<&S::tube_length>("tube_length", foot, 5, 2000, "length of one loop").optional("from area and spacing"),
        text<&S::size>("tube", "tube size").optional("\"1/2 in PEX\""),
        field<&S::spacing>("spacing", inch, 2, 36, "tube spacing, center to center").typical(6, 9, 12),
        field<&S::tube_depth>("tube_depth", inch, 0.3, 40, "depth of the tube center below the slab surface")
            .optional("half the slab thickness"),
        field<&S::thickness>("thickness", inch, 1, 40, "slab thickness").typical(4, 5, 8),
        field<&S::conductivity>("conductivity", Btu_per_hour_foot_degF, 0.05, 5, "conductivity of the slab").typical(0.6, 0.8, 1.0),
        field<&S::heat_per_volume>("heat_per_volume", joule_per_cubic_metre_kelvin, 1e5, 5e6, "density times specific heat of the slab")
            .typical(1.8e6, 2.1e6, 2.3e6),
        field<&S::down_resistance>("down_resistance", R_value, 0.5, 100, "R-value of insulation and soil under the slab")
            .typical(2, 6, 12),
        number<&S::loss_coefficient>("loss_coefficient", 0, 1e4, "total K of one loop: valves and bends").typical(0, 5, 20),
        count<&S::layers>("layers", 2, 60, "layers of the slab in the model").otherwise(5),
        count<&S::segments>("segments", 1, 40, "segments along the circuit").otherwise(4),
        field<&S::start>("start", degF, -60, 100, "temperature at the start of the run").otherwise(32)};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    using S = SnowMeltSlab;
    auto const &snow = value_of<&S::snowfall>(e), &idle = value_of<&S::idle>(e), &surface = value_of<&S::surface>(e);
    check_hourly(snow, e.who, "snowfall values", faults);
    if (!snow.given && !idle.given)
      faults.add({"E272", e.at, e.who + ": without 'snowfall' and 'idle' it never runs",
                  "snowfall = \"0.1 in/h\" or 24 values from midnight, or idle = \"28 °F\"", "state one of them"});
    if (idle.given && !idle.numbers.empty() && !surface.numbers.empty() && idle.numbers[0] > surface.numbers[0])
      faults.add({"E272", idle.at, e.who + ": 'idle' is above 'surface'", "idle at most 'surface'", "lower idle",
                  surface.given ? surface.at : Position{}});
    SlabBody::check<SnowMeltSlab>(e, faults);
  }

  void prepare() {
    by_wind = wind_coefficient(*wind, *reach);
    double const above = std::isnan(*tube_depth) ? *thickness / 2 : *tube_depth, by_sky = 5;  // 4·0.9·σ·T³ at 0 °C, about [W/(m²·K)]
    body = {TubeLoops{size, *area, *spacing, *tube_length, loop_count},
            {*area, *spacing, above, *thickness - above, *conductivity, *heat_per_volume, 0, by_wind + by_sky, 1 / *down_resistance, layers,
             segments}};
    down = *area / segments / *down_resistance;
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return body.loops.loss(flow, loss_coefficient, s.local()); }
  Cells cells(int, Fluid const&) const { return body.loops.cells(segments); }
  std::vector<OwnState> states() const {
    auto list = body.states("surface", StateRole::surface, *start);
    list.push_back({"snow", 0, 0});
    return list;
  }
  Place snow(Site const& s) const { return s.own(segments * body.points()); }

  static constexpr double water_density = 1000, fusion = 333.6e3, ice_heat = 2.1e3, melting_point = 273.15;
  static constexpr double contact = 500, most_snow = 150, patch = 0.5, film = 0.05;  // [W/(m²·K)], [kg/m²]
  static constexpr double emissivity = 0.9, stefan_boltzmann = 5.670374e-8;
  static constexpr double lewis = 0.90, air_heat = 1006, evaporation = 2.50e6;

  /// What a surface without snow loses to wind and sky, and, wet, by evaporation [W/m²].
  template <class N>
  N dry_loss(N surface, N outdoors) const {
    using std::sqrt;
    N const T2 = outdoors * outdoors, clear = 0.0552 * outdoors * sqrt(outdoors), clear2 = clear * clear, S2 = surface * surface;
    return by_wind * (surface - outdoors) + emissivity * stefan_boltzmann * (S2 * S2 - clouded * T2 * T2 - (1 - clouded) * clear2 * clear2);
  }
  template <class N>
  N wet_loss(N surface, N outdoors) const {
    N const drier = saturated_humidity(surface) - *humidity * saturated_humidity(outdoors);
    return by_wind / (air_heat * lewis) * evaporation * greater(drier, N(0));
  }
  /// Odd, so that a solver that oversteps the end of the snow finds the slope that leads back.
  template <class N>
  static N share_of(N snow, double half) { return snow / (greater(snow, -snow) + half); }
  template <class N>
  static N melting(N surface, N snow) { return share_of(snow, patch) * contact * greater(surface - melting_point, N(0)); }

  void settle(Site const& s) {
    body.settle(s);
    falls = snowfall.empty() ? 0 : water_density * *of_hour(snowfall, s);
    clouded = falls > 0 ? 1 : *cloud;
  }
  void links(Links& book, Site const& s) const {
    body.links(book, s);
    for (int n = 0; n < segments; ++n) book.link(body.bottom(s, n), account::floor_down, down, body.bottom(s, n), given::ground);
  }
  void laws(auto& book, Site const& s) const {
    double const A = *area / segments;
    for (int n = 0; n < segments; ++n) {
      Place const top = body.top(s, n);
      book.heat(
          top, account::process,
          [&](auto surface, auto outdoors, auto snow) {
            auto const free = 1.0 - share_of(snow, patch);
            return A * (melting(surface, snow) + free * (dry_loss(surface, outdoors) + share_of(snow, film) * wet_loss(surface, outdoors)));
          },
          top, given::outdoors, snow(s));
      book.rate(
          snow(s),
          [&](auto surface, auto outdoors, auto snow) {
            auto const heat = fusion + ice_heat * greater(melting_point - outdoors, decltype(outdoors)(0));
            return (falls * (1.0 - snow / most_snow) - melting(surface, snow) / heat) / double(segments);
          },
          top, given::outdoors, snow(s));
    }
  }

  enum Mode { off, melting_snow, holding, idling };
  static constexpr std::array<std::string_view, 4> modes{"off", "melting", "holding", "idling"};
  static constexpr std::array<Traits, 4> traits{trait::none, trait::calls, trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<SnowMeltSlab>;
    auto constexpr t = measure::fine_temperature;
    auto constexpr snows = "melting: snow lies";
    std::vector<T> all{{off, melting_snow, &SnowMeltSlab::snowy, Cause::snow_began, snows},
                       {off, idling, &SnowMeltSlab::idle_cold, Cause::on_temperature, "idling: surface fell to {value}", t},
                       {idling, melting_snow, &SnowMeltSlab::snowy, Cause::snow_began, snows},
                       {idling, off, &SnowMeltSlab::idle_warm, Cause::off_temperature, "off: surface at {value}, warm enough to idle", t},
                       {melting_snow, holding, &SnowMeltSlab::warm, Cause::off_temperature, "holding: surface reached {value}", t},
                       {holding, melting_snow, &SnowMeltSlab::cold, Cause::on_temperature, "melting: surface fell to {value}", t},
                       {holding, off, &SnowMeltSlab::clear, Cause::snow_gone, "off: no snow left"}};
    for (int mode : {off, melting_snow, holding, idling})
      all.push_back({mode, mode, &SnowMeltSlab::next_hour, Cause::clock, "", measure::plain, nullptr, false});
    return all;
  }
  double mean_surface(Site const& s) const {
    double sum = 0;
    for (int n = 0; n < segments; ++n) sum += s[body.top(s, n)];
    return sum / segments;
  }
  Reading snowy(Site const& s) const { return Reading::above(s[snow(s)], 0.2); }
  Reading clear(Site const& s) const { return falls > 0 ? Reading::never() : Reading::below(s[snow(s)], 0.05); }
  Reading warm(Site const& s) const { return Reading::above(mean_surface(s), *surface + *differential / 2); }
  Reading cold(Site const& s) const { return Reading::below(mean_surface(s), *surface - *differential / 2); }
  Reading idle_cold(Site const& s) const {
    return std::isnan(*idle) ? Reading::never() : Reading::below(mean_surface(s), *idle - *differential / 2);
  }
  Reading idle_warm(Site const& s) const {
    return std::isnan(*idle) ? Reading::fact(true, mean_surface(s)) : Reading::above(mean_surface(s), *idle + *differential / 2);
  }
  Reading next_hour(Site const& s) const { return snowfall.size() < 2 ? Reading::never() : at_next_hour(s); }

  /// States at which it calls, or rests.
  void demand(bool call, std::span<double> own) const {
    std::fill(own.begin(), own.end(), call ? 250.0 : 330.0);
    own.back() = call ? 1 : 0;
  }

  void findings(Site const& s, std::vector<Finding>& list) const {
    constexpr double heap = 5;  // [kg/m²] two inches of snow
    constexpr Measure depth{unit::inch, unit::millimetre, 2, 1};
    if (s[snow(s)] < heap) return;
    list.push_back({.id = "snow_melt.snow_lies",
                    .place = "",
                    .severity = Severity::serious,
                    .figures = {{"snow lying, as water", s[snow(s)] / water_density, depth},
                                {"surface", mean_surface(s), measure::fine_temperature}},
                    .limit = Figure{"slush below", heap / water_density, depth},
                    .whose = common_practice,
                    .words = say("{} of snow (as water) on the slab, limit {} ({}). It does not melt as fast as it falls.",
                                 Amount{s[snow(s)] / water_density, depth}, Amount{heap / water_density, depth}, common_practice),
                    .order = 45,
                    .fix = "idle the slab, raise the supply temperature, or space the tubes closer."});
  }
};

}  // namespace steadyfire
