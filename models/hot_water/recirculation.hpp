#pragma once
#include "models/pipe_sizes.hpp"
#include "sim/component/kind.hpp"

namespace steadyfire {

/// When hot water is kept moving to the taps and back.
///
///   by time         runs within its hours
///   by temperature  within its hours, from setting − differential until setting at the end of the return
///   by demand       from each time that somebody asks, until the setting is reached or the longest run is over
///
///   return' = (T_sensor − return)/10 s while it runs, (T_unheated − return)/cooling time at rest
///
/// Shape   no branch; one own state, the return's temperature as it cools in its pipe. "running" calls its circulator.
/// Source  common practice, no source.
struct RecirculationControl {
  int by;
  Time from, until, longest_run, cooling_time;
  std::vector<Time> asked_at;
  Temperature setting;
  TemperatureChange differential;
  Reference sensor;

  enum By { time, temperature, demand };
  static constexpr std::string_view kind = "recirculation control", family = "recirculation control",
                                    summary = "Recirculation control";
  static constexpr Role role = Role::relay;
  static constexpr Caller caller = Caller::recirculation;
  static std::vector<Field> schema() {
    using namespace unit;
    using R = RecirculationControl;
    return {choice<&R::by>("by", {"time", "temperature", "demand"}, "what runs the recirculation circulator").otherwise(1),
            clock<&R::from>("from", "start of its hours").otherwise(6),
            clock<&R::until>("until", "end of its hours; same as from: all day").otherwise(22),
            clocks<&R::asked_at>("asked_at", "demand times (button pressed)").optional("never"),
            field<&R::longest_run>("longest_run", minute, 0.2, 120, "longest run per demand").otherwise(5),
            field<&R::setting>("setting", degF, 60, 170, "return water temperature that stops it").otherwise(105),
            field<&R::differential>("differential", degF_change, 1, 60, "it starts this far below").otherwise(10),
            field<&R::cooling_time>("cooling_time", minute, 1, 6000, "cooling time of the return at rest").otherwise(60),
            reference<&R::sensor>("sensor", "sensor", "sensor at the end of the return").optional()};
  }
  std::vector<OwnState> states() const { return {{"return", 0, 293.15, 0.1}}; }
  void links(Links& book, Site const& s) const {
    double constexpr lag = 10;  // [s]
    bool const flows = s.mode() == running;
    book.follow(s.own(), sensor ? s.of(sensor) : given::unheated, flows ? 1 / lag : 0);
    book.follow(s.own(), given::unheated, flows ? 0 : 1 / *cooling_time);
  }
  static constexpr double day = 86400, grace = 0.5;  // [s]: half a second early counts, so that rounding cannot miss a time
  static double wrapped(double t) { return t - day * std::floor(t / day); }
  bool inside(Site const& s) const {
    double const t = wrapped(s.time_of_day() + grace), a = *from, b = *until;
    return a == b || (a < b ? t >= a && t < b : t >= a || t < b);
  }
  double wait_for(Site const& s, double hour) const { return wrapped(hour - s.time_of_day() - grace) + grace; }
  double returning(Site const& s) const { return s[s.own()]; }

  enum Mode { resting, running };
  static constexpr std::array<std::string_view, 2> modes{"resting", "running"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<RecirculationControl>;
    using R = RecirculationControl;
    auto constexpr t = measure::fine_temperature;
    return std::array{T{resting, running, &R::opens, Cause::clock, "recirculation on: its hours begin"},
                      T{resting, running, &R::cool, Cause::on_temperature, "recirculation on: return water {value}", t},
                      T{resting, running, &R::asked, Cause::call, "recirculation on: button pressed"},
                      T{running, resting, &R::closes, Cause::clock, "recirculation off: its hours end"},
                      T{running, resting, &R::warm, Cause::off_temperature, "recirculation off: return water {value}", t},
                      T{running, resting, &R::too_long, Cause::timer, "recirculation off: ran {value}", measure::minutes}};
  }
  Reading opens(Site const& s) const {
    if (by != time) return Reading::never();
    return inside(s) ? Reading::fact(true) : Reading::at(s, s.time() + wait_for(s, *from), 0);
  }
  Reading closes(Site const& s) const {
    if (by == demand || *from == *until) return Reading::never();
    return inside(s) ? Reading::at(s, s.time() + wait_for(s, *until), 0) : Reading::fact(true);
  }
  /// Outside its hours nothing runs by temperature; when they begin somebody has to look.
  Reading cool(Site const& s) const {
    if (by != temperature) return Reading::never();
    if (!inside(s)) return Reading::at(s, s.time() + wait_for(s, *from), returning(s));
    return Reading::below(returning(s), *setting - *differential);
  }
  Reading warm(Site const& s) const { return by == time ? Reading::never() : Reading::above(returning(s), *setting); }
  Reading asked(Site const& s) const {
    if (by != demand || asked_at.empty()) return Reading::never();
    double first = 2 * day;
    for (auto const& t : asked_at) {
      double const wait = wait_for(s, *t);
      // a time that has just been answered counts again tomorrow only
      first = std::min(first, wait <= grace && s.time_in_mode() < 2 * grace ? wait + day : wait);
    }
    return Reading::at(s, s.time() + first - grace, 0);
  }
  Reading too_long(Site const& s) const { return by == demand ? Reading::after(s, *longest_run) : Reading::never(); }
};

/// What the user says of it.
struct RecirculationEntry {
  int by, past_sensor;
  Time from, until, longest_run;
  std::vector<Time> asked_at;
  Temperature setting;
  TemperatureChange differential;
  Length length, insulation;
  std::string size, zone_output;
  Entry circulator;

  static constexpr std::string_view kind = "recirculation", family = "recirculation", summary = "Hot water recirculation to the taps";
  static std::vector<Field> schema() {
    using namespace unit;
    using R = RecirculationEntry;
    std::vector<Field> all{choice<&R::by>("by", {"time", "temperature", "demand"}, "what runs the recirculation circulator").otherwise(1),
                           clock<&R::from>("from", "start of its hours").otherwise(6),
                           clock<&R::until>("until", "end of its hours; same as from: all day").otherwise(22),
                           clocks<&R::asked_at>("asked_at", "demand times (button pressed)").optional("never"),
                           field<&R::longest_run>("longest_run", minute, 0.2, 120, "longest run per demand").otherwise(5),
                           field<&R::setting>("setting", degF, 60, 170, "return water temperature that stops it").otherwise(105),
                           field<&R::differential>("differential", degF_change, 1, 60, "it starts this far below").otherwise(10),
                           field<&R::length>("return_length", foot, 1, 1000, "pipe length from the end of the trunk back").otherwise(30),
                           text<&R::size>("return_size", "size of that pipe").optional("1/2 in copper M"),
                           field<&R::insulation>("insulation", inch, 0, 4, "insulation thickness of that pipe").otherwise(0.5),
                           entry<&R::circulator>("circulator", "circulator", "recirculation circulator")
                               .optional(say("a small one held at {}", Amount{gpm.to_si(1.5), measure::flow})),
                           text<&R::zone_output>("zone_output", "zone whose output runs the circulator while the zone calls")
                               .optional("an output of its own"),
                           choice<&R::past_sensor>("flow_sensor", {"passed", "bypassed"},
                                                   "whether recirculation passes the flow switch that starts the burner")
                               .otherwise(0)};
    return all;
  }
  static void check(Entry const& e, Diagnostics& faults) {
    check_pipe_size(value_of<&RecirculationEntry::size>(e), e.who, faults);
    using R = RecirculationEntry;
    auto const &by = value_of<&R::by>(e), &asked = value_of<&R::asked_at>(e), &output = value_of<&R::zone_output>(e);
    if (by.numbers == std::vector{2.0} && !asked.given && !output.given)
      faults.add({"E205", by.at, e.who + ": by = \"demand\" needs 'asked_at'", "asked_at = [\"6:30\", \"21:00\"]",
          "state when the button is pressed"});
    if (asked.given && by.numbers != std::vector{2.0})
      faults.add({"E222", asked.at, e.who + ": 'asked_at' needs by = \"demand\"", "by = \"demand\"",
          "change by, or remove asked_at", by.at});
  }
};

}  // namespace steadyfire
