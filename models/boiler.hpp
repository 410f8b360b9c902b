#pragma once
#include "models/boiler_data.hpp"
#include "models/combustion.hpp"
#include "models/hot_water/hot_water_fire.hpp"

namespace steadyfire {

/// Modulating boiler: heat exchanger, burner sequence and firing control.
///
///   wanted fire = clamp(e/band + I, least, allowed)     e = target − T_sensor
///   I' = (e/band + (clamp − unclamped))/integral time   fire' = clamp((wanted − fire)/2 s, ±ramp)
///   allowed     = 1, falling over the last fifth of the rise limit above it
///   heat to water = η(T_flue)·fire·input                T_flue = T_entering + approach(fire)
///
/// Hot water, while its control serves, has bounds, sensor and target of its own, and the draw leads the fire: HotWaterFire.
/// The rise limit is heating's. While both are served the larger of the two wanted fires counts.
///
/// Fire is a share of the larger of the two inputs. Hot water skips the minimum off time and the hold at low fire,
/// not the prepurge and the ignition.
///
/// Shape   one branch with cells; own states: memory I, fire, and with hot water whether it is served; eight modes.
///         Odd mode "igniting" aside, nobody reads a boiler's call.
/// Valid   η by combustion chemistry (models/combustion.hpp): flue gas saturated at T_flue below its
///         dew point, 0.3 % points; heat enters all cells in equal shares.
/// Source  approach to return temperature and all typicals: common practice, no source.
struct Boiler : BoilerData {
  Combustion chemistry;  // from prepare()
  double full = 0, least = 0, most = 0, ignition = 0, dhw_least = 0, dhw_most = 0;  // input [W]; shares of it

  static constexpr std::string_view kind = "boiler", family = "boiler", summary = "Modulating boiler with its burner sequence";
  static constexpr Role role = Role::boiler;
  static constexpr Home home = Home::single;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};

  void prepare() {
    chemistry = Combustion(fuel == 0 ? natural_gas() : propane(), *excess_air);
    double const dhw = std::isnan(*dhw_input) ? *heating_input : *dhw_input;
    full = hot_water ? std::max(*heating_input, dhw) : *heating_input;
    least = *minimum_input / full, most = *heating_input / full, ignition = std::clamp(*ignition_fire * most, least, most);
    dhw_most = dhw / full, dhw_least = (std::isnan(*dhw_minimum) ? *minimum_input : *dhw_minimum) / full;
  }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const rho = s.local().density, k = s.fluid().density * 9.80665 * *rated_head_loss / (*rated_flow * *rated_flow);
    Flow const Q = flow / rho;
    return k * Q * sqrt(Q * Q + 1e-12);
  }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, *metal}; }
  std::vector<OwnState> states() const {
    std::vector<OwnState> list{{"fire memory", 0, least, 0.01}, {"fire", 0, least, 0.01}};
    if (hot_water) list.push_back({"on hot water", 0, 0, 0});
    return list;
  }
  bool serves(Site const& s) const { return hot_water && s.calls(hot_water); }
  /// Heating too, or heating alone: under priority it waits while hot water is served.
  bool heats(Site const& s) const { return (!call || s.calls(call)) && (!serves(s) || s.mode(hot_water) == HotWaterControl::sharing); }
  Place hot_water_place(Site const& s) const { return hot_water_sensor ? s.of(hot_water_sensor) : s.outlet_cell(); }

  Place measured(Site const& s) const { return sensor ? s.of(sensor) : s.outlet_cell(); }
  double wanted(Site const& s) const { return target ? s[s.of(target)] : *fixed_target; }
  bool burning(int mode) const { return mode == igniting || mode == low_fire || mode == modulating; }
  template <class N>
  N approach(N fire) const {
    double const lowest = hot_water ? std::min(least, dhw_least) : least, span = std::max(1 - lowest, 1e-6);
    return *approach_low + (*approach_full - *approach_low) * (fire - lowest) / span;
  }
  template <class N>
  N efficiency(N fire, N entering) const { return chemistry.efficiency(entering + approach(fire)); }

  void links(Links& book, Site const& s) const {
    for (int i = 0; i < s.cells(); ++i) book.link(s.water(i), account::jacket, *jacket / s.cells(), s.water(i), given::unheated);
    book.give(account::electricity, account::motor,
              burning(s.mode()) || s.mode() == purging || s.mode() == postpurging ? *electric_firing : *electric_standby);
  }
  void laws(auto& book, Site const& s) const {
    double const input = burning(s.mode()) ? full : 0;
    Place const I = s.own(), f = s.own(1), in = s.entering(), out = s.outlet_cell(), seen = measured(s),
                goal = target ? s.of(target) : given::unity;
    double const fixed = *fixed_target;
    bool const has_target = bool(target);
    if (input > 0) {
      book.spread(
          account::fuel, s.water(0), s.cells(), [&](auto fire, auto entering) { return input * fire * efficiency(fire, entering); }, f, in);
      book.heat(
          account::fuel, account::flue, [&](auto fire, auto entering) { return input * fire * (1.0 - efficiency(fire, entering)); }, f, in);
    } else {  // the pattern must not know the mode
      book.spread(account::fuel, s.water(0), s.cells(), [](auto fire, auto entering) { return 0.0 * fire + 0.0 * entering; }, f, in);
      book.heat(account::fuel, account::flue, [](auto fire, auto entering) { return 0.0 * fire + 0.0 * entering; }, f, in);
    }
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

  enum Mode { ready, igniting, purging, low_fire, modulating, postpurging, resting, too_hot };
  static constexpr std::array<std::string_view, 8> modes{"ready",      "igniting",  "prepurge",    "low fire",
                                                         "modulating", "postpurge", "minimum off", "high limit"};
  static auto transitions() {
    using T = Transition<Boiler>;
    auto constexpr t = measure::fine_temperature;
    auto constexpr why_hot = "water rose to the stop point", why_uncalled = "no call left", why_starved = "flow fell below its least",
                   why_limit = "water rose to the high limit";
    auto constexpr off = postpurging;
    auto constexpr why_drawn = "hot water is drawn", drawn_flame = "flame stable, for hot water";
    return std::array{T{ready, purging, &Boiler::hot_water_wanted, why_drawn, t},
                      T{ready, purging, &Boiler::cold, "water fell to the start point", t},
                      T{purging, ready, &Boiler::uncalled, why_uncalled, wordless},
                      T{purging, igniting, &Boiler::purged_for_hot_water, "prepurge done, for hot water", measure::seconds,
                        &Boiler::ignite},
                      T{purging, igniting, &Boiler::purged, "prepurge done", measure::seconds, &Boiler::ignite},
                      T{igniting, off, &Boiler::limit, why_limit, t},
                      T{igniting, off, &Boiler::uncalled, why_uncalled, wordless},
                      T{igniting, off, &Boiler::starved, why_starved, measure::flow},
                      T{igniting, off, &Boiler::hot, why_hot, t},
                      T{igniting, modulating, &Boiler::lit_for_hot_water, drawn_flame, measure::seconds, &Boiler::take_over},
                      T{igniting, low_fire, &Boiler::lit, "flame stable", measure::seconds, &Boiler::turn_down},
                      T{low_fire, off, &Boiler::limit, why_limit, t},
                      T{low_fire, off, &Boiler::uncalled, why_uncalled, wordless},
                      T{low_fire, off, &Boiler::starved, why_starved, measure::flow},
                      T{low_fire, off, &Boiler::hot, why_hot, t},
                      T{low_fire, modulating, &Boiler::turned, "its valve has turned", measure::seconds, &Boiler::take_over},
                      T{low_fire, modulating, &Boiler::held, "low-fire hold done", measure::seconds, &Boiler::turn_down},
                      T{modulating, off, &Boiler::limit, why_limit, t},
                      T{modulating, off, &Boiler::uncalled, why_uncalled, wordless},
                      T{modulating, off, &Boiler::starved, why_starved, measure::flow},
                      T{modulating, off, &Boiler::hot, why_hot, t},
                      T{modulating, low_fire, &Boiler::hot_water_begins, why_drawn, wordless, &Boiler::turn_to_lowest},
                      T{modulating, modulating, &Boiler::hot_water_ends, "hot water is drawn no more", wordless, &Boiler::take_over},
                      T{postpurging, too_hot, &Boiler::limit_after_purge, "high limit must cool", t},
                      T{postpurging, purging, &Boiler::hot_water_wanted, why_drawn, t},
                      T{postpurging, resting, &Boiler::postpurged, "postpurge done", measure::seconds},
                      T{too_hot, resting, &Boiler::cooled, "high limit has cooled", t},
                      T{resting, purging, &Boiler::hot_water_wanted, why_drawn, t},
                      T{resting, ready, &Boiler::rested, "minimum off time over", measure::minutes}};
  }
  /// It lights while water is drawn and not yet hot, whatever it did before.
  Reading hot_water_wanted(Site const& s) const {
    double constexpr below = 2;  // [K]
    if (!serves(s) || flow(s) < *least_flow || s[s.outlet_cell()] > *high_limit - *high_limit_differential) return Reading::never();
    return Reading::below(s[hot_water_place(s)], *set_point - below);
  }
  Reading cold(Site const& s) const {
    if (!heats(s) || flow(s) < *least_flow) return Reading::never();
    return Reading::below(s[measured(s)], wanted(s) - *on_below);
  }
  Reading hot(Site const& s) const {
    auto const heating = Reading::above(s[measured(s)], wanted(s) + *off_above);
    if (!serves(s)) return heating;
    auto const drawn = Reading::above(s[hot_water_place(s)], *set_point + *dhw_off_above);
    return heats(s) && heating.margin < drawn.margin ? heating : drawn;  // both must be hot
  }
  Reading limit(Site const& s) const { return Reading::above(s[s.outlet_cell()], *high_limit); }
  Reading limit_after_purge(Site const& s) const {
    auto const over = Reading::after(s, *postpurge);
    return over.margin >= 0 && s[s.outlet_cell()] > *high_limit - *high_limit_differential && tripped_by_limit(s) ? over : Reading::never();
  }
  bool tripped_by_limit(Site const& s) const { return s[s.outlet_cell()] > *high_limit - 0.5; }
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
  Reading starved(Site const& s) const { return Reading::fact(flow(s) < *least_flow, flow(s)); }
  Reading purged(Site const& s) const { return Reading::after(s, *prepurge); }
  Reading lit(Site const& s) const { return Reading::after(s, *ignition_hold); }
  Reading held(Site const& s) const { return Reading::after(s, *low_fire_hold); }
  Reading postpurged(Site const& s) const { return Reading::after(s, *postpurge); }
  Reading rested(Site const& s) const { return Reading::after(s, std::max(0.0, *minimum_off - *postpurge)); }
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
