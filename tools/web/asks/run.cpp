// A march through the scenario's own days.

#include <fmt/format.h>

#include "plots/charts.hpp"
#include "plots/network_drawing.hpp"
#include "plots/page_parts.hpp"
#include "plots/run_parts.hpp"
#include "sim/record/reasons.hpp"
#include "sim/record/cycle_arithmetic.hpp"
#include "tools/web/asks/asks.hpp"
#include "tools/web/edits.hpp"
#include "tools/web/watched_run.hpp"

namespace steadyfire::web {
namespace {

constexpr std::size_t most_numbers = 60'000, most_numbers_quick = 24'000;  // of one chart over time
constexpr std::size_t most_repaintings = 15'000, most_events = 3000;

Json zones_json(Record const& r, UnitSystem units) {
  Json zones = Json::array();
  auto const tell = [&](double si, Measure const& m) { return printed(si, m, units); };
  for (auto const& z : r.zones)
    zones.push_back({{"name", z.name},
                     {"figures", {shown("lowest", tell(z.room_min, measure::fine_temperature)),
                                  shown("average", tell(z.room_mean, measure::fine_temperature)),
                                  shown("highest", tell(z.room_max, measure::fine_temperature)),
                                  shown("setpoint", tell(z.setting, measure::fine_temperature)),
                                  shown("too warm", tell(z.overshoot, measure::degree_hours)),
                                  shown("too cold", tell(z.undershoot, measure::degree_hours)),
                                  shown("heat", tell(z.heat, measure::energy)),
                                  shown("time calling", tell(z.call_time, measure::hours))}}});
  return zones;
}

Json energy_json(EnergyRecord const& e, UnitSystem units) {
  Json rows = Json::array();
  for (auto const& r : energy_rows(e, units))
    rows.push_back(shown(r.what, r.energy.empty() || r.share.empty() ? r.energy + r.share : r.energy + ", " + r.share + " of the fuel"));
  return rows;
}

Json events_json(Record const& r, UnitSystem system) {
  Json events = Json::array();
  for (auto const& e : r.events) {
    if (events.size() == most_events) break;
    events.push_back(
        {{"time", e.time}, {"clock", clock(e.time)}, {"place", e.place}, {"what", e.what}, {"why", e.why.in(system)}});
  }
  return events;
}

/// What a rough run leaves open.
std::string quick_words(UnitSystem units) {
  double constexpr rooms = 0.05;  // [K] on the shipped days
  return fmt::format(
      "Quick run, less exact: starts within 5%, fuel within 1%, rooms within {} on average, median burn within 10%. Let go for the full "
      "run.",
      printed(rooms, Measure{unit::degF_change, unit::kelvin, 1, 2}, units));
}

}  // namespace

Json run(Json const& request, Listener const& listener) {
  auto scenario = scenario_of(request);
  try {
    scenario.text = with_edits(request, scenario.text);
  } catch (BadInput const&) {  // what TOML cannot parse is not edited; its fault is told below
  }
  bool const is_quick = flag_under(request, "quick");
  auto const r = read(scenario);
  Json answer{{"faults", r.faults_json()}, {"text", scenario.text}};
  if (r.is_good() && !r.project.is_house) answer["faults"].push_back(not_a_house());
  if (!answer["faults"].empty()) return answer;

  auto const as_stated = options_of(r.project), options = is_quick ? roughly(as_stated) : as_stated;
  Shares shares{listener};
  auto const record = watched_run(r.project, options, scenario.units, listener, shares, !is_quick);

  answer["title"] = record.title, answer["incomplete"] = record.incomplete;
  answer["reasons"] = Json::array();
  for (auto const& why : reasons(record.why)) answer["reasons"].push_back(why.in(scenario.units));
  answer["why"] = Json::array();
  for (auto const& step : why_it_cycles(record.why, scenario.units))
    answer["why"].push_back({{"title", step.title}, {"words", step.words}, {"sum", step.sum}});
  answer["key"] = Json::array();
  for (auto const& f : key_figures(record)) answer["key"].push_back(shown(f.name, printed(f.value, f.measure, scenario.units)));
  answer["findings"] = to_json(record.findings, scenario.units), answer["cautions"] = Json::array();
  for (auto const& c : record.cautions) answer["cautions"].push_back(c.in(scenario.units));
  answer["over_time"] = chart::over_time(finest_whole(record), scenario.units, is_quick ? most_numbers_quick : most_numbers);
  answer["reset"] = chart::resets(record.resets, record.points, scenario.units);
  answer["zones"] = zones_json(record, scenario.units), answer["energy"] = energy_json(record.energy, scenario.units);
  answer["quick"] = is_quick ? quick_words(scenario.units) : "";
  if (is_quick) return answer;

  auto const moments = moments_to_choose(record, most_repaintings);
  answer["svg"] = draw_network(record.drawing, &record.moment, scenario.units, moments);
  answer["repaintings"] = repaintings(record.drawing, record.moment, scenario.units, moments);
  answer["events"] = events_json(record, scenario.units);
  answer["events_left_out"] = long(record.events.size() - answer["events"].size()) + record.events_left_out;
  answer["burns"] = chart::burn_lengths(record.burner.burns), answer["heat"] = chart::zone_heat(record.zones, scenario.units);
  return answer;
}

}  // namespace steadyfire::web
