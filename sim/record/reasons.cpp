#include "sim/record/reasons.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "sim/core/shown_value.hpp"

namespace steadyfire {
namespace {

/// As printed, so that the words never contradict their numbers; minutes print alike in both systems.
double minutes(double seconds) { return shown_value(seconds, measure::minutes, UnitSystem::us); }
/// A start every few hours does no harm, however short its burn. Rule of thumb, no source.
bool starts_often(ReasonFigures const& f) {
  double constexpr few = 6.0 / 86400;  // [1/s]
  return f.burns > 0 && double(f.burns) > few * f.duration;
}
bool is_short(ReasonFigures const& f) { return starts_often(f) && minutes(f.burn_median) < minutes(f.short_burn); }
bool is_noted(ReasonFigures const& f) { return starts_often(f) && !is_short(f) && minutes(f.burn_median) < minutes(f.note_burn); }
bool has_many_starts(ReasonFigures const& f) { return f.starts_per_hour_worst > f.starts_limit; }
bool is_troubled(ReasonFigures const& f) { return is_short(f) || is_noted(f) || has_many_starts(f); }
/// At the off temperature while one zone, and no other, called.
long stopped_alone(ReasonFigures const& f, std::string const& zone) {
  long sum = 0;
  for (auto const& e : f.ends) sum += e.why == BurnEnd::stop_point && e.who == zone ? e.count : 0;
  return sum;
}

/// Whether a power is larger than another as either system of units prints them: their difference is told, and divided by.
bool is_more(double a, double b) {
  auto const printed = [](double si, UnitSystem units) { return shown_value(si, measure::power, units); };
  return printed(a, UnitSystem::us) > printed(b, UnitSystem::us) && printed(a, UnitSystem::si) > printed(b, UnitSystem::si);
}

/// A number as it is printed: the words, and the SI value that they say. What is decided is the same in both systems
/// of units, so that they tell the same sentences.
struct Printed {
  std::string words;
  double si;
};

class Writer {
 public:
  Writer(ReasonFigures const& f, UnitSystem units) : f_{f}, units_{units} {}

  std::vector<std::string> write() {
    if (f_.starts == 0) {
      say("The burner never started in {}.", print(f_.duration, measure::hours).words);
      return words_;
    }
    size();
    length_of_a_burn();
    burns();
    return words_;
  }

 private:
  Printed print(double si, Measure const& m) const { return {show(si, m, units_), shown_value(si, m, units_)}; }
  template <class... A>
  void say(fmt::format_string<A...> pattern, A&&... a) {
    words_.push_back(fmt::format(pattern, std::forward<A>(a)...));
  }

  /// Minimum fire first: it decides about cycling, the rated size only about the coldest day. That is told where somebody might
  /// blame it.
  void size() {
    auto const least = print(f_.output_least, measure::power), most = print(f_.output_most, measure::power),
               all = print(f_.design_load, measure::power), small = print(f_.smallest_design_load, measure::power);
    if (!is_troubled(f_) || !is_more(f_.output_least, f_.smallest_design_load)) return;
    say("Minimum fire is too high: output {}, but the {} zone alone needs only {} on the design day.", least.words, f_.smallest_zone,
        small.words);
    if (f_.output_most > oversized * f_.design_load)
      say("Full fire is oversized too (output {}, design load {}), but a smaller rating with the same minimum fire would cycle as often.",
          most.words, all.words);
  }

  void length_of_a_burn() {
    auto const least = print(f_.output_least, measure::power), load = print(f_.smallest_load, measure::power);
    auto const takes = fmt::format("Minimum fire output is {}; the {} zone takes {}{}.", least.words, f_.smallest_zone, load.words,
                                   f_.smallest_water > 0 ? " with water at " + print(f_.smallest_water, measure::temperature).words : "");
    if (!is_more(f_.output_least, f_.smallest_load)) {
      if (stopped_alone(f_, f_.smallest_zone) * 10 <= f_.burns)
        say("{} This zone alone does not make the burner cycle; {} still can.", takes,
            f_.smallest_design_load < f_.design_load ? "other zones, or the end of a call," : "the end of its call");
      else
        say("{} Steadily that is no surplus, yet {} burns ended at the off temperature while it called alone: the burner lights above "
            "minimum "
            "fire, and the water is hot before it has come down.",
            takes, stopped_alone(f_, f_.smallest_zone));
      return;
    }
    if (f_.one_pass_decides()) {
      auto const rise = print(f_.one_pass(), measure::temperature_change), span = print(f_.differential, measure::temperature_change);
      say("{} At {} one pass through the boiler raises the water by {}; the on/off differential is {}. The burner stops before the loop is "
          "warm, so the sum of stored heat and surplus does not apply.",
          takes, print(f_.flow, measure::flow).words, rise.words, span.words);
      return;
    }
    auto const water = print(f_.water, measure::volume), store = print(f_.heat_capacity, measure::heat_capacity),
               span = print(f_.differential, measure::temperature_change);
    if (!(f_.differential > 0) || !(f_.heat_capacity > 0)) return;
    auto const time = print(store.si * span.si / (least.si - load.si), measure::minutes);
    say("{} The surplus heats {} of water and its metal ({}) through the {} on/off differential in {}.", takes, water.words, store.words,
        span.words, time.words);
  }

  void burns() {
    ends();
    if (is_troubled(f_)) return;
    if (f_.burns == 0)
      say("The burner started {} and no burn ended. There is no cycling; change nothing.",
          f_.starts == 1 ? "once" : fmt::format("{} times", f_.starts));
    else
      say("Cycling is fine: median burn {} ({} burns), {} in the worst hour. Change nothing.",
          show(f_.burn_median, measure::minutes, units_), f_.burns,
          f_.starts_per_hour_worst == 1 ? "1 start" : fmt::format("{} starts", f_.starts_per_hour_worst));
  }

  /// "60 ended at the off temperature (bath calling 55, living calling 5)": the count, what ended them, and who had to do with it.
  void ends() {
    long all = 0;
    for (auto const& e : f_.ends) all += e.count;
    if (all == 0) return;
    std::string list;
    for (auto const& e : f_.ends) {
      if (&e != &*std::find_if(f_.ends.begin(), f_.ends.end(), [&](auto const& o) { return o.why == e.why; })) continue;
      list += fmt::format("{}{} {}{}{}", list.empty() ? "" : ", ", f_.ended(e.why), list.empty() ? "ended " : "", how(e.why), who(e.why));
    }
    say("Of {} {}, {}.", all, all == 1 ? "burn" : "burns", list);
    bool const are_short = is_short(f_) || is_noted(f_);
    if (are_short && 2 * f_.ended(BurnEnd::thermostat) > all)
      say("Most burns are ended by the thermostats, not by the water temperature. Fewer thermostat cycles per hour make burns longer.");
    if (4 * f_.ended(BurnEnd::target_dropped) > all)
      say("Zones of unlike water temperature share this boiler. When the hotter one is satisfied, the target drops below the water that is "
          "there, and the burner must stop.");
  }
  static char const* how(BurnEnd why) {
    switch (why) {
      case BurnEnd::stop_point:
        return "at the off temperature";
      case BurnEnd::target_dropped:
        return "because the target dropped when a call ended";
      case BurnEnd::high_limit:
        return "at the high limit";
      case BurnEnd::thermostat:
        return "when a thermostat was satisfied and no other called";
      case BurnEnd::setback:
        return "when setback began";
      case BurnEnd::tank:
        return "when the tank was hot";
      case BurnEnd::recirculation:
        return "when recirculation stopped";
      case BurnEnd::tap:
        return "when the tap was closed";
      case BurnEnd::snow:
        return "when the snow was gone";
      case BurnEnd::warm_weather:
        return "by warm-weather shutdown";
      case BurnEnd::flow_lost:
        return "because the boiler flow fell below its minimum";
      default:
        return "for other reasons";
    }
  }
  /// " (bath 12, living 3)", the three who had most to do with it; who called at the stop is told as such.
  std::string who(BurnEnd why) const {
    bool const is_calling = why == BurnEnd::stop_point || why == BurnEnd::high_limit || why == BurnEnd::flow_lost;
    std::size_t constexpr most = 3;
    std::vector<std::string> names;
    long others = 0;
    for (auto const& e : f_.ends) {
      if (e.why != why || e.who.empty()) continue;
      if (names.size() == most) others += e.count;
      else names.push_back(fmt::format("{}{} {}", e.who, is_calling ? " calling" : "", e.count));
    }
    if (names.size() == 1 && others == 0) names.front() = names.front().substr(0, names.front().rfind(' '));
    if (others > 0) names.push_back(fmt::format("others {}", others));
    return names.empty() ? "" : fmt::format(" ({})", fmt::join(names, "; "));
  }

  ReasonFigures const& f_;
  UnitSystem units_;
  std::vector<std::string> words_;
};

char const* const how_to_lengthen =
    "lower minimum fire, a wider on/off differential, more water (buffer tank), or zones that call together; run `steadyfire advise`, "
    "which tries each.";

}  // namespace

std::vector<Words> reasons(ReasonFigures const& figures) {
  auto const us = Writer{figures, UnitSystem::us}.write(), si = Writer{figures, UnitSystem::si}.write();
  std::vector<Words> all;
  for (std::size_t i = 0; i < us.size(); ++i) all.push_back(InEach{us[i], si.at(i)});
  return all;
}

std::vector<Finding> burner_findings(ReasonFigures const& f) {
  std::vector<Finding> all;
  if (f.starts == 0) return all;
  Amount const median{f.burn_median, measure::minutes}, too_short{f.short_burn, measure::minutes}, noted{f.note_burn, measure::minutes};
  double const rise = f.one_pass();
  auto constexpr change = measure::fine_temperature_change;
  if (f.one_pass_decides())
    all.push_back({.id = "burner.one_pass",
                   .place = "",
                   .severity = is_troubled(f) ? Severity::serious : Severity::minor,
                   .figures = {{"rise", rise, change},
                               {"differential", f.differential, measure::temperature_change},
                               {"flow", f.flow, measure::flow},
                               {"output_least", f.output_least, measure::power}},
                   .limit = Figure{"limit", f.differential / 2, change},
                   .whose = common_practice,
                   .words = say("temperature rise at minimum fire {} at {}, {} of the {} on/off differential; limit {} ({}). The burner "
                                "reaches its off temperature in one pass of the water, before the loop has warmed.",
                                Amount{rise, change}, Amount{f.flow, measure::flow}, Amount{rise / f.differential, measure::share},
                                Amount{f.differential, measure::temperature_change}, Amount{0.5, measure::share}, common_practice),
                   .order = is_troubled(f) ? 72.0 : 35.0,
                   .fix =
                       "lower minimum fire, more flow through the boiler (its own circulator with closely spaced tees or a separator), or "
                       "a wider on/off differential."});
  if (long const limited = f.ended(BurnEnd::high_limit); limited > 0)
    all.push_back(
        {.id = "burner.high_limit",
         .place = "",
         .severity = Severity::serious,
         .figures = {{"burns_at_high_limit", double(limited), measure::count}, {"burns", double(f.burns), measure::count}},
         .limit = std::nullopt,
         .whose = common_practice,
         .words = say("{} of {} burns ended at the high limit. It is a safety control: the operating control must stop the burner "
                      "before.",
                      limited, f.burns),
         .order = 75,
         .fix = "lower the target or the off differential until the off temperature is below the high limit, or find what holds the "
                "flow back."});
  std::vector<Figure> const figures{{"burn_median", f.burn_median, measure::minutes}, {"burns", double(f.burns), measure::count}};
  if (is_short(f))
    all.push_back({.id = "burner.short_burns",
                   .place = "",
                   .severity = Severity::serious,
                   .figures = figures,
                   .limit = Figure{"short_burn", f.short_burn, measure::minutes},
                   .whose = common_practice,
                   .words = say("median burn {} ({} burns), minimum {} ({}). Shorter burns hardly warm the boiler before they end.", median,
                                f.burns, too_short, common_practice),
                   .order = 70,
                   .fix = how_to_lengthen});
  if (is_noted(f))
    all.push_back({.id = "burner.burns_noted",
                   .place = "",
                   .severity = Severity::note,
                   .figures = figures,
                   .limit = Figure{"note_burn", f.note_burn, measure::minutes},
                   .whose = common_practice,
                   .words = say("median burn {} ({} burns). Under {} is worth a look; under {} is too short ({}).", median, f.burns, noted,
                                too_short, common_practice),
                   .order = 10,
                   .fix = how_to_lengthen});
  if (has_many_starts(f))
    all.push_back({.id = "burner.many_starts",
                   .place = "",
                   .severity = Severity::serious,
                   .figures = {{"starts_per_hour_worst", double(f.starts_per_hour_worst), measure::count}},
                   .limit = Figure{"starts_limit", double(f.starts_limit), measure::count},
                   .whose = common_practice,
                   .words = say("{} starts in the worst hour, limit {} ({}). More wears out igniter and fan.", f.starts_per_hour_worst,
                                f.starts_limit, common_practice),
                   .order = 60 + std::min(15.0, double(f.starts_per_hour_worst - f.starts_limit)),
                   .fix = how_to_lengthen});
  return all;
}

}  // namespace steadyfire
