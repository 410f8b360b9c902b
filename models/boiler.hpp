#pragma once
#include "models/boiler_data.hpp"
#include "models/flue_side.hpp"
#include "models/friction.hpp"
#include "models/hot_water/hot_water_fire.hpp"

namespace steadyfire {

/// Modulating boiler: heat exchanger, burner sequence and firing control.
///
///   wanted fire = clamp(e/band + I, least, allowed)     e = target − T_sensor
///   I' = (e/band + (clamp − unclamped))/integral time   fire' = clamp((wanted − fire)/2 s, ±ramp)
///   allowed     = 1, falling over the last fifth of the rise limit above it
///   heat to water = η(T_flue, T_intake)·fire·input      T_flue = T_entering + approach·fire^m     m = 0.8, or by the approach stated
///                                                       at minimum fire; η between those of the excess air at full and least fire
///   purge         = purge flow·(T_water − T_intake) of air, and what it dries: ṁ_air·(w_sat(T_water) − w)·h_fg while condensate
///                   is held; between burns the draft through the flue does the same
///   condensate held' = what condenses·(1 − held/most) − what dries
///
/// Hot water, while its control serves, has bounds, sensor and target of its own, and the draw leads the fire: HotWaterFire.
/// The rise limit is heating's. While both are served the larger of the two wanted fires counts. Where the maker's rating of hot
/// water is stated, η is that one while hot water is served, at any fire.
///
/// Fire is a share of the larger of the two inputs. Hot water skips the minimum off time and the hold at low fire,
/// not the prepurge and the ignition.
///
/// Shape   one branch with cells; own states: memory I, fire, and with hot water whether it is served; nine modes.
/// Valid   η by combustion chemistry (models/combustion.hpp): flue gas saturated at T_flue below its
///         dew point, 0.3 % points; heat enters all cells in equal shares. Air of a purge leaves at the temperature of the
///         water, saturated while condensate is held; the draft does not follow its own temperature; igniting burns with the
///         air of its fire. Altitude lowers pressure and dew point; what its derate takes is already off the
///         inputs of a piece: take_derate().
/// Source  ṁ_air by stoichiometry; 0.8: gas side of an exchanger whose coefficient rises a little less than its flow; approach
///         and all typicals: common practice, no source.
struct Boiler : BoilerData, FlueSide {
  double full = 0, least = 0, most = 0, ignition = 0, dhw_least = 0, dhw_most = 0;  // input [W]; shares of it
  double dhw_share = Field::none;  // of the input into hot water, by its maker; NaN where not stated

  static constexpr std::string_view kind = "boiler", family = "boiler", summary = "Modulating boiler with its burner sequence";
  static constexpr Role role = Role::boiler;
  static constexpr Home home = Home::single;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};

  void prepare() {
    dhw_share = rated_share(*this);
    double const dhw = std::isnan(*dhw_input) ? *heating_input : *dhw_input;
    full = hot_water ? std::max(*heating_input, dhw) : *heating_input;
    least = *minimum_input / full, most = *heating_input / full, ignition = std::clamp(*ignition_fire * most, least, most);
    dhw_most = dhw / full, dhw_least = (std::isnan(*dhw_minimum) ? *minimum_input : *dhw_minimum) / full;
    prepare_flue(*this, full, lowest());
  }
  double lowest() const { return hot_water ? std::min(least, dhw_least) : least; }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const rho = s.local().density, k = s.fluid().density * 9.80665 * *rated_head_loss / (*rated_flow * *rated_flow);
    Flow const Q = flow / rho;
    return k * square_with_sign(Q);
  }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, *metal, true}; }
  std::vector<OwnState> states() const {
    std::vector<OwnState> list{{"fire memory", 0, least, 0.01}, {"fire", 0, least, 0.01, 0, StateRole::fire}};
    if (hot_water) list.push_back({"on hot water", 0, 0, 0});
    list.push_back({"condensate held", 0, 0, 0.01});
    return list;
  }
  Place condensate(Site const& s) const { return s.own(hot_water ? 3 : 2); }
  bool serves(Site const& s) const { return hot_water && s.calls(hot_water); }
  /// Heating too, or heating alone: under priority it waits while hot water is served.
  bool heats(Site const& s) const { return (!call || s.calls(call)) && (!serves(s) || s.mode(hot_water) == HotWaterControl::sharing); }
  Place hot_water_place(Site const& s) const { return hot_water_sensor ? s.of(hot_water_sensor) : s.outlet_cell(); }

  Place measured(Site const& s) const { return sensor ? s.of(sensor) : s.outlet_cell(); }
  double wanted(Site const& s) const { return target ? s[s.of(target, StateRole::wanted)] : *fixed_target; }
  bool burning(int mode) const { return mode == igniting || mode == low_fire || mode == modulating; }
  Place air(Site const&) const { return intake == 0 ? given::outdoors : given::unheated; }
  bool purges(int mode) const { return mode == purging || mode == postpurging || mode == tripped; }
  /// Heat capacity rate of the air that passes the unlit exchanger [W/K].
  double passing_air(int mode) const { return burning(mode) ? 0 : air_full * (purges(mode) ? *purge_flow : *off_draft); }

  void links(Links& book, Site const& s) const {
    double const each = passing_air(s.mode()) / s.cells();
    bool const blows = burning(s.mode()) || purges(s.mode());
    double const watts = blows ? *electric_firing : *electric_standby,
                 warms = burning(s.mode()) ? *electric_to_water * (*electric_firing - *electric_standby) : 0;
    for (int i = 0; i < s.cells(); ++i) {
      book.link(s.water(i), account::jacket, *jacket / s.cells(), s.water(i), given::unheated);
      book.link(s.water(i), account::flue, each, s.water(i), air(s));
      book.give(account::motor, s.water(i), warms / s.cells());
    }
    book.give(account::electricity, account::motor, watts);
    // All that burns goes to the flue; the law below takes from there what the water gets.
    double const input = burning(s.mode()) ? full : 0;
    book.link(account::fuel, account::flue, input, s.own(1), given::unity), book.give(account::fuel, account::flue, input);
  }
  void laws(auto& book, Site const& s) const {
    double const input = burning(s.mode()) ? full : 0;
    double constexpr h_fg = 2.43e6, humid = 0.004;  // [J/kg], [kg/kg] of the air that comes in
    double const dry_air = passing_air(s.mode()) / Combustion::air_heat_capacity * Combustion::air_molar_mass;  // [kg/s]
    double const most_held = std::max(held_most, 1e-9);
    auto const drying = [&](auto water, auto held) {  // [kg/s], over the part that is still wet
      using N = decltype(held);
      auto const p = saturation_pressure(water);
      return dry_air * greater(0.622 * p / (chemistry.pressure - p) - humid, 0.0 * water) * within(held / most_held, N(0.0), N(1.0));
    };
    Place const I = s.own(), f = s.own(1), in = s.entering(), out = s.outlet_cell(), seen = measured(s),
                goal = target ? s.of(target, StateRole::wanted) : given::unity;
    double const fixed = *fixed_target;
    bool const has_target = bool(target);
    Place const wet = condensate(s), middle = s.water(s.cells() / 2);
    bool const is_rated = serves(s) && !std::isnan(dhw_share);
    double const rated = is_rated ? dhw_share : 0;
    book.spread(account::flue, s.water(0), s.cells(),
                [&](auto fire, auto entering, auto air_in, auto water, auto held) {
                  using N = decltype(fire);
                  N const burnt = input > 0 && is_rated ? N(input * rated * fire + 0.0 * (entering + air_in))
                                  : input > 0           ? N(input * fire * efficiency(fire, entering, air_in))
                                                        : N(0.0 * (fire + entering + air_in));
                  return dry_air > 0 ? N(burnt - h_fg * drying(water, held)) : N(burnt + 0.0 * water + 0.0 * held);
                },
                f, in, air(s), middle, wet);
    book.rate(wet,
              [&](auto fire, auto entering, auto water, auto held) {
                using N = decltype(fire);
                N const gained =
                    input > 0 ? N(input * fire * condensing(fire, entering) * (1.0 - held / most_held)) : N(0.0 * (fire + entering));
                return dry_air > 0 ? N(gained - drying(water, held)) : N(gained + 0.0 * water + 0.0 * held);
              },
              f, in, middle, wet);
    double const free = s.mode() == modulating ? 1 : 0;
    auto const unclamped = [&](auto memory, auto t_seen, auto t_goal) {
      return ((has_target ? t_goal : t_goal * 0.0 + fixed) - t_seen) / *band + memory;
    };
    auto const allowed = [&](auto t_in, auto t_out) {
      using N = decltype(t_in);
      return within(1.0 - (t_out - t_in - *rise_limit) / (0.2 * *rise_limit), N(least), N(most));
    };
    // What the limits cut off is taken out of the memory ten times as fast as errors go in: the fire leaves
    // its limit when the water closes in on the target, not after it has gone past.
    double constexpr tracking = 10;
    if (hot_water) {  // each of the two controls gives its wanted fire; the larger one leads where both are served
      bool const hot = serves(s), heat = heats(s);
      HotWaterFire const by_draw{full, dhw_least, dhw_most, *high_limit, *set_point};
      Place const hot_at = hot_water_place(s), flow_at = s.of(hot_water), wanted_at = s.of(hot_water, 1);
      double const fastest = hot ? *dhw_ramp : *ramp;
      book.rate(I, [&](auto memory, auto t_seen, auto t_goal, auto t_in, auto t_out, auto t_hot, auto felt, auto wanted) {
        using N = decltype(memory);
        if (hot) return free * by_draw.memory_rate(memory, t_out, t_hot, felt, wanted) + 0.0 * (t_seen + t_goal + t_in);
        N const u = unclamped(memory, t_seen, t_goal), e = u - memory;
        return free * (e + (within(u, N(least), allowed(t_in, t_out)) - u) * tracking) / *integral_time + 0.0 * (t_hot + felt + wanted);
      }, I, seen, goal, in, out, hot_at, flow_at, wanted_at);
      book.rate(f, [&](auto fire, auto memory, auto t_seen, auto t_goal, auto t_in, auto t_out, auto t_hot, auto felt, auto wanted) {
        using N = decltype(fire);
        N u(0);
        if (hot) u = by_draw.fire(memory, t_out, t_hot, felt, wanted);
        else u = within(unclamped(memory, t_seen, t_goal), N(least), allowed(t_in, t_out));
        // Heating has no memory of its own meanwhile: its error alone asks.
        if (hot && heat) u = greater(u, by_draw.limited(unclamped(N(0), t_seen, t_goal), t_out));
        return free * within((u - fire) / 2.0, N(-fastest), N(fastest)) + 0.0 * (memory + t_seen + t_goal + t_in + t_hot + felt + wanted);
      }, f, I, seen, goal, in, out, hot_at, flow_at, wanted_at);
      return;
    }
    book.rate(I, [&](auto memory, auto t_seen, auto t_goal, auto t_in, auto t_out) {
      using N = decltype(memory);
      N const u = unclamped(memory, t_seen, t_goal), e = u - memory;
      return free * (e + (within(u, N(least), allowed(t_in, t_out)) - u) * tracking) / *integral_time;
    }, I, seen, goal, in, out);
    book.rate(f, [&](auto fire, auto memory, auto t_seen, auto t_goal, auto t_in, auto t_out) {
      using N = decltype(fire);
      N const u = within(unclamped(memory, t_seen, t_goal), N(least), allowed(t_in, t_out));
      return free * within((u - fire) / 2.0, N(-*ramp), N(*ramp));
    }, f, I, seen, goal, in, out);
  }

  enum Mode { ready, igniting, purging, low_fire, modulating, postpurging, resting, too_hot, tripped };
  static constexpr std::array<std::string_view, 9> modes{"ready",      "igniting",  "prepurge",    "low fire",
                                                         "modulating", "postpurge", "minimum off", "high limit", "postpurge, high limit"};
  static constexpr std::array<Traits, 9> traits{trait::none,  trait::burns | trait::ignites, trait::none, trait::burns,
                                                  trait::burns, trait::none,                   trait::none, trait::none, trait::none};
  static auto transitions() {
    using T = Transition<Boiler>;
    using B = Boiler;
    auto constexpr t = measure::fine_temperature;
    auto constexpr s = measure::seconds;
    auto constexpr off = postpurging;
    auto constexpr drawn = "hot water draw: burner starts", purged = "ignition: prepurge done ({value})",
                   uncalled = "burner off: last call ended", starved = "burner off: boiler flow {value}, minimum {limit}",
                   hot = "burner off: water reached {value}, {beyond} above target",
                   limit = "burner off: high limit, water reached {value}";
    return std::array{T{ready, purging, &B::hot_water_wanted, Cause::draw_began, drawn},
                      T{ready, purging, &B::cold, Cause::on_temperature, "burner start: water fell to {value}, {beyond} below target", t},
                      T{purging, ready, &B::uncalled, Cause::call_ended, "burner start stopped: last call ended"},
                      T{purging, igniting, &B::purged_for_hot_water, Cause::timer, purged, s, &B::ignite},
                      T{purging, igniting, &B::purged, Cause::timer, purged, s, &B::ignite},
                      T{igniting, tripped, &B::limit, Cause::high_limit, limit, t},
                      T{igniting, off, &B::uncalled, Cause::call_ended, uncalled},
                      T{igniting, off, &B::starved, Cause::flow_lost, starved, measure::flow},
                      T{igniting, off, &B::hot, Cause::off_temperature, hot, t},
                      T{igniting, modulating, &B::lit_for_hot_water, Cause::timer, "flame on: modulating for hot water ({value})", s,
                        &B::take_over},
                      T{igniting, low_fire, &B::lit, Cause::timer, "flame on: going to minimum fire ({value})", s, &B::turn_down},
                      T{low_fire, tripped, &B::limit, Cause::high_limit, limit, t},
                      T{low_fire, off, &B::uncalled, Cause::call_ended, uncalled},
                      T{low_fire, off, &B::starved, Cause::flow_lost, starved, measure::flow},
                      T{low_fire, off, &B::hot, Cause::off_temperature, hot, t},
                      T{low_fire, modulating, &B::turned, Cause::timer, "modulating for hot water: its valve has turned ({value})", s,
                        &B::take_over},
                      T{low_fire, modulating, &B::held, Cause::timer, "modulating: minimum fire hold over ({value})", s, &B::turn_down},
                      T{modulating, tripped, &B::limit, Cause::high_limit, limit, t},
                      T{modulating, off, &B::uncalled, Cause::call_ended, uncalled},
                      T{modulating, off, &B::starved, Cause::flow_lost, starved, measure::flow},
                      T{modulating, off, &B::hot, Cause::off_temperature, hot, t},
                      T{modulating, low_fire, &B::hot_water_begins, Cause::draw_began,
                        "hot water draw: minimum fire until its valve has turned",
                        measure::plain, &B::turn_to_lowest},
                      T{modulating, modulating, &B::hot_water_ends, Cause::draw_ended, "hot water draw ended: back to heating",
                        measure::plain, &B::take_over},
                      T{tripped, too_hot, &B::postpurged, Cause::timer, "locked out by the high limit: postpurge done ({value})", s},
                      T{postpurging, purging, &B::hot_water_wanted, Cause::draw_began, drawn},
                      T{postpurging, resting, &B::postpurged, Cause::timer, "waiting: postpurge done ({value}), minimum off time runs", s},
                      T{too_hot, resting, &B::cooled, Cause::high_limit_reset, "high limit reset: water cooled to {value}", t},
                      T{resting, purging, &B::hot_water_wanted, Cause::draw_began, drawn},
                      T{resting, ready, &B::rested, Cause::timer, "ready: minimum off time over, {value} after the burn",
                        measure::minutes}};
  }
  /// It lights while water is drawn and not yet hot, whatever it did before.
  Reading hot_water_wanted(Site const& s) const {
    double constexpr below = 2;  // [K]
    if (!serves(s) || flow(s) < *least_flow || s[s.outlet_cell()] > *high_limit - *high_limit_differential) return Reading::never();
    return Reading::below(s[hot_water_place(s)], *set_point - below);
  }
  /// Words tell how far from the target it tripped, not from where it trips.
  static Reading told_beside(double target, Reading r) { return r.limit = target, r; }
  Reading cold(Site const& s) const {
    if (!heats(s) || flow(s) < *least_flow) return Reading::never();
    return told_beside(wanted(s), Reading::below(s[measured(s)], wanted(s) - *on_below));
  }
  Reading hot(Site const& s) const {
    auto const heating = told_beside(wanted(s), Reading::above(s[measured(s)], wanted(s) + *off_above));
    if (!serves(s)) return heating;
    auto const drawn = told_beside(*set_point, Reading::above(s[hot_water_place(s)], *set_point + *dhw_off_above));
    return heats(s) && heating.margin < drawn.margin ? heating : drawn;  // both must be hot
  }
  Reading limit(Site const& s) const { return Reading::above(s[s.outlet_cell()], *high_limit); }
  Reading cooled(Site const& s) const { return Reading::below(s[s.outlet_cell()], *high_limit - *high_limit_differential); }
  Reading uncalled(Site const& s) const { return Reading::fact(call && !s.calls(call) && !serves(s)); }
  Reading hot_water_begins(Site const& s) const { return Reading::fact(serves(s) && s[s.own(2)] < 0.5); }
  Reading hot_water_ends(Site const& s) const { return Reading::fact(hot_water && !serves(s) && s[s.own(2)] > 0.5); }
  /// From heating to hot water at the lowest fire, until the valve has turned and the sensor feels what the plates give.
  Reading turned(Site const& s) const {
    double constexpr change_over = 10;  // [s]
    return serves(s) ? Reading::after(s, change_over) : Reading::never();
  }
  Reading purged_for_hot_water(Site const& s) const { return serves(s) ? purged(s) : Reading::never(); }
  Reading lit_for_hot_water(Site const& s) const { return serves(s) ? lit(s) : Reading::never(); }
  Reading starved(Site const& s) const { return Reading::fact(flow(s) < *least_flow, flow(s), *least_flow); }
  Reading purged(Site const& s) const { return Reading::after(s, *prepurge); }
  Reading lit(Site const& s) const { return Reading::after(s, *ignition_hold); }
  Reading held(Site const& s) const { return Reading::after(s, *low_fire_hold); }
  Reading postpurged(Site const& s) const { return Reading::after(s, *postpurge); }
  /// The minimum off time counts from the end of the burn.
  Reading rested(Site const& s) const {
    auto r = Reading::after(s, std::max(0.0, *minimum_off - *postpurge));
    return r.value = std::max(*minimum_off, *postpurge), r;
  }
  double flow(Site const& s) const { return s.flow() / s.local().density; }
  void ignite(Site const& s, std::span<double> own) const {
    own[1] = ignition;
    if (hot_water) own[2] = serves(s);
  }
  /// The fire stays where it is and the control of whatever is served begins anew.
  void take_over(Site const& s, std::span<double> own) const {
    own[2] = serves(s);
    own[0] = serves(s) ? 0 : std::clamp(own[1] - (wanted(s) - s[measured(s)]) / *band, -1.0, 1.0);
  }
  void turn_to_lowest(Site const&, std::span<double> own) const { own[0] = 0, own[1] = dhw_least, own[2] = 1; }
  void turn_down(Site const& s, std::span<double> own) const {
    own[1] = least;
    if (hot_water) own[2] = 0;
    own[0] = std::clamp(least - (wanted(s) - s[measured(s)]) / *band, -1.0, 1.0);  // the control takes over without a jump
  }
};

}  // namespace steadyfire
