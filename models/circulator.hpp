#pragma once
#include "models/mixing/steering.hpp"

namespace steadyfire {

/// Circulator, fixed or regulated.
///
///   fixed speed        H(Q) = s²·h(Q/s)                              (affinity laws); s also by choice from a list
///   constant head      H = min(setting, h(Q))
///   proportional head  H = min(setting·(1 + Q/Q_set)/2, h(Q))        h(Q_set) = setting
///   fixed flow         h(Q) up to the setting, then falling steeply
///   temperature difference   as fixed speed;  s' = sat(beyond/10 K)/adjusting time, 20 % to full speed
///                            beyond = |T_here − T_sensor| − setting, outside ±0.5 K
///   reversed           H = H(0) + k·Q²: the quadratic of the curve adds as loss
///   at rest            loss = k·Q·|Q|; with a flow check its opening head more, and held shut backwards
///   power              ρ·g·Q·H / wire-to-water efficiency, or by a curve of power at full speed: s³·P(Q/s), s such that s²·h(Q/s) = H
///   heat in the water  a share of the power, where water flows
///   m in series, n side by side: m·H(Q/n), and m·n times the power
///
/// Shape   one branch without cells; runs in its modes "running" and "overrun". Those in series or side by
///         side are alike and run together; curves and settings are those of one. Unlike ones are pieces of their own.
///         One own state, the speed, where it follows a temperature difference: flows are solved anew when that has moved by 1 %.
/// Valid   the fixed-flow law is within 0.5 % of its setting while the curve reaches it.
/// Source  affinity laws, ANSI/HI 14.6; generic curves are our own, common practice, no source.
struct Circulator {
  Curve curve, power_curve;
  int duty, regulation;
  Fraction speed, efficiency, power_to_water;
  std::vector<Fraction> speeds;
  int chosen_speed, in_series, in_parallel;
  Length setting_head, check_opening;
  VolumeFlow setting_flow;
  bool check_valve;
  Time overrun;
  std::vector<Reference> calls;
  Reference rests_while;
  TemperatureChange setting_difference;
  Time adjusting_time;
  Reference sensor;

  double quadratic = 0, shutoff = 0, last_flow = 0, set_flow = 0;  // from prepare(), SI

  enum Regulation { fixed_speed, constant_head, proportional_head, fixed_flow, temperature_difference };
  static constexpr std::string_view kind = "circulator", family = "circulator", summary = "Circulator, fixed-speed or regulated";
  static constexpr Role role = Role::circulator;
  static constexpr Home home = Home::repeated;
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    using namespace unit;
    return {
        steadyfire::curve<&Circulator::curve>("curve", "flow", gpm, "head", foot, "head over flow at full speed")
            .optional("the generic curve of its duty"),
        choice<&Circulator::duty>("duty", {"small", "medium", "high head"}, "generic curve, where no curve is given").otherwise(0),
        choice<&Circulator::regulation>(
            "regulation", {"fixed speed", "constant head", "proportional head", "fixed flow", "temperature difference"}, "regulation mode")
            .otherwise(0),
        field<&Circulator::speed>("speed", percent, 1, 100, "share of full speed, for fixed speed").otherwise(100),
        list<&Circulator::speeds>(
            "speeds", percent, 1, 100,
            "fixed speeds, as shares of the curve's; with separate curves, give the chosen one")
            .optional(),
        count<&Circulator::chosen_speed>("chosen_speed", 1, 12, "selected speed, counted from 1").optional("the last"),
        count<&Circulator::in_series>("in_series", 1, 6, "identical circulators in series").otherwise(1),
        count<&Circulator::in_parallel>("in_parallel", 1, 6, "identical circulators in parallel, each with a flow check").otherwise(1),
        field<&Circulator::setting_head>("setting_head", foot, 0.5, 200, "head setting, for regulation by head").otherwise(8),
        field<&Circulator::setting_flow>("setting_flow", gpm, 0.1, 500, "flow setting, for regulation by flow").otherwise(4),
        flag<&Circulator::check_valve>("check_valve", "built-in flow check").otherwise(1).as(FieldRole::has_check),
        field<&Circulator::check_opening>("check_opening_head", foot, 0, 20,
                                          "opening head of that flow check at rest")
            .otherwise(0.7),
        field<&Circulator::overrun>("overrun", minute, 0, 60, "overrun after the call ends").otherwise(0),
        field<&Circulator::efficiency>("efficiency", percent, 1, 80, "wire-to-water efficiency").typical(15, 25, 45),
        field<&Circulator::power_to_water>("power_to_water", percent, 0, 100, "share of its power that ends as heat in the water")
            .typical(50, 80, 95),
        steadyfire::curve<&Circulator::power_curve>("power_curve", "flow", gpm, "power", watt,
                                                    "electric power over flow at full speed, instead of an efficiency")
            .optional(),
        reference<&Circulator::calls>("calls", "control", "controls that call it").optional("always"),
        reference<&Circulator::rests_while>("rests_while", "control", "control that stops it while calling: hot water priority")
            .optional("nothing stops it"),
        field<&Circulator::setting_difference>("setting_difference", degF_change, 2, 100,
                                               "supply-to-return temperature difference to hold")
            .otherwise(20),
        field<&Circulator::adjusting_time>("adjusting_time", minute, 1, 120,
            "time from zero to full speed, temperature difference regulation")
            .otherwise(10),
        reference<&Circulator::sensor>("sensor", "sensor", "sensor at the other end of the circuit, for temperature difference")
            .optional()};
  }
  static bool wants_sensor(Entry const& e) {
    return e && get<&Circulator::regulation>(e) == temperature_difference &&
           !value_of<&Circulator::sensor>(e).given;
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_speeds(e, faults);
    if (!e.ports.empty() && wants_sensor(e))
      faults.add({"E205", value_of<&Circulator::regulation>(e).at, e.who + ": regulation by temperature difference needs 'sensor'",
                  "the name of a supply sensor at the other end of its circuit", "add sensor"});
    auto const& v = value_of<&Circulator::curve>(e);
    if (!v.given || v.numbers.empty()) return;
    auto const c = Curve::from(v.numbers);
    double const last = c.is_polynomial() ? 10 : c.x().back();  // 10 m³/s: what a polynomial does in the end
    if (c(last) > c(0))
      faults.add({"E224", v.at, e.who + ": the last head of the curve is above the first",
                  "head that falls as flow rises", "check the order of columns and points"});
    else if (c(0) <= 0)
      faults.add({"E224", v.at, e.who + ": the curve has no head at zero flow", "a head above 0 at zero flow",
                  "check the order of the columns"});
  }

  static void check_speeds(Entry const& e, Diagnostics& faults) {
    using C = Circulator;
    auto const &speeds = value_of<&C::speeds>(e), &chosen = value_of<&C::chosen_speed>(e), &speed = value_of<&C::speed>(e),
               &regulation = value_of<&C::regulation>(e);
    if (chosen.given && !speeds.given)
      faults.add({"E205", chosen.at, e.who + ": chosen_speed needs 'speeds'", "speeds = [\"60%\", \"80%\", \"100%\"]", "add speeds"});
    else if (chosen.given && chosen.numbers[0] > double(speeds.numbers.size()))
      faults.add({"E204", chosen.at, e.who + ": chosen_speed is not one of its speeds", "1 to " + std::to_string(speeds.numbers.size()), "",
                  speeds.at});
    if (speeds.given && speed.given)
      faults.add({"E222", speed.at, e.who + " has both 'speed' and 'speeds'", "one of them", "remove one of them", speeds.at});
    if (speeds.given && regulation.given && regulation.numbers[0] > 0)  // not "fixed speed"
      faults.add(
          {"E222", regulation.at, e.who + " has both 'speeds' and a variable-speed regulation", "one of them",
              "remove one of them", speeds.at});
  }

  void prepare() {
    if (!speeds.empty()) speed = speeds[chosen_speed > 0 ? chosen_speed - 1 : int(speeds.size()) - 1];
    if (curve.empty()) {  // gpm and ft, common practice, no source
      static std::vector<std::vector<double>> const flow{{0, 4, 8, 12, 16}, {0, 6, 12, 18, 24}, {0, 6, 12, 18, 24}};
      static std::vector<std::vector<double>> const head{{16, 14, 11, 6.5, 0.5}, {21, 19, 15, 9, 1}, {32, 30, 25, 16.5, 4}};
      auto x = flow[duty], y = head[duty];
      for (auto& q : x) q = unit::gpm.scale * q;
      for (auto& h : y) h = unit::foot.scale * h;
      curve = Curve::through(x, y);
    }
    shutoff = curve(0);
    if (curve.is_polynomial()) {
      quadratic = curve.coefficients().size() > 2 ? std::max(0.0, -curve.coefficients()[2]) : 0;
      last_flow = 1e-6;
      while (last_flow < 10 && curve(last_flow) > 0) last_flow *= 1.05;
    } else {
      last_flow = curve.x().back();
      quadratic = std::max(0.0, shutoff - curve.y().back()) / (last_flow * last_flow);
    }
    set_flow = last_flow;
    double low = 0, high = last_flow;
    for (int i = 0; i < 60 && curve(last_flow) < *setting_head; ++i)
      (curve(set_flow = (low + high) / 2) > *setting_head ? low : high) = set_flow;
  }

  /// Of all of them together: flow at the end of the curve [m³/s], head at no flow [m].
  double most_flow() const {
    double const end = regulation == fixed_speed ? *speed * last_flow : last_flow;
    return in_parallel * (regulation == fixed_flow ? std::min(end, *setting_flow) : end);
  }
  double most_head() const { return in_series * head(0.0); }

  static constexpr double least_speed = 0.2;
  double speed_now(Site const& s) const { return regulation == temperature_difference ? std::clamp(s[s.own()], least_speed, 1.0) : 1; }
  std::vector<OwnState> states() const {
    if (regulation != temperature_difference) return {};
    return {{"speed", 0, 0.6, 0.02, moves_flow_by}};
  }
  void laws(auto& book, Site const& s) const {
    if (regulation != temperature_difference) return;
    double const works = runs(s);
    Steering const steering{0.5, 10, *adjusting_time, least_speed};
    book.rate(s.own(), [&](auto at, auto here, auto there) {
      return works * steering.rate(greater(here - there, there - here) - *setting_difference, at);
    }, s.own(), s.outlet(), sensor ? s.of(sensor) : s.inlet());
  }
  bool runs(Site const& s) const { return s.mode() != resting; }

  /// Head [m] of one at its forward volume flow [m³/s].
  template <class N>
  N head(N Q, double speed_now = 1) const {
    N const full = curve(Q);
    switch (regulation) {
      case constant_head: return lesser(N(*setting_head), full);
      case proportional_head: return lesser(*setting_head / 2 * (1.0 + Q / set_flow), full);
      case fixed_flow: {
        double const q = *setting_flow, top = curve(q);
        return Q < N(q) ? full : greater(N(top) - (200 * shutoff / q) * (Q - q), -quadratic * Q * Q);
      }
      case temperature_difference: return speed_now * speed_now * curve(Q / speed_now);
      default: return *speed * *speed * curve(Q / *speed);
    }
  }
  /// Share of full speed at which its curve has the head that it makes at this flow: s²·h(Q/s) = H(Q).
  double speed_at(double Q, double speed_now) const {
    if (regulation == fixed_speed) return *speed;
    if (regulation == temperature_difference) return speed_now;
    double const H = head(Q);
    double low = 0.05, high = 1;
    for (int i = 0; i < 50; ++i) {
      double const middle = (low + high) / 2;
      (middle * middle * curve(Q / middle) < H ? low : high) = middle;
    }
    return high;
  }
  template <class Flow>
  Flow loss(int, Flow flow, Site const& s) const {
    double const rho = s.local().density, weight = in_series * s.fluid().density * 9.80665;
    Flow const Q = flow / (rho * in_parallel);
    if (!runs(s)) {
      double const opening = check_valve ? *check_opening : 0, k = std::max(quadratic, 0.02 * shutoff / (last_flow * last_flow));
      return weight * (opening + k * Q * abs(Q));
    }
    if (Q < Flow(0)) return -weight * (head(0.0, speed_now(s)) + std::max(quadratic, 0.02 * shutoff / (last_flow * last_flow)) * Q * Q);
    return -weight * head(Q, speed_now(s));
  }
  Way way(int, Site const&) const { return check_valve ? Way::forward : Way::open; }

  double flow_of_one(Site const& s) const { return s.flow() / (s.local().density * in_parallel); }  ///< [m³/s]
  double power(Site const& s) const {
    if (!runs(s)) return 0;
    double const Q = std::max(0.0, flow_of_one(s)), count = in_series * in_parallel;
    double const turns = speed_at(Q, speed_now(s)), cube = turns * turns * turns;
    if (!power_curve.empty()) return count * cube * std::max(0.0, power_curve(Q / turns));
    double const least =
        cube * 0.05 * s.fluid().density * 9.80665 * shutoff * last_flow / 4 / *efficiency;  // stalled or nearly so it still draws some
    return count * std::max(least, s.fluid().density * 9.80665 * Q * std::max(0.0, head(Q, speed_now(s))) / *efficiency);
  }
  void links(Links& book, Site const& s) const {
    double constexpr still = 1e-3;  // [kg/s] below it nothing carries the heat away, and the joint that takes it is small
    double const watts = power(s);
    book.give(account::electricity, account::motor, watts);
    book.give(account::motor, s.outlet(), s.flow() > still ? *power_to_water * watts : 0);
  }

  enum Mode { resting, running, running_on };
  static constexpr std::array<std::string_view, 3> modes{"resting", "running", "running on"};
  static auto transitions() {
    using T = Transition<Circulator>;
    auto constexpr ended = "circulator off: call ended";
    return std::array{T{resting, running, &Circulator::wanted, Cause::call, "circulator on: called"},
                      T{running, resting, &Circulator::ends_at_once, Cause::call_ended, ended},
                      T{running, running_on, &Circulator::unwanted, Cause::call_ended, "circulator runs on: call ended"},
                      T{running_on, running, &Circulator::wanted, Cause::call, "circulator on: called again"},
                      T{running_on, resting, &Circulator::ran_on, Cause::timer, "circulator off: overrun over ({value})",
                        measure::minutes}};
  }
  bool called(Site const& s) const {
    if (rests_while && s.calls(rests_while)) return false;
    return calls.empty() || std::any_of(calls.begin(), calls.end(), [&](Reference r) { return s.calls(r); });
  }
  Reading wanted(Site const& s) const { return Reading::fact(called(s)); }
  Reading unwanted(Site const& s) const { return Reading::fact(!called(s)); }
  Reading ends_at_once(Site const& s) const { return *overrun > 0 ? Reading::never() : unwanted(s); }
  Reading ran_on(Site const& s) const { return Reading::after(s, *overrun); }

  void findings(Site const& s, std::vector<Finding>& list) const {
    double const Q = flow_of_one(s);
    if (runs(s) && Q > 1.001 * last_flow)
      list.push_back({.id = "circulator.off_curve",
                      .place = "",
                      .severity = Severity::minor,
                      .figures = {{"flow", Q, measure::flow}},
                      .limit = Figure{"end of curve", last_flow, measure::flow},
                      .whose = "its curve",
                      .words = say("flow {}, end of curve {}. The circulator is too large for this circuit.", Amount{Q, measure::flow},
                                   Amount{last_flow, measure::flow}),
                      .order = 20,
                      .fix = "use a smaller circulator, a lower speed, or a balancing valve."});
    double constexpr noticed = 3e-6;  // [m³/s] 0.05 gpm
    if (!runs(s) && std::abs(Q) > noticed)
      list.push_back({.id = "circulator.ghost_flow",
                      .place = "",
                      .severity = Severity::minor,
                      .figures = {{"flow", Q, measure::flow}},
                      .limit = std::nullopt,
                      .whose = common_practice,
                      .words = say("off, but {} flows through it{}; {}.", Amount{std::abs(Q), measure::flow}, Q < 0 ? " backwards" : "",
                                   check_valve ? "a circulator in line with it, or rising warm water, opens its flow check"
                                               : "another circulator or rising warm water drives it"),
                      .order = 40,
                      .fix = check_valve
                                 ? "put closely spaced tees between the two circulators, or use zone valves instead of circulators; "
                                   "against rising warm water use a flow check with a stronger spring."
                                 : "add a flow check."});
    if (runs(s) && Q < 1e-9)
      list.push_back({.id = "circulator.no_flow",
                      .place = "",
                      .severity = Severity::serious,
                      .figures = {{"flow", Q, measure::flow}},
                      .limit = std::nullopt,
                      .whose = common_practice,
                      .words = say("running against a closed circuit; flow {}. It will overheat.", Amount{0, measure::flow}),
                      .order = 60,
                      .fix = "open the circuit, or stop the circulator with it."});
  }
};

}  // namespace steadyfire
