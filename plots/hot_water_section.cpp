#include "plots/hot_water_section.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "sim/record/hot_water_json.hpp"
#include "sim/record/hot_water_words.hpp"

namespace steadyfire {
namespace {

constexpr std::size_t most_draws = 60, most_dots = 2000;

/// "1 d 06:12": time since the start of the run.
std::string moment(double seconds) {
  long const s = std::lround(seconds);
  return (s >= 86400 ? fmt::format("{} d ", s / 86400) : "") + fmt::format("{:02}:{:02}", s / 3600 % 24, s / 60 % 60);
}

class Section {
public:
  Section(HotWaterRecord const& h, UnitSystem system, PlaceChart const& place) : h_{h}, system_{system}, place_{place} {}

  std::string html() const { return section("Hot water", words() + taps() + short_draws() + delivered() + deliverable()); }

private:
  std::string told(double si, Measure const& m) const { return printed(si, m, system_); }
  std::string waited(double seconds) const { return std::isnan(seconds) ? "–" : span(seconds); }

  std::string words() const {
    auto const& all = h_.all;
    std::string out = fmt::format(
        "{} of {} draws were OK: hot, warm enough and enough flow. {} of {} ran off before it was hot; heat short {}. "
        "Burner starts for hot water: {}.",
        all.on_target, all.draws, told(all.run_off, measure::volume), told(all.volume, measure::volume),
        told(all.energy_short, measure::energy), h_.burner_starts);
    if (h_.largest_met > 0)
      out += fmt::format(" Most flow met at one time: {} ({}).", told(h_.largest_met, measure::flow),
                         fmt::join(h_.largest_met_taps, ", "));
    if (!h_.dips.empty() && h_.dips.front().waited > 0)
      out += fmt::format(" {} {}.", h_.dips.front().zone, dip_words(h_.dips.front()).in(system_));
    auto const failed = failed_words(h_);
    return (failed.empty() ? "" : "<p><strong>" + escaped(failed.in(system_)) + ".</strong></p>") + "<p>" + escaped(out) + "</p>" + help();
  }

  std::string help() const {
    if (h_.remedies.empty()) return "";
    Table t{{"what would help", "effect, calculated"}, ""};
    for (auto const& r : h_.remedies) t.row({r.what.in(system_), r.effect.in(system_)});
    return t.html() + note("Calculated for the worst moment, in the order of effort. `steadyfire check` simulates each.");
  }

  std::string taps() const {
    Table t{
        {"tap", "draws", "drawn", "OK", "never hot", "turned cold", "low flow", "average wait", "longest wait", "heat short"},
        "numbers"};
    auto const row = [&](TapRecord const& r, std::string_view look = "") {
      t.row({r.name, std::to_string(r.draws), told(r.volume, measure::volume), std::to_string(r.on_target), std::to_string(r.never_hot),
             std::to_string(r.cooled), std::to_string(r.short_of_flow), waited(r.mean_wait()), r.waited > 0 ? span(r.wait_longest) : "–",
             told(r.energy_short, measure::energy)},
            look);
    };
    for (auto const& r : h_.taps) row(r);
    if (h_.taps.size() > 1) row(h_.all, "sum");
    return t.html();
  }

  std::string short_draws() const {
    std::vector<DrawRecord const*> sorted;
    for (auto const& d : h_.draws) sorted.push_back(&d);
    std::stable_sort(sorted.begin(), sorted.end(), [](auto const* a, auto const* b) {
      bool const x = a->end != DrawEnd::on_target, y = b->end != DrawEnd::on_target;
      return x != y ? x : x && a->energy_short > b->energy_short;
    });
    Table t{{"start", "tap", "result", "burner", "drawn", "flow", "flow needed", "temperature, average", "lowest after hot",
             "temperature needed", "wait"},
            "numbers"};
    std::size_t const shown = std::min(sorted.size(), most_draws);
    for (std::size_t i = 0; i < shown; ++i) {
      auto const& d = *sorted[i];
      t.row({moment(d.start), h_.taps[std::size_t(d.tap)].name, std::string(word_for(d.end)), d.fired ? "on" : "off",
             told(d.volume, measure::volume), told(d.flow, measure::flow), told(d.flow_wanted, measure::flow),
             told(d.delivered, measure::temperature), d.was_hot() ? told(d.lowest_after_hot, measure::temperature) : "–",
             told(d.wanted, measure::temperature), waited(d.time_to_hot)});
    }
    long const rest = long(sorted.size() - shown) + h_.draws_left_out;
    auto const words = rest > 0 ? fmt::format("{} of {} draws, the short ones first.", shown, long(shown) + rest)
                                : fmt::format("All {} draws, the short ones first.", shown);
    return shown == 0 ? "" : fmt::format("<details><summary>{}</summary>{}</details>", words, t.html());
  }

  /// Dots by time of day: by how much the water missed what was needed.
  std::string delivered() const {
    if (h_.draws.empty()) return "";
    auto const& unit = measure::fine_temperature_change.unit(system_);
    nlohmann::json dots = nlohmann::json::array();
    for (char const* label : {"not OK", "OK"})
      dots.push_back({{"label", label}, {"x", nlohmann::json::array()}, {"y", nlohmann::json::array()}});
    std::size_t const stride = h_.draws.size() / most_dots + 1;
    for (std::size_t i = 0; i < h_.draws.size(); i += stride) {
      auto const& d = h_.draws[i];
      auto& to = dots[d.end == DrawEnd::on_target ? 1 : 0];
      to["x"].push_back(std::round(std::fmod(d.start, 86400) / 36) / 100);
      to["y"].push_back(std::round(10 * unit.from_si((d.was_hot() ? d.after_hot : d.delivered) - d.wanted)) / 10);
    }
    return place_(
        "reset",
        {{"across", "hour of the day, from the start of the run"},
         {"up", "above the temperature needed [" + printed_unit(unit) + "]"},
         {"curves", nlohmann::json::array()},
         {"points", dots}},
        "Each dot is a draw at its start: average temperature once hot (of the whole draw if never hot) minus the temperature needed.");
  }

  std::string deliverable() const {
    auto const& d = h_.deliverable;
    if (d.rows.empty()) return "";
    std::string out = "<h3>Hot water available</h3>";
    for (auto const& w : d.words) out += "<p>" + escaped(w.in(system_)) + "</p>";
    Table t{{"", "incoming water", "outdoor", "at the tap", "hot water alone", "limited by", "steady from", "heating load",
             "with heating on", "limited by"},
            "numbers"};
    Measure constexpr fine{unit::gpm, unit::litre_per_second, 2, 3};
    for (auto const& r : d.rows)
      t.row({r.season.empty() ? "all year" : r.season, told(r.cold, measure::temperature), told(r.outdoors, measure::temperature),
             told(r.wanted, measure::temperature), told(r.alone, measure::flow), r.bound, told(r.least_steady, fine),
             told(r.heating, measure::power),
             told(r.beside_heating, measure::flow), r.bound_beside});
    out += t.html();
    Table rises{{"temperature rise", "flow"}, "numbers"};
    for (auto const& [rise, flow] : d.by_rise) rises.row({told(rise, measure::temperature_change), told(flow, measure::flow)});
    return out +
           note(fmt::format(
               "{} into the water at full fire, {} of the input.{}", told(d.output, measure::power), told(d.efficiency, measure::share),
               d.takes_turns ? " Heating is off meanwhile; the last columns show what would be left with heating on." : "")) +
           fmt::format("<details><summary>Flow by temperature rise, incoming water {}, burner alone</summary>{}</details>",
                       escaped(told(d.rows.front().cold, measure::temperature)), rises.html());
  }

  HotWaterRecord const& h_;
  UnitSystem system_;
  PlaceChart const& place_;
};

}  // namespace

std::string hot_water_section(HotWaterRecord const& h, UnitSystem system, PlaceChart const& place) {
  return Section{h, system, place}.html();
}

}  // namespace steadyfire
