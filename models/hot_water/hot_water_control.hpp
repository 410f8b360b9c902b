#pragma once
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Control of hot water made as it is drawn, with its flow sensor in the cold line before the plates.
///
///   felt' = (Q − felt)/lag        serves from felt > start flow until felt < stop flow
///   wanted' = (ρ·cp·felt·(set point − T_cold) − wanted)/lag        the heat that the draw takes
///   waited' = 1 while hot water goes first and heating calls, else 0
///
/// Priority: heating waits; when it has waited for the longest wait it has its turn, and hot water runs cold meanwhile.
/// Shared: both are served, and the boiler is held as hot as either needs.
///
/// Shape   one branch, the sensor; own states: felt flow [L/min], heat wanted [kW], heating's wait [min].
///         It calls while hot water is served.
/// Valid   head loss of the sensor 0.1 kPa at 1 kg/s, as good as none.
/// Errors  ρ·cp at 4.15 MJ/(m³·K) in the heat wanted: it only leads the fire, which follows the outlet in the end.
/// Source  thresholds and lag: common practice, no source.
struct HotWaterControl {
  int operation;
  Temperature set_point;
  VolumeFlow start_flow, stop_flow;
  Time sensor_lag, longest_wait, heating_turn;
  Power least_output;
  Reference heating;
  std::string floors;
  bool recirculates;

  enum Operation { priority, shared };
  static constexpr std::string_view kind = "hot water control", family = "hot water control",
                                    summary = "Hot water control: flow switch and priority";
  static constexpr Role role = Role::relay;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using C = HotWaterControl;
    return {choice<&C::operation>("operation", {"priority", "shared"}, "priority: heating waits for hot water; shared: both at once")
        .otherwise(0),
            field<&C::set_point>("set_point", degF, 70, 180, "hot water setpoint").otherwise(120).as(FieldRole::hot_water_set_point),
            field<&C::start_flow>("start_flow", gpm, 0.05, 10, "flow that starts hot water (flow switch on)").typical(0.4, 0.5, 0.8),
            field<&C::stop_flow>("stop_flow", gpm, 0.02, 10, "flow that stops hot water (flow switch off)").typical(0.25, 0.4, 0.6),
            field<&C::sensor_lag>("sensor_lag", second, 0.1, 30, "time lag of the flow switch").typical(0.5, 1, 3),
            field<&C::longest_wait>("longest_wait", minute, 1, 1440, "longest wait of heating under priority").otherwise(60),
            field<&C::heating_turn>("heating_turn", minute, 1, 240, "heating time after that wait").otherwise(20),
            field<&C::least_output>("least_output", kBtu_per_hour, 0, 5000, "hot water output at minimum fire, for findings").optional(),
            reference<&C::heating>("heating", "control", "control that calls for heating").optional("no heating"),
            text<&C::floors>("floors", "floor zones without mixing or a temperature limit, for findings").optional("none"),
            flag<&C::recirculates>("recirculates", "recirculation passes the flow switch, for findings").otherwise(0)};
  }
  static constexpr double heat_per_volume = 4.15e6;                    // [J/(m³·K)]
  static constexpr double litres_per_minute = 1e-3 / 60;               // [m³/s]
  template <class K>  // of a table that states them
  static void check_flows(Entry const& e, Diagnostics& faults) {
    auto const &start = value_of<&K::start_flow>(e), &stop = value_of<&K::stop_flow>(e);
    if (start.numbers.empty() || stop.numbers.empty() || stop.numbers[0] < start.numbers[0]) return;
    bool const at_stop = stop.given;
    faults.add({"E340", at_stop ? stop.at : start.at,
                e.who + ": stop_flow, " + show(stop.numbers[0], measure::flow, UnitSystem::us) + ", is not below start_flow, " +
                    show(start.numbers[0], measure::flow, UnitSystem::us),
                "stop_flow below start_flow", "lower stop_flow", at_stop && start.given ? start.at : Position{}});
  }
  static void check(Entry const& e, Diagnostics& faults) { check_flows<HotWaterControl>(e, faults); }

  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 100.0 * flow * abs(flow) + flow; }
  std::vector<OwnState> states() const { return {{"flow", 0, 0, 0.5}, {"heat wanted", 0, 0, 2}, {"heating waited", 0, 0, 0.1}}; }
  void links(Links& book, Site const& s) const {
    double const Q = std::max(0.0, s.flow()) / s.local().density;
    toward(book, s.own(), Q / litres_per_minute, 1 / *sensor_lag);
    book.drift(s.own(2), s.mode() == serving && operation == priority && heating_calls(s) ? 1 / 60.0 : 0);
  }
  /// own' = rate·(value − own)
  static void toward(Links& book, Place own, double value, double rate) {
    book.follow(own, given::unity, rate), book.drift(own, rate * (value - 1));
  }
  void laws(auto& book, Site const& s) const {
    double constexpr kilo = 1e3;
    double const per_flow = heat_per_volume * litres_per_minute / kilo, set = *set_point, lag = *sensor_lag;
    book.rate(s.own(1), [=](auto wanted, auto felt, auto cold) {
      return (per_flow * felt * greater(set - cold, decltype(cold)(0)) - wanted) / lag;
    }, s.own(1), s.own(), s.entering());
  }

  enum Mode { idle, serving, heating_has_its_turn, sharing };
  static constexpr std::array<std::string_view, 4> modes{"idle", "hot water", "heating's turn", "hot water and heating"};
  static constexpr std::array<Traits, 4> traits{trait::none, trait::calls | trait::serves_alone, trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<HotWaterControl>;
    using C = HotWaterControl;
    auto constexpr f = measure::flow;
    auto constexpr m = measure::minutes;
    auto constexpr ended = "hot water off: flow {value}, stops at {limit}", alone = "hot water alone: heating call ended";
    return std::array{T{idle, serving, &C::drawn, Cause::draw_began, "hot water on: flow {value}, starts at {limit}", f, &C::begin_to_wait},
                      T{serving, idle, &C::undrawn, Cause::draw_ended, ended, f},
                      T{serving, sharing, &C::joined, Cause::call, "hot water and heating: heating calls too"},
                      T{serving, heating_has_its_turn, &C::waited, Cause::heating_turn, "heating gets a turn: it waited {value}", m},
                      T{sharing, idle, &C::undrawn, Cause::draw_ended, ended, f},
                      T{sharing, serving, &C::left, Cause::call_ended, alone},
                      T{heating_has_its_turn, idle, &C::turn_over, Cause::timer, "hot water priority again: heating ran {value}", m,
                        &C::begin_to_wait},
                      T{heating_has_its_turn, idle, &C::undrawn, Cause::draw_ended, ended, f},
                      T{heating_has_its_turn, idle, &C::left, Cause::call_ended, "hot water priority again: heating call ended"}};
  }
  bool heating_calls(Site const& s) const { return heating && s.calls(heating); }
  /// A reading of the felt flow with its value in m³/s.
  Reading felt(Site const& s, bool above, VolumeFlow limit) const {
    double const now = s[s.own()], at = *limit / litres_per_minute;
    Reading r = above ? Reading::above(now, at) : Reading::below(now, at);
    return r.value = now * litres_per_minute, r.limit = *limit, r;
  }
  Reading drawn(Site const& s) const { return felt(s, true, start_flow); }
  Reading undrawn(Site const& s) const { return felt(s, false, stop_flow); }
  Reading joined(Site const& s) const { return Reading::fact(operation == shared && heating_calls(s)); }
  Reading left(Site const& s) const { return Reading::fact(!heating_calls(s)); }
  Reading waited(Site const& s) const {
    if (operation != priority || !heating_calls(s)) return Reading::never();
    Reading r = Reading::above(s[s.own(2)], *longest_wait / 60);
    return r.value = s[s.own(2)] * 60, r;
  }
  Reading turn_over(Site const& s) const { return Reading::after(s, *heating_turn); }
  void begin_to_wait(Site const&, std::span<double> own) const { own[2] = 0; }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double const Q = s.flow() / s.local().density, noticed = 0.02 * unit::gpm.scale;
    Measure constexpr fine{unit::gpm, unit::litre_per_second, 2, 3};
    if (s.mode() == idle && Q > noticed && Q < *start_flow && s[s.own()] * litres_per_minute <= Q)
      list.push_back({.id = "dhw.below_start_flow",
                      .place = "",
                      .severity = Severity::minor,
                      .figures = {{"flow", Q, fine}},
                      .limit = Figure{"start_flow", *start_flow, fine},
                      .whose = "start flow of the flow switch",
                      .words = say("draw {}; the burner starts at {}. The water stays cold.", Amount{Q, fine}, Amount{*start_flow, fine}),
                      .order = 45,
                      .fix = "open the tap further, or choose a boiler that starts at less flow."});
    if ((s.mode() == serving || s.mode() == sharing) && *least_output > 0 && Q > noticed) {
      double const rise = *set_point - s[s.entering()], least = *least_output / (heat_per_volume * std::max(rise, 1.0));
      double const load = Q * heat_per_volume * std::max(rise, 0.0);
      double constexpr comes_back = 18;  // [K] a rise so small is no cold water's
      if (Q < least && recirculates && rise > 2 && rise < comes_back)
        list.push_back({.id = "dhw.recirculation_cycles",
                        .place = "",
                        .severity = Severity::minor,
                        .figures = {{"load", load, measure::power}, {"flow", Q, fine}},
                        .limit = Figure{"least_output", *least_output, measure::power},
                        .whose = "minimum fire",
                        .words = say("recirculation or a storage tank takes {}, minimum fire gives {}. The burner cycles.",
                                     Amount{load, measure::power}, Amount{*least_output, measure::power}),
                        .order = 36,
                        .fix = "insulate the loop, run it by temperature or on demand, or add a storage tank."});
      else if (Q < least && !(recirculates && rise < comes_back))
        list.push_back({.id = "dhw.below_least_flow",
                        .place = "",
                        .severity = Severity::minor,
                        .figures = {{"flow", Q, fine}, {"rise", rise, measure::temperature_change}},
                        .limit = Figure{"least_steady_flow", least, fine},
                        .whose = "minimum fire and the rise",
                        .words = say("{} through the heater at {} rise is less than minimum fire; steady hot water needs {} there. "
                                     "The burner cycles.",
                                     Amount{Q, fine}, Amount{rise, measure::temperature_change}, Amount{least, fine}),
                        .order = 35,
                        .fix = "a boiler with a lower minimum fire, or a storage tank."});
    }
    if (operation == shared && s.mode() == sharing && !floors.empty()) {
      double constexpr as_hot = 6;  // [K] that the plates need at the least above their outlet
      list.push_back({.id = "dhw.shared_floor",
                      .place = "",
                      .severity = Severity::serious,
                      .figures = {{"set_point", *set_point, measure::temperature}},
                      .limit = Figure{"boiler_held_at_least", *set_point + as_hot, measure::temperature},
                      .whose = "hot water setpoint, and what the heat exchanger needs above it",
                      .words = say("shared operation keeps the boiler at {} or more, and zone {} takes that water unmixed.",
                                   Amount{*set_point + as_hot, measure::temperature}, floors),
                      .order = 80,
                      .fix = say("add a mixing valve for {}. Priority alone does not protect it: after each draw it gets what is left "
                                 "in the boiler.", floors)});
    }
  }
};

}  // namespace steadyfire
