#include "tools/cli/hot_water_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "sim/record/hot_water_words.hpp"

namespace steadyfire::cli {
namespace {
constexpr Measure fine_flow{unit::gpm, unit::litre_per_second, 2, 3};
}

std::string hot_water_words(HotWaterRecord const& h, UnitSystem system) {
  auto const tell = [&](double si, Measure const& m) { return show(si, m, system); };
  auto const row = [](auto const&... cells) { return "  " + fmt::format("{:<14}{:>7}{:>12}{:>11}{:>11}{:>13}{:>11}{:>14}\n", cells...); };
  std::string text = row("hot water", "draws", "drawn", "OK", "never hot", "turned cold", "low flow", "average wait");
  auto const tap = [&](TapRecord const& t) {
    text += row(t.name, t.draws, tell(t.volume, measure::volume), t.on_target, t.never_hot, t.cooled, t.short_of_flow,
                t.waited > 0 ? tell(t.mean_wait(), measure::seconds) : "-");
  };
  for (auto const& t : h.taps) tap(t);
  if (h.taps.size() > 1) tap(h.all);
  text += fmt::format("  burner starts for hot water {}; heat delivered {}, heat short {}; {} run off before it was hot\n", h.burner_starts,
                      tell(h.all.energy, measure::energy), tell(h.all.energy_short, measure::energy), tell(h.all.run_off, measure::volume));
  if (h.largest_met > 0)
    text += fmt::format("  most flow met at one time: {} ({})\n", tell(h.largest_met, measure::flow),
                        fmt::join(h.largest_met_taps, ", "));
  bool const dipped = !h.dips.empty() && h.dips.front().waited > 0;
  for (auto const& w : {failed_words(h), dipped ? say("{} {}", h.dips.front().zone, dip_words(h.dips.front())) : Words(), help_words(h)})
    if (!w.empty()) text += "  " + w.in(system) + "\n";
  auto const& d = h.deliverable;
  if (d.rows.empty()) return text;
  text += fmt::format("\n  hot water available with {} into the water{}\n", tell(d.output, measure::power),
                      d.takes_turns ? "; heating is off meanwhile, so the last columns show what would be left with heating on" : "");
  auto const line = [](auto const&... cells) { return "  " + fmt::format("{:<23}{:>9}{:>9}{:>11} {:<13}{:>12}{:>13}{:>14}\n", cells...); };
  text += line("", "incoming", "target", "most flow", "limited by", "steady from", "heating", "with heating");
  for (auto const& r : d.rows)
    text += line(r.season.empty() ? "all year" : r.season, tell(r.cold, measure::temperature), tell(r.wanted, measure::temperature),
                 tell(r.alone, measure::flow), r.bound, tell(r.least_steady, fine_flow), tell(r.heating, measure::power),
                 tell(r.beside_heating, measure::flow));
  for (auto const& w : d.words) text += "  " + w.in(system) + "\n";
  return text;
}

}  // namespace steadyfire::cli
