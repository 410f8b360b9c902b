#include "models/house/hot_water_failures.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "models/flow_limiter.hpp"
#include "models/house/hot_water_amounts.hpp"
#include "models/house/hot_water_remedies.hpp"
#include "sim/record/hot_water_words.hpp"

namespace steadyfire {
namespace {

constexpr double start_up = 40;           // [s] prepurge, ignition and the first heat of a combi boiler; rule of thumb
constexpr double metal_of_pipes = 1.3;    // water that it takes to warm a pipe, of what it holds
constexpr double lost_in_pipes = 1.5;     // [K] by which water made must at least be hotter
constexpr double nearly = 0.95;           // of the heat at hand
constexpr double noticed = 2.8;           // [K] 5 °F at a tap, and
constexpr double noticed_flow = 0.9;      // of the flow: beyond them a draw is spoilt; common practice, no source
constexpr double cools_noticeably = 1.1;  // [K] 2 °F in a room

HotWaterControl const* control_of(Installation const& in, HotWaterControl& filled) {
  int const at = in.part(Part::hot_water_control);
  if (at < 0 || in.boiler < 0) return nullptr;
  filled = fill<HotWaterControl>(in.pieces[std::size_t(at)].values);
  return &filled;
}

class Draws {
 public:
  Draws(Project const& project, Record const& record) : in_{project.installation}, record_{record}, h_{*record.hot_water} {
    control_ = control_of(in_, filled_);
  }

  FailedDraws failed() {
    std::map<std::pair<int, DrawCause>, DrawFailure> groups;
    std::vector<long> of(h_.taps.size());
    for (auto const& d : h_.draws) ++of[std::size_t(d.tap)];
    for (auto const& d : h_.draws)
      if (d.end != DrawEnd::on_target) add(d, groups);
    FailedDraws all;
    for (auto& [key, f] : groups) {
      f.of = of[std::size_t(f.tap)];
      double const n = double(f.draws);
      f.temperature /= n, f.flow_share /= n, f.volume /= n;
      all.failures.push_back(f);
    }
    std::stable_sort(all.failures.begin(), all.failures.end(), [](auto const& a, auto const& b) {
      return a.severity != b.severity ? a.severity < b.severity : a.draws > b.draws;
    });
    all.worst = worst_;
    return all;
  }

 private:
  void add(DrawRecord const& d, std::map<std::pair<int, DrawCause>, DrawFailure>& groups) {
    auto const now = at_once(d);
    double given = 0;
    auto const cause = cause_of(d, now, given);
    auto& f = groups[{d.tap, cause}];
    f.tap = d.tap, f.cause = cause;
    ++f.draws;
    double const came = d.was_hot() ? d.after_hot : d.delivered;
    f.temperature += came, f.wanted = std::max(f.wanted, d.wanted), f.flow_share += d.flow_wanted > 0 ? d.flow / d.flow_wanted : 1;
    f.flow_wanted = std::max(f.flow_wanted, d.flow_wanted), f.lasted = std::max(f.lasted, d.duration), f.volume += d.volume;
    f.severity = std::min(f.severity, severity_of(d, cause));
    if (now.heat > f.heat_wanted) f.heat_wanted = now.heat, f.heat_given = given, f.open = int(now.open.size());
    bool const is_heat = cause == DrawCause::burner || cause == DrawCause::plates || cause == DrawCause::flow_limiter ||
                         cause == DrawCause::heating;
    if (is_heat && now.heat > worst_.heat) worst_ = now;
  }

  static Severity severity_of(DrawRecord const& d, DrawCause cause) {
    if (cause == DrawCause::pipes) return Severity::note;
    bool const slight = d.end == DrawEnd::short_of_flow ? d.flow >= noticed_flow * d.flow_wanted
                        : d.end == DrawEnd::cooled      ? d.after_hot >= d.wanted - noticed
                                                        : false;
    return slight ? Severity::minor : Severity::serious;
  }

  TapWish wish(DrawRecord const& d) const {
    double const made = control_ ? std::min(h_.set_point, boiler(d.cold).limits.set_point) : d.wanted;
    return {d.flow_wanted, std::max(d.cold, std::min(d.wanted, made))};
  }
  /// The moment within a draw at which the open taps need most.
  AtOnce at_once(DrawRecord const& d) const {
    std::vector<DrawRecord const*> beside;
    for (auto const& e : h_.draws)
      if (e.start < d.start + d.duration && e.start + e.duration > d.start) beside.push_back(&e);
    AtOnce most;
    for (auto const* begins : beside) {
      double const t = std::max(begins->start, d.start);
      AtOnce now{d.cold, 0, {}};
      for (auto const* e : beside) {
        if (e->start > t || e->start + e->duration <= t) continue;
        now.open.push_back(wish(*e));
        now.heat += heat_for(now.open.back().flow, d.cold, now.open.back().temperature);
      }
      if (now.heat > most.heat || most.open.empty()) most = std::move(now);
    }
    return most;
  }

  HotWaterBoiler const& boiler(double cold) const {
    auto const key = std::lround(2 * cold);
    auto at = boilers_.find(key);
    if (at == boilers_.end()) at = boilers_.emplace(key, hot_water_boiler(in_, h_.set_point, h_.plates_flow, cold)).first;
    return at->second;
  }

  DrawCause cause_of(DrawRecord const& d, AtOnce const& now, double& given) const {
    bool const is_short = d.end == DrawEnd::never_hot &&
                          d.volume_wanted < metal_of_pipes * h_.taps[std::size_t(d.tap)].pipe_water + d.flow_wanted * start_up;
    if (!control_) return is_short ? DrawCause::pipes : d.end == DrawEnd::short_of_flow ? DrawCause::pressure : DrawCause::other;
    if (!d.fired && d.flow_wanted < *control_->start_flow) return DrawCause::start_flow;
    if (is_short) return DrawCause::pipes;
    auto const& b = boiler(d.cold);
    auto const maker = b.maker();
    if (d.end != DrawEnd::short_of_flow && d.wanted > maker.set_point - lost_in_pipes) return DrawCause::set_point;
    if (d.had_turn) return DrawCause::heating_turn;
    auto const heat = heat_at_hand(maker, d.cold);
    given = heat.most;
    if (now.heat > nearly * heat.most)
      return heat.bound == "plates" ? DrawCause::plates : heat.bound == "flow limiter" ? DrawCause::flow_limiter : DrawCause::burner;
    if (control_->operation == HotWaterControl::shared) {
      double const left = std::max(0.0, b.efficiency * b.boiler.full - heating_at(in_, record_.weather.min));
      if (now.heat > nearly * left) return given = left, DrawCause::heating;
    }
    if (now.heat < b.least_heat && in_.part(Part::storage) < 0) return given = b.least_heat, DrawCause::minimum_fire;
    return d.end == DrawEnd::short_of_flow ? DrawCause::pressure : DrawCause::other;
  }

  Installation const& in_;
  Record const& record_;
  HotWaterRecord const& h_;
  HotWaterControl filled_;
  HotWaterControl const* control_ = nullptr;
  AtOnce worst_;
  mutable std::map<long, HotWaterBoiler> boilers_;
};

/// "86 °F at the tap on average, needs 105 °F" or "62% of the flow".
Words what_came(DrawFailure const& f) {
  if (f.temperature < f.wanted - 2)
    return say("{} at the tap on average, needs {}", dhw::temperature(f.temperature), dhw::temperature(f.wanted));
  return say("{} of the flow", dhw::share(f.flow_share));
}

Words why(DrawFailure const& f, Installation const& in, HotWaterRecord const& h) {
  auto const needs = f.open > 1 ? say("{} open taps need {} at once", f.open, dhw::power(f.heat_wanted))
                                : say("it needs {}", dhw::power(f.heat_wanted));
  HotWaterControl filled;
  auto const* control = control_of(in, filled);
  switch (f.cause) {
    case DrawCause::start_flow:
      return say("a draw of {} never starts the burner, which needs {}. The water stays cold", dhw::fine_flow(f.flow_wanted),
                 dhw::fine_flow(*control->start_flow));
    case DrawCause::pipes:
      return say("they draw {} on average, while the burner starts and pipes that hold {} warm", Amount{f.volume, measure::volume},
                 Amount{h.taps[std::size_t(f.tap)].pipe_water, measure::volume});
    case DrawCause::set_point:
      return say("{} needed, hot water setpoint {}; pipes cool it a little", dhw::temperature(f.wanted), dhw::temperature(h.set_point));
    case DrawCause::heating_turn:
      return say("heating gets its turn after {} of waiting, and the water runs cold. {}", Amount{*control->longest_wait, measure::minutes},
                 what_came(f));
    case DrawCause::burner:
      return say("{}, the burner gives {}: {}", needs, dhw::power(f.heat_given), what_came(f));
    case DrawCause::plates:
      return say("{}, the heat exchanger passes {}: {}", needs, dhw::power(f.heat_given), what_came(f));
    case DrawCause::flow_limiter:
      return say("{}, the flow limiter ({}) passes {}: {}", needs,
                 Amount{*get<&FlowLimiter::flow>(in.pieces[std::size_t(in.part(Part::hot_water_limiter))]), measure::flow},
                 dhw::power(f.heat_given), what_came(f));
    case DrawCause::heating:
      return say("{}, and beside heating the burner has {} left: {}", needs, dhw::power(f.heat_given), what_came(f));
    case DrawCause::minimum_fire:
      return say("{}, minimum fire gives {}: the burner cycles and the water swings", needs, dhw::power(f.heat_given));
    case DrawCause::pressure:
      return say("{}: street pressure and pipes give no more", what_came(f));
    case DrawCause::other:
      break;
  }
  return control ? what_came(f) : say("{}. The tank ran cold, or is set too low", what_came(f));
}

Words fix_of(DrawFailure const& f, HotWaterRecord const& h) {
  if (f.cause == DrawCause::pipes) return "if that wait matters: shorter or thinner pipes, or recirculation.";
  if (f.cause == DrawCause::pressure) return "check street pressure, valves and the sizes of pipe on the way to the tap.";
  std::vector<Words> ways;
  for (auto const& r : h.remedies)
    if (helps(r, f)) ways.push_back(say("{} ({})", r.what, r.effect));
  if (ways.empty()) return "look at these draws in the report: time, flow and burner of each.";
  return say("{}. Effects are calculated; `check` simulates each.", listed(ways, ", or "));
}

Finding of_dip(RoomDip const& d) {
  return {.id = "dhw.room_dip",
          .place = d.zone,
          .severity = Severity::minor,
          .figures = {{"dip", d.before - d.lowest, measure::fine_temperature_change}, {"waited", d.waited, measure::minutes}},
          .limit = Figure{"noticed", cools_noticeably, measure::fine_temperature_change},
          .whose = common_practice,
          .words = say("{}.", dip_words(d)),
          .order = 44,
          .fix = "lower longest_wait, spread the draws, or share where no floor takes unmixed water."};
}

}  // namespace

FailedDraws failed_draws(Project const& project, Record const& record) { return Draws{project, record}.failed(); }

std::vector<Finding> hot_water_findings(Project const& project, Record const& record) {
  auto const& h = *record.hot_water;
  std::vector<Finding> all;
  for (auto const& f : h.failures) {
    bool const by_flow = f.cause == DrawCause::start_flow, by_pipes = f.cause == DrawCause::pipes;
    Figure const came = by_flow ? Figure{"flow", f.flow_wanted, measure::flow} : Figure{"temperature", f.temperature, measure::temperature};
    auto const count = [](long n) { return double(n); };
    all.push_back({.id = by_pipes ? "dhw.ended_before_hot" : "dhw.draws_fail",
                   .place = h.taps[std::size_t(f.tap)].name,
                   .severity = f.severity,
                   .figures = {came, {"failed", count(f.draws), measure::count}, {"draws", count(f.of), measure::count},
                               {"flow_share", f.flow_share, measure::share}},
                   .limit = Figure{"wanted", f.wanted, measure::temperature},
                   .whose = "what the tap is set to",
                   .words = say("{} of {} draws {}: {}.", f.draws, f.of,
                                by_pipes                         ? "end before hot water comes"
                                : f.severity == Severity::serious ? "fail"
                                                                  : "fall a little short",
                                why(f, project.installation, h)),
                   .order = by_pipes ? 8. : 85.,
                   .fix = fix_of(f, h)});
  }
  for (auto const& d : h.dips)
    if (d.waited > 0 && d.before - d.lowest >= cools_noticeably) all.push_back(of_dip(d));
  return all;
}

}  // namespace steadyfire
