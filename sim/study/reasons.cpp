#include "sim/study/reasons.hpp"

#include <fmt/format.h>

#include <cmath>

#include "sim/core/shown_value.hpp"

namespace steadyfire {
namespace {

Unit<Conductance::dimension> constexpr kBtu_per_hour_degF{"kBtu/(h.degF)", unit::Btu / 2}, kilowatt_per_kelvin{"kW/K", 1e3};
Measure constexpr capacity_rate{kBtu_per_hour_degF, kilowatt_per_kelvin, 2, 3};

/// A number as it is printed: the words, and the SI value that they say.
struct Printed {
  std::string words;
  double si;
};

class Writer {
 public:
  Writer(ReasonFigures const& f, UnitSystem units) : f_{f}, units_{units} {}

  Reasons write() {
    if (f_.starts == 0) {
      say("the burner never started in {}", print(f_.duration, measure::hours).words);
      return result_;
    }
    size();
    warm_up();
    one_pass();
    burns();
    return result_;
  }

 private:
  Printed print(double si, Measure const& m) const {
    return {show(si, m, units_), shown_value(si, m, units_)};
  }
  template <class... A>
  std::string const& say(fmt::format_string<A...> pattern, A&&... a) {
    return result_.words.emplace_back(fmt::format(pattern, std::forward<A>(a)...));
  }
  void find(Finding f) { result_.findings.push_back(std::move(f)); }

  void size() {
    double constexpr little_more = 1.3;  // of the design load: not worth calling too big
    auto const least = print(f_.output_least, measure::power), most = print(f_.output_most, measure::power),
               all = print(f_.design_load, measure::power), small = print(f_.smallest_design_load, measure::power);
    bool const too_big_below = least.si > small.si, too_big_above = most.si > little_more * all.si;
    if (too_big_below && !too_big_above)
      say("the boiler isn't too big at the top: it gives {} for a design load of {}; "
          "it is too big at the bottom: it gives {} at its lowest, and on a design day the {} zone alone takes {}",
          most.words, all.words, least.words, f_.smallest_zone, small.words);
    else if (too_big_below)
      say("the boiler is too big at both ends: it gives {} for a design load of {}, and {} at its lowest where on a design day the {} zone "
          "alone takes {}",
          most.words, all.words, least.words, f_.smallest_zone, small.words);
  }

  void warm_up() {
    auto const least = print(f_.output_least, measure::power), load = print(f_.smallest_load, measure::power);
    if (least.si <= load.si) {
      say("{} leaves the burner at its lowest and the {} zone takes {} while it calls: it can burn without stopping", least.words,
          f_.smallest_zone, load.words);
      return;
    }
    auto const water = print(f_.water, measure::volume), store = print(f_.heat_capacity, measure::heat_capacity),
               span = print(f_.differential, measure::temperature_change);
    if (!(span.si > 0) || !(store.si > 0)) return;
    auto const time = print(store.si * span.si / (least.si - load.si), measure::minutes);
    say("{} leaves the burner at its lowest and the {} zone takes {} while it calls: the rest warms {} of water and its metal, {} in all, "
        "through {} in {}",
        least.words, f_.smallest_zone, load.words, water.words, store.words, span.words, time.words);
  }

  void one_pass() {
    auto const least = print(f_.output_least, measure::power), flow = print(f_.flow, measure::flow),
               rate = print(f_.capacity_rate, capacity_rate), span = print(f_.differential, measure::temperature_change);
    if (!(rate.si > 0) || !(span.si > 0)) return;
    auto const rise = print(least.si / rate.si, measure::fine_temperature_change);
    double const share = rise.si / span.si;
    if (share <= 0.5) return;
    auto const& words =
        say("{} carries {}: one pass through the boiler with {} at its lowest already raises it by {}, {:.0f} % of the {} between start "
            "and stop",
            flow.words, rate.words, least.words, rise.words, 100 * share, span.words);
    find({"burner.one_pass",
          "boiler",
          "minor",
          {{"rise", rise.si, measure::fine_temperature_change},
           {"differential", span.si, measure::temperature_change},
           {"flow", f_.flow, measure::flow},
           {"output_least", f_.output_least, measure::power}},
          Figure{"limit", span.si / 2, measure::fine_temperature_change},
          common_practice,
          words,
          35});
  }

  void burns() {
    auto const median = print(f_.burn_median, measure::minutes), too_short = print(f_.short_burn, measure::minutes),
               noted = print(f_.note_burn, measure::minutes);
    bool const is_short = f_.burns > 0 && median.si < too_short.si;  // as printed, so that the words never contradict their numbers
    bool const is_noted = f_.burns > 0 && !is_short && median.si < noted.si;
    bool const many = f_.starts_per_hour_worst > f_.starts_limit;
    std::vector<Figure> const figures{{"burn_median", f_.burn_median, measure::seconds}, {"burns", double(f_.burns), measure::count}};
    if (is_short)
      find({"burner.short_burns", "boiler", "serious", figures, Figure{"short_burn", f_.short_burn, measure::seconds}, common_practice,
            fmt::format("half of its {} burns last {} or less; below {} a burn hardly warms the boiler before it ends", f_.burns,
                        median.words, too_short.words),
            70});
    if (is_noted)
      find({"burner.burns_noted", "boiler", "note", figures, Figure{"note_burn", f_.note_burn, measure::seconds}, common_practice,
            fmt::format("half of its {} burns last {} or less: below {}, though not below {}", f_.burns, median.words, noted.words,
                        too_short.words),
            10});
    if (many)
      find({"burner.many_starts", "boiler", "serious", {{"starts_per_hour_worst", double(f_.starts_per_hour_worst), measure::count}},
            Figure{"starts_limit", double(f_.starts_limit), measure::count}, common_practice,
            fmt::format("starts {} times within one hour; more than {} wear igniter and fan", f_.starts_per_hour_worst, f_.starts_limit),
            60 + std::min(15.0, double(f_.starts_per_hour_worst - f_.starts_limit))});
    if (f_.burns > 0 && f_.ended_hot + f_.ended_uncalled > 0)
      say("of {} burns {} ended at the stop point and {} with the last call{}", f_.burns, f_.ended_hot, f_.ended_uncalled,
          (is_short || is_noted) && 2 * f_.ended_uncalled > f_.burns
              ? ": most are cut short by the thermostats, not by hot water; fewer cycles an hour make them longer"
              : "");
    if (is_short || is_noted || many) return;
    if (f_.burns == 0)
      say("the burner lit {} and no burn ended: nothing cycles, leave it alone",
          f_.starts == 1 ? "once" : fmt::format("{} times", f_.starts));
    else
      say("half of the {} burns last {} or more, {} at most in any hour: cycling does no harm here, leave it alone", f_.burns, median.words,
          f_.starts_per_hour_worst == 1 ? "1 start" : fmt::format("{} starts", f_.starts_per_hour_worst));
  }

  ReasonFigures const& f_;
  UnitSystem units_;
  Reasons result_;
};

}  // namespace

Reasons explain(ReasonFigures const& figures, UnitSystem units) { return Writer{figures, units}.write(); }

}  // namespace steadyfire
