#include "sim/record/cycle_arithmetic.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/core/shown_value.hpp"

namespace steadyfire {

Cycle cycle_of(double least_output, double taken, double heat_capacity, double differential, double minimum_off) {
  Cycle c;
  c.surplus = least_output - taken;
  double const store = heat_capacity * differential;
  c.rest = std::max(store / taken, minimum_off);
  if (!c.stops()) {
    c.burn = std::numeric_limits<double>::infinity();
    return c;
  }
  c.burn = c.rest * taken / c.surplus;
  c.starts_per_hour = 3600 / (c.burn + c.rest);
  return c;
}

CycleRemedies remedies_of(double least_output, double taken, double heat_capacity, double differential, double wanted) {
  double const surplus = least_output - taken, nothing = std::numeric_limits<double>::quiet_NaN();
  double const together = least_output - heat_capacity * differential / wanted;
  return {taken + heat_capacity * differential / wanted, std::max(0.0, wanted * surplus / differential - heat_capacity),
          wanted * surplus / heat_capacity, together > 0 ? together : nothing};
}

namespace {

class Teller {
 public:
  Teller(ReasonFigures const& f, UnitSystem units) : f_{f}, units_{units} {
    auto const as_printed = [&](double& si, Measure const& m) { si = shown_value(si, m, units); };
    for (double* watts : {&f_.output_least, &f_.input_least, &f_.smallest_load, &f_.smallest_design_load})
      as_printed(*watts, measure::power);
    as_printed(f_.heat_capacity, measure::heat_capacity), as_printed(f_.differential, measure::temperature_change);
    for (double* seconds : {&f_.burn_median, &f_.note_burn, &f_.minimum_off}) as_printed(*seconds, measure::minutes);
  }

  std::vector<WhyStep> tell() {
    if (f_.starts == 0) {
      step("No starts", fmt::format("In {} there was no call for the burner. Nothing cycles.", show(f_.duration, measure::hours)), "");
      return steps_;
    }
    if (f_.smallest_zone.empty() || !(f_.heat_capacity > 0) || !(f_.differential > 0) || !(f_.output_least > 0) ||
        !(f_.smallest_load > 0)) {
      step("Not enough to calculate", "No zone with a room, or no on/off differential, is stated for this boiler.", "");
      return steps_;
    }
    auto cycle = cycle_of(f_.output_least, f_.smallest_load, f_.heat_capacity, f_.differential, f_.minimum_off);
    if (cycle.stops()) {
      cycle.burn = shown_value(cycle.burn, measure::minutes, units_), cycle.rest = shown_value(cycle.rest, measure::minutes, units_);
      cycle.starts_per_hour = 3600 / (cycle.burn + cycle.rest);
    }
    givens();
    if (!cycle.stops()) {
      step("No surplus at minimum fire",
           fmt::format("The {} zone takes all of the minimum fire output, so the burner need not stop for it.", f_.smallest_zone),
           fmt::format("{} ≤ {}", power(f_.output_least), power(f_.smallest_load)));
      seen(cycle);
      return steps_;
    }
    calculate(cycle);
    seen(cycle);
    bool const is_harmless = f_.burns > 0 && f_.burn_median >= f_.note_burn && f_.starts_per_hour_worst <= f_.starts_limit;
    if (is_harmless)
      step("It does not short-cycle",
           fmt::format("Median burn {}: change nothing. The calculation holds for hours in which the {} zone calls alone.",
                       show(f_.burn_median, measure::minutes), f_.smallest_zone),
           "");
    else if (cycle.burn < f_.note_burn) remedies();
    else step("Change nothing", fmt::format("Burns of {} or more do no harm.", show(f_.note_burn, measure::minutes)), "");
    return steps_;
  }

 private:
  std::string show(double si, Measure const& m) const { return steadyfire::show(si, m, units_); }
  std::string power(double si) const { return show(si, measure::power); }
  void step(std::string title, std::string words, std::string sum) {
    steps_.push_back({std::move(title), std::move(words), std::move(sum)});
  }

  void givens() {
    step("Minimum fire output", "This much heat enters the water at minimum fire. The burner cannot go lower.",
         f_.input_least > 0 ? fmt::format("{} × {} = {}", power(f_.input_least),
                                          show(f_.output_least / f_.input_least, measure::fine_share), power(f_.output_least))
                            : power(f_.output_least));
    step(fmt::format("What the {} zone takes", f_.smallest_zone),
         fmt::format("The emitter of the smallest zone gives this much to its room{}. Its design load is {}.",
                     f_.smallest_water > 0 ? " with water at " + show(f_.smallest_water, measure::temperature) : "",
                     power(f_.smallest_design_load)),
         power(f_.smallest_load));
  }
  void calculate(Cycle const& c) {
    if (f_.one_pass_decides())
      step("One pass through the boiler",
           fmt::format(
               "While the {} zone calls alone, {} flow through the boiler. One pass raises the water by this much, more than half of the "
               "{} on/off differential: the burner stops before the loop is warm. The steps below hold for water that is warm all "
               "around, and promise longer burns than there are.",
               f_.smallest_zone, show(f_.flow, measure::flow), show(f_.differential, measure::temperature_change)),
           fmt::format("{} into {} → {}", power(f_.output_least), show(f_.flow, measure::flow),
                       show(f_.one_pass(), measure::temperature_change)));
    step("Surplus heat", "The surplus warms the water.",
         fmt::format("{} − {} = {}", power(f_.output_least), power(f_.smallest_load), power(c.surplus)));
    step("Water and metal that store it",
         fmt::format("{} of water flow while the {} zone calls. With the metal around it, it stores this much for each degree.",
                     show(f_.water, measure::volume), f_.smallest_zone),
         show(f_.heat_capacity, measure::heat_capacity));
    step("On/off differential", "The burner starts below target and stops above it.",
         show(f_.differential, measure::temperature_change));
    step("Length of a burn", "Stored heat per degree × differential ÷ surplus.",
         fmt::format("{} × {} ÷ {} = {}", show(f_.heat_capacity, measure::heat_capacity),
                     show(f_.differential, measure::temperature_change), power(c.surplus),
                     show(f_.heat_capacity * f_.differential / c.surplus, measure::minutes)));
    double const drawn = f_.heat_capacity * f_.differential / f_.smallest_load;
    bool const is_held = drawn < f_.minimum_off;
    auto const off = show(f_.minimum_off, measure::minutes);
    auto words = fmt::format("Then the {} zone draws the same heat out again", f_.smallest_zone);
    if (is_held)
      words += fmt::format(", but the minimum off time is {}: the water cools further, and burns become {}", off,
                           show(c.burn, measure::minutes));
    step("Length of the off time", words + ".",
         fmt::format("{} × {} ÷ {} = {}{}", show(f_.heat_capacity, measure::heat_capacity),
                     show(f_.differential, measure::temperature_change), power(f_.smallest_load), show(drawn, measure::minutes),
                     is_held ? ", so " + off : ""));
    step("Starts per hour", "While that zone calls alone, without a break.",
         fmt::format("60 min ÷ ({} + {}) = {:.1f} starts", show(c.burn, measure::minutes), show(c.rest, measure::minutes),
                     c.starts_per_hour));
  }
  /// The calculation beside the run, and why they may differ.
  void seen(Cycle const& c) {
    auto words = fmt::format("{} starts, {} in the worst hour", f_.starts, f_.starts_per_hour_worst);
    if (f_.burns > 0) words += fmt::format("; median burn {}", show(f_.burn_median, measure::minutes));
    long const stopped = f_.ended(BurnEnd::stop_point), dropped = f_.ended(BurnEnd::target_dropped),
               satisfied = f_.ended(BurnEnd::thermostat);
    words += fmt::format(". {} burns ended at the off temperature", stopped);
    if (dropped > 0) words += fmt::format(", {} because the target dropped", dropped);
    if (satisfied > 0) words += fmt::format(", {} when a thermostat was satisfied", satisfied);
    words += '.';
    double constexpr near = 1.4;  // of a closed form for one zone, against a day of several
    double const ratio = c.burn / std::max(1.0, f_.burn_median);
    if (c.stops() && f_.one_pass_decides()) words += " One pass through the boiler sets their length.";
    else if (c.stops() && f_.burns > 0 && stopped >= satisfied && ratio < near && ratio > 1 / near) words += " The calculation agrees.";
    else if (satisfied > stopped)
      words += " Most burns end because the calls end, not because the water is hot: the thermostats set their length. This "
               "calculation is for a zone that calls without a break.";
    else if (f_.burns > 0 && c.stops())
      words += fmt::format(" The calculation says {} for the smallest zone alone. In the run other zones call too, the fire starts above "
                           "minimum, and one pass of water through the boiler counts.",
                           show(c.burn, measure::minutes));
    step("What the run shows", words, "");
  }
  void remedies() {
    auto const r = remedies_of(f_.output_least, f_.smallest_load, f_.heat_capacity, f_.differential, f_.note_burn);
    auto const wanted = show(f_.note_burn, measure::minutes);
    double constexpr water = 4.18e6 * 0.985;  // [J/(m³·K)] near 140 °F
    step("Fix at the burner", fmt::format("This minimum fire output makes burns of {}.", wanted),
         fmt::format("{} + {} × {} ÷ {} = {}", power(f_.smallest_load), show(f_.heat_capacity, measure::heat_capacity),
                     show(f_.differential, measure::temperature_change), wanted, power(r.least_output)));
    step("Fix with water", fmt::format("A buffer tank this size, added to the water already there, makes burns of {}.", wanted),
         fmt::format("{} × {} ÷ {} − {} = {}, that is {}", wanted, power(f_.output_least - f_.smallest_load),
                     show(f_.differential, measure::temperature_change), show(f_.heat_capacity, measure::heat_capacity),
                     show(r.more_capacity, measure::heat_capacity), show(r.more_capacity / water, measure::volume)));
    step("Fix at the control", fmt::format("This on/off differential makes burns of {}; the water swings that much.", wanted),
         fmt::format("{} × {} ÷ {} = {}", wanted, power(f_.output_least - f_.smallest_load), show(f_.heat_capacity, measure::heat_capacity),
                     show(r.differential, measure::temperature_change)));
    if (!std::isnan(r.taken))
      step("Fix with load", fmt::format("Zones that call together must take this much for burns of {}.", wanted),
           fmt::format("{} − {} × {} ÷ {} = {}", power(f_.output_least), show(f_.heat_capacity, measure::heat_capacity),
                       show(f_.differential, measure::temperature_change), wanted, power(r.taken)));
  }

  ReasonFigures f_;  // as printed
  UnitSystem units_;
  std::vector<WhyStep> steps_;
};

}  // namespace

std::vector<WhyStep> why_it_cycles(ReasonFigures const& figures, UnitSystem units) { return Teller{figures, units}.tell(); }

}  // namespace steadyfire
