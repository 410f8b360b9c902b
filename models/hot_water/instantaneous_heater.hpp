#pragma once
#include "models/friction.hpp"
#include "models/hot_water/hot_water_control.hpp"

namespace steadyfire {

/// A second heater beside the combi boiler, which comes when the first cannot keep its set point.
///
///   fire' = (clamp(W·(set point − T_entering)/(η·input), least, 1) − fire)/3 s       heat to water = η·fire·input
///
/// Its way opens when the first has made hot water for a while and still stays below the set point; it shuts with the draw.
/// The burner lights from its start flow on, after purge and ignition, and stops below its stop flow or far above its set point.
///
/// Shape   one branch with cells, shut unless open; own states: felt flow [L/min], fire. Modes shut, waiting, ready, lighting, burning.
/// Valid   one efficiency at any fire; how the draw is shared between both follows from their head losses.
/// Source  common practice, no source.
struct InstantaneousHeater {
  Power input, minimum_input;
  Fraction efficiency;
  Temperature set_point;
  TemperatureChange call_below;
  Time patience, ignition_delay;
  VolumeFlow start_flow, stop_flow, rated_flow;
  Length rated_head_loss;
  Volume water;
  Reference lead, lead_sensor;

  double least = 0;  // share of input, from prepare()

  static constexpr std::string_view kind = "instantaneous heater", family = "second heater",
                                    summary = "Second tankless water heater, staged after the boiler";
  static constexpr std::array branches{Branch{"cold", "hot"}};
  static std::vector<Field> schema() {
    using namespace unit;
    using H = InstantaneousHeater;
    return {field<&H::input>("input", kBtu_per_hour, 5, 5000, "maximum input"),
            field<&H::minimum_input>("minimum_input", kBtu_per_hour, 1, 5000, "minimum fire: lowest steady input"),
            field<&H::efficiency>("efficiency", percent, 40, 100, "output as a share of input").typical(80, 85, 96),
            field<&H::set_point>("set_point", degF, 70, 180, "hot water setpoint").optional("the boiler's hot water setpoint"),
            field<&H::call_below>("call_below", degF_change, 1, 60, "starts when the boiler's hot water is this far below setpoint")
                .otherwise(6),
            field<&H::patience>("call_after", second, 1, 3600, "time below that temperature").otherwise(60),
            field<&H::ignition_delay>("ignition_delay", second, 0, 120, "purge and ignition time").typical(3, 6, 15),
            field<&H::start_flow>("start_flow", gpm, 0.05, 10, "flow that starts it").typical(0.4, 0.5, 0.8),
            field<&H::stop_flow>("stop_flow", gpm, 0.02, 10, "flow that stops it").typical(0.25, 0.4, 0.6),
            field<&H::rated_flow>("rated_flow", gpm, 0.1, 100, "flow of the stated head loss").otherwise(5),
            field<&H::rated_head_loss>("rated_head_loss", foot, 0.1, 200, "head loss at rated_flow").typical(10, 20, 40),
            field<&H::water>("water_content", gallon, 0.05, 20, "water in the heater").typical(0.15, 0.3, 0.8),
            reference<&H::lead>("lead", "hot water control", "hot water control of the boiler").optional(),
            reference<&H::lead_sensor>("lead_sensor", "sensor", "sensor of the boiler's hot water temperature").optional()};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    HotWaterControl::check_flows<InstantaneousHeater>(e, faults);
    auto const &most = value_of<&InstantaneousHeater::input>(e), &low = value_of<&InstantaneousHeater::minimum_input>(e);
    if (!most.numbers.empty() && !low.numbers.empty() && low.numbers[0] > most.numbers[0])
      faults.add({"E223", low.at, e.who + ": minimum_input is above input", "minimum_input at most input",
          "swap or correct the two inputs", most.at});
  }
  void prepare() {
    least = *minimum_input / *input;
    if (std::isnan(*set_point)) set_point = {unit::degF.to_si(120)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const k = s.fluid().density * 9.80665 * *rated_head_loss / (*rated_flow * *rated_flow);
    Flow const Q = flow / s.local().density;
    return k * square_with_sign(Q);
  }
  Way way(int, Site const& s) const { return s.mode() >= ready ? Way::forward : Way::shut; }
  Cells cells(int, Fluid const&) const { return {3, *water, 0}; }
  std::vector<OwnState> states() const { return {{"flow", 0, 0, 0.5}, {"fire", 0, least, 0.01}}; }
  void links(Links& book, Site const& s) const {
    HotWaterControl::toward(book, s.own(), std::max(0.0, s.flow()) / s.local().density / HotWaterControl::litres_per_minute, 1);
  }
  void laws(auto& book, Site const& s) const {
    double const power = s.mode() == burning ? *input : 0, eta = *efficiency, free = s.mode() == burning ? 1 / 3.0 : 0,
                 per_degree = s.capacity_rate() / (eta * *input), set = *set_point, low = least;
    book.spread(account::fuel, s.water(0), s.cells(), [=](auto fire) { return power * eta * fire; }, s.own(1));
    book.heat(account::fuel, account::flue, [=](auto fire) { return power * (1 - eta) * fire; }, s.own(1));
    book.rate(s.own(1), [=](auto fire, auto entering) {
      using N = decltype(fire);
      return free * (within(per_degree * (set - entering), N(low), N(1)) - fire);
    }, s.own(1), s.entering());
  }

  enum Mode { shut, waiting, ready, lighting, burning };
  static constexpr std::array<std::string_view, 5> modes{"shut", "waiting", "ready", "lighting", "burning"};
  static constexpr std::array<Traits, 5> traits{trait::none, trait::none, trait::none, trait::burns | trait::ignites, trait::burns};
  static auto transitions() {
    using T = Transition<InstantaneousHeater>;
    using H = InstantaneousHeater;
    auto constexpr ended = "second heater off: draw ended";
    auto constexpr f = measure::flow;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{shut, waiting, &H::drawn, Cause::draw_began, "", measure::plain, nullptr, false},
                      T{waiting, shut, &H::undrawn, Cause::draw_ended, "", measure::plain, nullptr, false},
                      T{waiting, ready, &H::short_of_heat, Cause::on_temperature, "second heater ready: first gives {value}", t},
                      T{ready, shut, &H::undrawn, Cause::draw_ended, ended},
                      T{ready, lighting, &H::flows, Cause::draw_began, "second heater lighting: flow {value}, starts at {limit}", f},
                      T{lighting, shut, &H::undrawn, Cause::draw_ended, ended},
                      T{lighting, burning, &H::lit, Cause::timer, "second heater: flame on ({value})", measure::seconds,
                        &H::begin_at_least},
                      T{burning, shut, &H::undrawn, Cause::draw_ended, ended},
                      T{burning, ready, &H::trickles, Cause::flow_lost, "second heater off: flow {value}, stops at {limit}", f},
                      T{burning, ready, &H::hot, Cause::off_temperature, "second heater off: water reached {value}", t}};
  }
  static constexpr double off_above = 8, on_below = 2;  // [K]
  Reading drawn(Site const& s) const { return Reading::fact(lead && s.calls(lead)); }
  Reading undrawn(Site const& s) const { return Reading::fact(!(lead && s.calls(lead))); }
  Reading short_of_heat(Site const& s) const {
    if (!lead_sensor) return Reading::never();
    double const due = s.since() + *patience;
    if (s.time() < due - 1e-6) return {-1, 0, due};  // not before; then the temperature decides
    return Reading::below(s[s.of(lead_sensor)], *set_point - *call_below);
  }
  Reading felt(Site const& s, bool above, VolumeFlow limit) const {
    double const now = s[s.own()], at = *limit / HotWaterControl::litres_per_minute;
    Reading r = above ? Reading::above(now, at) : Reading::below(now, at);
    return r.value = now * HotWaterControl::litres_per_minute, r.limit = *limit, r;
  }
  Reading flows(Site const& s) const {
    auto const cool = Reading::below(s[s.outlet_cell()], *set_point - on_below), enough = felt(s, true, start_flow);
    return cool.margin < 0 ? Reading{cool.margin, enough.value, Field::none, enough.limit} : enough;
  }
  Reading trickles(Site const& s) const { return felt(s, false, stop_flow); }
  Reading hot(Site const& s) const { return Reading::above(s[s.outlet_cell()], *set_point + off_above); }
  Reading lit(Site const& s) const { return Reading::after(s, *ignition_delay); }
  void begin_at_least(Site const&, std::span<double> own) const { own[1] = least; }
};

}  // namespace steadyfire
