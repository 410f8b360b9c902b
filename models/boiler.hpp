#pragma once
#include "models/combustion.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// Modulating boiler: heat exchanger, burner sequence and firing control.
///
///   wanted fire = clamp(e/band + I, least, allowed)     e = target − T_sensor
///   I' = (e/band + (clamp − unclamped))/integral time   fire' = clamp((wanted − fire)/2 s, ±ramp)
///   allowed     = 1, falling over the last fifth of the rise limit above it
///   heat to water = η(T_flue)·fire·input                T_flue = T_entering + approach(fire)
///
/// Shape   one branch with cells; own states: memory I, fire; eight modes. Odd mode "igniting"
///         aside, nobody reads a boiler's call.
/// Valid   η by combustion chemistry (models/combustion.hpp): flue gas saturated at T_flue below its
///         dew point, 0.3 % points; heat enters all cells in equal shares.
/// Source  approach to return temperature and all typicals: common practice, no source.
struct Boiler {
  Power heating_input, minimum_input;
  int fuel;
  Fraction excess_air;
  TemperatureChange approach_full, approach_low;
  Time prepurge, ignition_hold, low_fire_hold, postpurge, minimum_off, integral_time;
  Fraction ignition_fire;
  Rate ramp;
  TemperatureChange on_below, off_above, band, rise_limit, high_limit_differential;
  Temperature high_limit, fixed_target;
  Volume water;
  HeatCapacity metal;
  Conductance jacket;
  VolumeFlow rated_flow, least_flow, most_flow;
  Length rated_head_loss;
  Power electric_firing, electric_standby;
  int cell_count;
  Reference call, target, sensor;

  Combustion chemistry;  // from prepare()
  double least = 0, ignition = 0;

  static constexpr std::string_view kind = "boiler", family = "boiler", summary = "Modulating boiler with its burner sequence";
  static constexpr Role role = Role::boiler;
  static constexpr Home home = Home::single;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        field<&Boiler::heating_input>("heating_input", kBtu_per_hour, 5, 5000, "most input when heating: the rated heating size"),
        field<&Boiler::minimum_input>("minimum_input", kBtu_per_hour, 1, 5000,
                                      "least steady input: the minimum fire, separate from the rated size"),
        choice<&Boiler::fuel>("fuel", {"natural gas", "propane"}, "what it burns").otherwise(0),
        field<&Boiler::excess_air>("excess_air", percent, 5, 150, "combustion air above what burning needs").typical(15, 25, 40),
        field<&Boiler::approach_full>("approach_full_fire", degF_change, 0, 100, "flue gas above return water at full fire")
            .typical(9, 18, 27),
        field<&Boiler::approach_low>("approach_low_fire", degF_change, 0, 100, "flue gas above return water at minimum fire")
            .typical(2, 5, 9),
        field<&Boiler::prepurge>("prepurge", second, 0, 300, "fan runs before ignition").typical(5, 15, 30),
        field<&Boiler::ignition_fire>("ignition_fire", percent, 1, 100, "fire at ignition, share of heating input").otherwise(40),
        field<&Boiler::ignition_hold>("ignition_hold", second, 0, 300, "stays at ignition fire").typical(3, 6, 15),
        field<&Boiler::low_fire_hold>("low_fire_hold", second, 0, 600, "then stays at minimum fire before it modulates").otherwise(30),
        field<&Boiler::postpurge>("postpurge", second, 0, 600, "fan runs after the burn").typical(10, 30, 60),
        field<&Boiler::minimum_off>("minimum_off", minute, 0, 60, "rest from the end of a burn to the next start").otherwise(3),
        field<&Boiler::off_above>("off_differential", degF_change, 1, 60, "stops this far above the target").typical(5, 9, 18),
        field<&Boiler::on_below>("on_differential", degF_change, 1, 60, "starts this far below the target").typical(5, 9, 18),
        field<&Boiler::band>("proportional_band", degF_change, 2, 200, "error that alone moves the fire from none to full").otherwise(27),
        field<&Boiler::integral_time>("integral_time", second, 5, 3600, "of the firing control").otherwise(120),
        field<&Boiler::ramp>("ramp", Unit<Rate::dimension>{"%/s", 0.01}, 0.05, 100, "fastest change of fire, share of heating input")
            .otherwise(2),
        field<&Boiler::rise_limit>("rise_limit", degF_change, 5, 150, "rise across the boiler above which fire is cut back").otherwise(40),
        field<&Boiler::high_limit>("high_limit", degF, 100, 250, "water temperature that stops the burner").otherwise(200),
        field<&Boiler::high_limit_differential>("high_limit_differential", degF_change, 1, 80, "cools this far before it may start again")
            .otherwise(15),
        field<&Boiler::fixed_target>("target", degF, 60, 220, "water temperature wanted, where no zone states its own").otherwise(160),
        field<&Boiler::water>("water_content", gallon, 0.05, 500, "water in its heat exchanger").typical(0.3, 0.8, 3),
        field<&Boiler::metal>("metal", Btu_per_degF, 0, 5000, "heat held by its metal").typical(2, 5, 15),
        field<&Boiler::jacket>("jacket_loss", Btu_per_hour_degF, 0, 200, "loss of the casing to the room it stands in").typical(1, 2, 5),
        field<&Boiler::rated_flow>("rated_flow", gpm, 0.1, 500, "flow at which its head loss is stated").otherwise(8),
        field<&Boiler::rated_head_loss>("rated_head_loss", foot, 0, 100, "head loss of its heat exchanger at that flow").typical(2, 6, 14),
        field<&Boiler::least_flow>("least_flow", gpm, 0, 100, "flow below which it will not fire").typical(0.5, 1, 3),
        field<&Boiler::most_flow>("most_flow", gpm, 0, 500, "flow that its heat exchanger bears at most, by its manual")
            .optional("not stated, so not judged"),
        field<&Boiler::electric_firing>("power_firing", watt, 0, 2000, "electricity while firing, without circulators")
            .typical(30, 60, 120),
        field<&Boiler::electric_standby>("power_standby", watt, 0, 200, "electricity at rest").typical(3, 6, 10),
        count<&Boiler::cell_count>(
            "cells", 1, 64,
            "water cells along the heat exchanger; where one pass raises the water by the whole differential 16 count starts within 2 %")
            .otherwise(16),
        reference<&Boiler::call>("call", "control", "fires only while this calls").optional("always"),
        reference<&Boiler::target>("target_from", "control", "whose wanted temperature is the target")
            .optional("the zone that wants most; target without zones"),
        reference<&Boiler::sensor>("sensor", "sensor", "where the water is measured").optional("at its outlet")};
  }
  static void check(Entry const& e, Diagnostics& faults) {
    auto const &most = value_under(e, "heating_input"), &least = value_under(e, "minimum_input");
    if (!most.numbers.empty() && !least.numbers.empty() && least.numbers[0] > most.numbers[0])
      faults.add({"E223", least.at, e.who + ": the minimum input is above the heating input", "at most the heating input", "", most.at});
  }

  void prepare() {
    chemistry = Combustion(fuel == 0 ? natural_gas() : propane(), *excess_air);
    least = *minimum_input / *heating_input, ignition = std::clamp(*ignition_fire, least, 1.0);
  }

  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const rho = s.local().density, k = s.fluid().density * 9.80665 * *rated_head_loss / (*rated_flow * *rated_flow);
    Flow const Q = flow / rho;
    return k * Q * sqrt(Q * Q + 1e-12);
  }
  Cells cells(int, Fluid const&) const { return {cell_count, *water, *metal}; }
  std::vector<OwnState> states() const { return {{"fire memory", 0, least, 0.01}, {"fire", 0, least, 0.01}}; }

  Place measured(Site const& s) const { return sensor ? s.of(sensor) : s.outlet_cell(); }
  double wanted(Site const& s) const { return target ? s[s.of(target)] : *fixed_target; }
  bool burning(int mode) const { return mode == igniting || mode == low_fire || mode == modulating; }
  template <class N>
  N approach(N fire) const {
    double const span = std::max(1 - least, 1e-6);
    return *approach_low + (*approach_full - *approach_low) * (fire - least) / span;
  }
  template <class N>
  N efficiency(N fire, N entering) const { return chemistry.efficiency(entering + approach(fire)); }

  void links(Links& book, Site const& s) const {
    for (int i = 0; i < s.cells(); ++i) book.link(s.water(i), account::jacket, *jacket / s.cells(), s.water(i), given::unheated);
    book.give(account::electricity, account::motor,
              burning(s.mode()) || s.mode() == purging || s.mode() == postpurging ? *electric_firing : *electric_standby);
  }
  void laws(auto& book, Site const& s) const {
    double const input = burning(s.mode()) ? *heating_input : 0;
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
      return within(1.0 - (t_out - t_in - *rise_limit) / (0.2 * *rise_limit), N(least), N(1));
    };
    // What the limits cut off is taken out of the memory ten times as fast as errors go in: the fire leaves
    // its limit when the water closes in on the target, not after it has gone past.
    double constexpr tracking = 10;
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
    return std::array{T{ready, purging, &Boiler::cold, "water fell to the start point", t},
                      T{purging, ready, &Boiler::uncalled, why_uncalled, wordless},
                      T{purging, igniting, &Boiler::purged, "prepurge done", measure::seconds, &Boiler::ignite},
                      T{igniting, off, &Boiler::limit, why_limit, t},
                      T{igniting, off, &Boiler::uncalled, why_uncalled, wordless},
                      T{igniting, off, &Boiler::starved, why_starved, measure::flow},
                      T{igniting, off, &Boiler::hot, why_hot, t},
                      T{igniting, low_fire, &Boiler::lit, "flame stable", measure::seconds, &Boiler::turn_down},
                      T{low_fire, off, &Boiler::limit, why_limit, t},
                      T{low_fire, off, &Boiler::uncalled, why_uncalled, wordless},
                      T{low_fire, off, &Boiler::starved, why_starved, measure::flow},
                      T{low_fire, off, &Boiler::hot, why_hot, t},
                      T{low_fire, modulating, &Boiler::held, "low-fire hold done", measure::seconds, &Boiler::turn_down},
                      T{modulating, off, &Boiler::limit, why_limit, t},
                      T{modulating, off, &Boiler::uncalled, why_uncalled, wordless},
                      T{modulating, off, &Boiler::starved, why_starved, measure::flow},
                      T{modulating, off, &Boiler::hot, why_hot, t},
                      T{postpurging, too_hot, &Boiler::limit_after_purge, "high limit must cool", t},
                      T{postpurging, resting, &Boiler::postpurged, "postpurge done", measure::seconds},
                      T{too_hot, resting, &Boiler::cooled, "high limit has cooled", t},
                      T{resting, ready, &Boiler::rested, "minimum off time over", measure::minutes}};
  }
  Reading cold(Site const& s) const {
    if ((call && !s.calls(call)) || flow(s) < *least_flow) return Reading::never();
    return Reading::below(s[measured(s)], wanted(s) - *on_below);
  }
  Reading hot(Site const& s) const { return Reading::above(s[measured(s)], wanted(s) + *off_above); }
  Reading limit(Site const& s) const { return Reading::above(s[s.outlet_cell()], *high_limit); }
  Reading limit_after_purge(Site const& s) const {
    auto const over = Reading::after(s, *postpurge);
    return over.margin >= 0 && s[s.outlet_cell()] > *high_limit - *high_limit_differential && tripped_by_limit(s) ? over : Reading::never();
  }
  bool tripped_by_limit(Site const& s) const { return s[s.outlet_cell()] > *high_limit - 0.5; }
  Reading cooled(Site const& s) const { return Reading::below(s[s.outlet_cell()], *high_limit - *high_limit_differential); }
  Reading uncalled(Site const& s) const { return Reading::fact(call && !s.calls(call)); }
  Reading starved(Site const& s) const { return Reading::fact(flow(s) < *least_flow, flow(s)); }
  Reading purged(Site const& s) const { return Reading::after(s, *prepurge); }
  Reading lit(Site const& s) const { return Reading::after(s, *ignition_hold); }
  Reading held(Site const& s) const { return Reading::after(s, *low_fire_hold); }
  Reading postpurged(Site const& s) const { return Reading::after(s, *postpurge); }
  Reading rested(Site const& s) const { return Reading::after(s, std::max(0.0, *minimum_off - *postpurge)); }
  double flow(Site const& s) const { return s.flow() / s.local().density; }
  void ignite(Site const&, std::span<double> own) const { own[1] = ignition; }
  void turn_down(Site const& s, std::span<double> own) const {
    own[1] = least;
    own[0] = std::clamp(least - (wanted(s) - s[measured(s)]) / *band, -1.0, 1.0);  // the control takes over without a jump
  }
};

/// Where a boiler control measures the system's supply: a thermometer in the pipe.
///
///   reading' = (T_water − reading)/lag
///
/// Shape   one branch with a small fixed loss; one own state, the reading.
struct SupplySensor {
  Time lag;

  static constexpr std::string_view kind = "supply sensor", family = "sensor", summary = "Thermometer in the supply pipe";
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {field<&SupplySensor::lag>("lag", unit::second, 0.5, 300, "of the thermometer in its well").otherwise(5)};
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const&) const { return 100.0 * flow * abs(flow) + flow; }
  std::vector<OwnState> states() const { return {{"reading", 0, 293.15, 0.1}}; }
  void begin(Site const& s, std::span<double> own) const { own[0] = s[s.entering()]; }
  void links(Links& book, Site const& s) const { book.follow(s.own(), s.entering(), 1 / *lag); }
};

}  // namespace steadyfire
