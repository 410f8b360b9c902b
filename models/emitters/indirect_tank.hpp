#pragma once
#include "sim/core/count_up.hpp"
#include "models/emitters/heated_space.hpp"
#include "models/hourly.hpp"

namespace steadyfire {

/// Storage tank heated by a coil within, with its aquastat: a load that calls by itself.
///
///   coil → layer       UA·(φ·T_in + (1 − φ)·T_cell − T_layer)     UA = UA_r/[(1 − w) + w·(Q/Q_r)^−0.8]
///   drawn water        ρ·cp·q·(T_below − T)  in each layer, T_cold below the lowest
///   warm below cool    C/60 s·(T_lower − T_upper), only where T_lower > T_upper
///   standby            UA·(T − T_unheated), shared by the layers
///
/// The coil winds down through the lower part of the tank, water entering it above. The aquastat calls when its
/// layer has fallen by the differential, and rests when that is warm.
///
/// Shape   one branch, a cell for each layer with coil; own states: layers from the top; modes satisfied and
///         heating. Has no room. Drawn heat counts as process heat, standby loss as that of piping.
/// Valid   draws are constant within an hour; inflow stirs its layer only; tank and drawn water at 1000 kg/m³
///         and 4180 J/(kg·K). The outer side of the coil, free convection, keeps its rated resistance.
/// Errors  first-order upwind: a front widens as 1/√layers; at 65 °C it counts 2 % too much heat.
/// Source  exponent 0.8 of turbulent tubes; the rest common practice, no source.
struct IndirectTank {
  Volume volume, coil_water;
  HeatCapacity metal;
  Conductance conductance, standby_loss;
  VolumeFlow rated_flow;
  Length rated_head_loss;
  Fraction water_share, coil_part, aquastat_height;
  int layers;
  Temperature setting, cold, start;
  TemperatureChange differential;
  std::vector<VolumeFlow> draws;

  int coils = 1;                             // layers with coil, from prepare()
  double UA = 0, share = 0, drawn = 0;       // of a cell [W/K], φ, ρ·cp·q [W/K]: from settle()

  static constexpr std::string_view kind = "indirect tank", family = "emitter",
                                    summary = "Indirect hot water tank with its coil and aquastat";
  static constexpr Role role = Role::emitter;
  static constexpr Caller caller = Caller::tank;
  static constexpr Usual usual{150, 170, 185, 20};
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using T = IndirectTank;
    return {field<&T::volume>("volume", gallon, 2, 2000, "hot water in the tank"),
            field<&T::conductance>("conductance", Btu_per_hour_degF, 5, 1e5, "UA of the coil at rated_flow").typical(500, 1000, 2000),
            field<&T::rated_flow>("rated_flow", gpm, 0.1, 200, "flow of the stated UA and head loss").typical(4, 8, 12),
            field<&T::rated_head_loss>("rated_head_loss", foot, 0.01, 100, "head loss of the coil at rated_flow").typical(1, 5, 12),
            field<&T::water_share>("water_side_share", percent, 0, 90, "water-side share of the coil's thermal resistance at rated_flow")
                .typical(10, 25, 50),
            field<&T::coil_part>("coil_part", percent, 5, 100, "share of the tank height that the coil covers, from the bottom")
                .typical(40, 60, 80),
            field<&T::coil_water>("water_content", gallon, 0.05, 100, "water in the coil").typical(0.5, 1.5, 3),
            field<&T::metal>("metal", Btu_per_degF, 0.1, 1000, "heat stored in the coil's metal, per degree").typical(2, 4, 8),
            field<&T::setting>("setting", degF, 60, 200, "aquastat setting: the call ends there")
                .otherwise(130)
                .as(FieldRole::setting),
            field<&T::differential>("differential", degF_change, 0.5, 60, "aquastat differential: it calls this far below")
                .otherwise(10)
                .as(FieldRole::differential),
            field<&T::aquastat_height>("aquastat_height", percent, 0, 100, "height of the aquastat, share of tank height from the bottom")
                .otherwise(35),
            list<&T::draws>("draws", gpm, 0, 200, "hot water drawn: one value, or 24 from midnight").optional(),
            field<&T::cold>("cold_water", degF, 33, 90, "incoming water temperature").typical(40, 50, 60),
            field<&T::standby_loss>("standby_loss", Btu_per_hour_degF, 0, 200, "standby loss to the unheated space, per degree")
                .typical(2, 4, 8),
            count<&T::layers>("layers", 2, 40, "water layers in the model").otherwise(8),
            field<&T::start>("start", degF, 33, 200, "tank temperature at the start of the run").otherwise(125)};
  }
  static void check(Entry const& e, Diagnostics& faults) { check_hourly(value_of<&IndirectTank::draws>(e), e.who, "draws", faults); }

  static constexpr double heat_per_volume = 1000 * 4180.0;  // [J/(m³·K)]

  void prepare() { coils = std::clamp(int(count_near(*coil_part * layers)), 1, layers); }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const { return rated_loss(flow, *rated_flow, *rated_head_loss, s); }
  Cells cells(int, Fluid const&) const { return {coils, *coil_water, *metal}; }
  std::vector<OwnState> states() const {
    std::vector<OwnState> list;
    for (int i = 0; i < layers; ++i) list.push_back({"layer " + std::to_string(i), heat_per_volume * *volume / layers, *start});
    return list;
  }
  void settle(Site const& s) {
    double const of_rated = std::abs(s.flow()) / s.fluid().density / *rated_flow;
    UA = *conductance / coils / (1 - *water_share + *water_share * std::pow(std::max(of_rated, 0.05), -0.8));
    share = entering_share(UA, s.capacity_rate());
    drawn = draws.empty() ? 0 : heat_per_volume * *of_hour(draws, s);
  }
  void coil_and_standby(Links& book, Site const& s) const {
    for (int i = 0; i < coils; ++i) {
      Place const layer = s.own(layers - coils + i);
      book.link(s.water(i), layer, UA * (1 - share));
      book.link(s.water(i), layer, UA * share, upstream(s, i), layer);
    }
    for (int i = 0; i < layers; ++i) book.link(s.own(i), account::piping, *standby_loss / layers, s.own(i), given::unheated);
  }
  void links(Links& book, Site const& s) const {
    coil_and_standby(book, s);
    for (int i = 0; i < layers; ++i)
      book.link(account::process, s.own(i), drawn, i + 1 < layers ? s.own(i + 1) : Place(given::unity), s.own(i));
    book.give(account::process, s.own(layers - 1), drawn * (*cold - 1));  // unity is 1 K: what is left to the cold water
  }
  void laws(auto& book, Site const& s) const {
    double constexpr overturn = 60;  // [s]
    double const G = heat_per_volume * *volume / layers / overturn;
    for (int i = 0; i + 1 < layers; ++i)
      book.heat(
          s.own(i + 1), s.own(i), [G](auto below, auto above) { return G * greater(below - above, decltype(below)(0)); }, s.own(i + 1),
          s.own(i));
  }

  enum Mode { satisfied, heating };
  static constexpr std::array<std::string_view, 2> modes{"satisfied", "heating"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<IndirectTank>;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{satisfied, heating, &IndirectTank::cool, Cause::on_temperature, "call starts: tank fell to {value}", t},
                      T{heating, satisfied, &IndirectTank::warm, Cause::off_temperature, "call ends: tank reached {value}", t},
                      T{satisfied, satisfied, &IndirectTank::next_hour, Cause::clock, "", measure::plain, nullptr, false},
                      T{heating, heating, &IndirectTank::next_hour, Cause::clock, "", measure::plain, nullptr, false}};
  }
  double felt(Site const& s) const { return s[s.own(std::clamp(int((1 - *aquastat_height) * layers), 0, layers - 1))]; }
  Reading cool(Site const& s) const { return Reading::below(felt(s), *setting - *differential); }
  Reading warm(Site const& s) const { return Reading::above(felt(s), *setting); }
  Reading next_hour(Site const& s) const { return draws.size() < 2 ? Reading::never() : at_next_hour(s); }

  /// States at which it calls, or rests.
  void demand(bool call, std::span<double> own) const { std::fill(own.begin(), own.end(), call ? 280.0 : 380.0); }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double constexpr patience = 2 * 3600;  // [s]
    if (s.mode() != heating || s.time_in_mode() < patience || felt(s) > *setting) return;
    list.push_back({.id = "indirect_tank.never_warm",
                    .place = "",
                    .severity = Severity::serious,
                    .figures = {{"tank at its aquastat", felt(s), measure::fine_temperature}},
                    .limit = Figure{"setting", *setting, measure::temperature},
                    .whose = common_practice,
                    .words = say("called for {}; tank {}, setpoint {}.", Amount{patience, measure::hours},
                                 Amount{felt(s), measure::temperature}, Amount{*setting, measure::temperature}),
                    .order = 50,
                    .fix = "give it hotter water, more flow through the coil, or less draw."});
  }
};

}  // namespace steadyfire
