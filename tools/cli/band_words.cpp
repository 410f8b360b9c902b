#include "tools/cli/band_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "tools/job/catalog.hpp"
#include "tools/cli/running.hpp"

namespace steadyfire::cli {
namespace {

std::size_t constexpr most_rows = 10;

double share_of_change(double end, double middle) { return std::abs(end - middle) / std::max(std::abs(middle), 1e-9); }

/// How far an end moves the answer, to tell the weightiest first: shares of starts, burn and fuel, tenths of a room's 10 K.
double weight(BandEnd const& end, BandEnd const& middle) {
  if (!end.incomplete.empty()) return 1e9;
  return std::max({share_of_change(double(end.starts), double(std::max(middle.starts, 1L))), share_of_change(end.fuel, middle.fuel),
                   middle.burn_median > 0 ? share_of_change(end.burn_median, middle.burn_median) : 0,
                   std::abs(end.coldest_room - middle.coldest_room) / 10});
}

/// "12.4 min (8.0 to 14.1)", or the value alone where nothing moves it.
std::string with_range(double middle, double low, double high, Measure const& m, UnitSystem system) {
  auto const tell = [&](double si) { return show(si, m, system); };
  auto const bare = [&](double si) { auto const words = tell(si); return words.substr(0, words.find(' ')); };
  return bare(low) == bare(high) ? tell(middle) : fmt::format("{} ({} to {})", tell(middle), bare(low), bare(high));
}

struct Range {
  double low, high;
  explicit Range(double middle) : low{middle}, high{middle} {}
  void add(double x) { low = std::min(low, x), high = std::max(high, x); }
};

}  // namespace

Suppose supposing(Project const& project, Document const& document, UnitSystem system) {
  return [&project, &document, system](Assumption const& a, double value) {
    Diagnostics faults;
    auto const changed = suppose(project, document, catalog(), {a.place, a.key, value}, faults);
    SupposedCase supposed;
    if (!faults.empty()) {
      supposed.fault = "conflicts with a stated value";
      return supposed;
    }
    supposed.installation = changed.installation, supposed.flows = flows_options_of(changed);
    if (changed.is_house) supposed.run = options_of(changed);
    return supposed;
  };
}

std::string band_words(Record const& r, UnitSystem system) {
  if (r.band.empty()) return "";
  auto const middle = outcome(r, 0);
  Range starts{double(middle.starts)}, worst{double(middle.starts_per_hour_worst)}, burn{middle.burn_median}, room{middle.coldest_room},
      fuel{middle.fuel};
  for (auto const& b : r.band)
    for (auto const* e : {&b.low, &b.high}) {
      if (!e->incomplete.empty()) continue;
      starts.add(double(e->starts)), worst.add(e->starts_per_hour_worst), room.add(e->coldest_room), fuel.add(e->fuel);
      if (e->burn_median > 0) burn.add(e->burn_median);
    }
  auto const told = [&](double value, Range const& range, Measure const& m) { return with_range(value, range.low, range.high, m, system); };
  auto text = fmt::format(
      "Range check: each assumed value at both ends of its usual range, the others in the middle\n"
      "  {} starts, {} in the worst hour, median burn {}, coldest room {} on average, fuel {}\n\n",
      told(double(middle.starts), starts, measure::count), told(middle.starts_per_hour_worst, worst, measure::count),
      told(middle.burn_median, burn, measure::minutes), told(middle.coldest_room, room, measure::fine_temperature),
      told(middle.fuel, fuel, measure::fuel));
  auto order = r.band;
  std::stable_sort(order.begin(), order.end(), [&](auto const& a, auto const& b) {
    return std::max(weight(a.low, middle), weight(a.high, middle)) > std::max(weight(b.low, middle), weight(b.high, middle));
  });
  auto const row = [&](std::string const& what, std::string const& at, BandEnd const& e) {
    if (!e.incomplete.empty()) return fmt::format("  {:<34}{:>20}  {}\n", what, at, e.incomplete);
    return fmt::format("  {:<34}{:>20}{:>8}{:>8}{:>12}{:>12}{:>14}\n", what, at, e.starts, e.starts_per_hour_worst,
                       e.burn_median > 0 ? show(e.burn_median, measure::minutes, system) : "-",
                       show(e.coldest_room, measure::fine_temperature, system), show(e.fuel, measure::fuel, system));
  };
  text += fmt::format("  {:<34}{:>20}{:>8}{:>8}{:>12}{:>12}{:>14}\n", "assumed value", "set to", "starts", "worst h", "median", "coldest",
                      "fuel");
  text += row("all assumed values in the middle", "", middle);
  for (std::size_t i = 0; i < std::min(order.size(), most_rows); ++i)
    for (auto const* e : {&order[i].low, &order[i].high})
      text += row(order[i].place + " " + order[i].key, show(e->value, order[i].measure, system), *e);
  if (order.size() > most_rows)
    text += fmt::format("  {} more values matter less; see --json or --csv\n", order.size() - most_rows);
  return text + "Effects do not add up. On a short-cycling day, ignore differences of 5% or less in starts.\n\n";
}

std::string band_words(FlowsRecord const& r, UnitSystem system) {
  if (r.band.empty()) return "";
  auto const& state = r.states.at(r.band_state);
  auto text = fmt::format(
      "\nRange check with {} calling: each assumed value at both ends of its usual range, the others in the middle\n",
      state.calling);
  if (!r.band_zones.empty())
    text += fmt::format("  of the values of single zones, those of the {} zones with the least heat for their load\n", r.band_zones.size());
  text += fmt::format("  {:<14}{:>26}{:>26}  {}\n", "zone", "flow", "room", "depends most on");
  for (std::size_t i = 0; i < state.zones.size(); ++i) {
    auto const& z = state.zones[i];
    if (!r.band_zones.empty() && std::find(r.band_zones.begin(), r.band_zones.end(), z.name) == r.band_zones.end()) continue;
    Range got{z.got}, room{z.room};
    double most = 0;
    std::string by = "nothing";
    for (auto const& b : r.band)
      for (auto const* zones : {&b.low, &b.high}) {
        if (zones->size() != state.zones.size()) continue;
        auto const& end = (*zones)[i];
        got.add(end.got), room.add(end.room);
        if (std::abs(end.room - z.room) > most + 1e-6) most = std::abs(end.room - z.room), by = b.place + " " + b.key;
      }
    text += fmt::format("  {:<14}{:>26}{:>26}  {}\n", z.name, with_range(z.got, got.low, got.high, measure::flow, system),
                        with_range(z.room, room.low, room.high, measure::temperature, system), by);
  }
  return text;
}

}  // namespace steadyfire::cli
