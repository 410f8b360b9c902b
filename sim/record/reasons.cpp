#include "sim/record/reasons.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/core/shown_value.hpp"

namespace steadyfire {
namespace {

/// As printed, so that the words never contradict their numbers; minutes print alike in both systems.
double minutes(double seconds) { return shown_value(seconds, measure::minutes, UnitSystem::us); }
bool is_short(ReasonFigures const& f) { return f.burns > 0 && minutes(f.burn_median) < minutes(f.short_burn); }
bool is_noted(ReasonFigures const& f) { return f.burns > 0 && !is_short(f) && minutes(f.burn_median) < minutes(f.note_burn); }
bool has_many_starts(ReasonFigures const& f) { return f.starts_per_hour_worst > f.starts_limit; }
bool is_troubled(ReasonFigures const& f) { return is_short(f) || is_noted(f) || has_many_starts(f); }

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

  /// Minimum fire first: it decides about cycling, the rated size only about the coldest day.
  void size() {
    auto const least = print(f_.output_least, measure::power), most = print(f_.output_most, measure::power),
               all = print(f_.design_load, measure::power), small = print(f_.smallest_design_load, measure::power);
    if (!is_more(f_.output_least, f_.smallest_design_load)) return;
    if (is_troubled(f_))
      say("Minimum fire is too high: output {}, but the {} zone alone needs only {} on the design day.", least.words, f_.smallest_zone,
          small.words);
    else
      say("Minimum fire output is {}, more than the {} zone alone needs on the design day ({}).", least.words, f_.smallest_zone,
          small.words);
    if (f_.output_most > oversized * f_.design_load) say("Full fire is oversized: output {}, design load {}.", most.words, all.words);
    else say("Full fire fits: output {}, design load {}.", most.words, all.words);
  }

  void length_of_a_burn() {
    auto const least = print(f_.output_least, measure::power), load = print(f_.smallest_load, measure::power);
    if (!is_more(f_.output_least, f_.smallest_load)) {
      say("Minimum fire output is {}. The {} zone took {} while it called in this run, so this zone alone does not make the burner cycle; "
          "other zones, or the end of a call, still can.",
          least.words, f_.smallest_zone, load.words);
      return;
    }
    auto const water = print(f_.water, measure::volume), store = print(f_.heat_capacity, measure::heat_capacity),
               span = print(f_.differential, measure::temperature_change);
    if (!(f_.differential > 0) || !(f_.heat_capacity > 0)) return;
    auto const time = print(store.si * span.si / (least.si - load.si), measure::minutes);
    say("Minimum fire output is {}; the {} zone took {} while it called. The surplus heats {} of water and its metal ({}) through the {} "
        "on/off differential in {}.",
        least.words, f_.smallest_zone, load.words, water.words, store.words, span.words, time.words);
  }

  void burns() {
    if (f_.burns > 0 && f_.ended_hot + f_.ended_uncalled > 0) {
      say("Of {} burns, {} ended because the water reached the off temperature and {} because the last call ended.", f_.burns, f_.ended_hot,
          f_.ended_uncalled);
      if ((is_short(f_) || is_noted(f_)) && 2 * f_.ended_uncalled > f_.burns)
        say("Most burns are ended by the thermostats, not by the water temperature. Fewer thermostat cycles per hour make burns longer.");
    }
    if (is_troubled(f_)) return;
    if (f_.burns == 0)
      say("The burner started {} and no burn ended. There is no cycling; change nothing.",
          f_.starts == 1 ? "once" : fmt::format("{} times", f_.starts));
    else
      say("Cycling is fine: median burn {} ({} burns), {} in the worst hour. Change nothing.",
          show(f_.burn_median, measure::minutes, units_), f_.burns,
          f_.starts_per_hour_worst == 1 ? "1 start" : fmt::format("{} starts", f_.starts_per_hour_worst));
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
  double const rise = f.capacity_rate > 0 ? f.output_least / f.capacity_rate : 0;
  auto constexpr change = measure::fine_temperature_change;
  if (f.differential > 0 && rise > f.differential / 2)
    all.push_back({.id = "burner.one_pass",
                   .place = "",
                   .severity = Severity::minor,
                   .figures = {{"rise", rise, change},
                               {"differential", f.differential, measure::temperature_change},
                               {"flow", f.flow, measure::flow},
                               {"output_least", f.output_least, measure::power}},
                   .limit = Figure{"limit", f.differential / 2, change},
                   .whose = common_practice,
                   .words = say("temperature rise at minimum fire {} at {}, {} of the {} on/off differential; limit {} ({}). The burner "
                                "reaches its off temperature before the loop has warmed.",
                                Amount{rise, change}, Amount{f.flow, measure::flow}, Amount{rise / f.differential, measure::share},
                                Amount{f.differential, measure::temperature_change}, Amount{0.5, measure::share}, common_practice),
                   .order = 35,
                   .fix = "more flow through the boiler, lower minimum fire, or a wider on/off differential."});
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
