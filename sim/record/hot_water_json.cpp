#include "sim/record/hot_water_json.hpp"

#include "sim/record/hot_water_words.hpp"

namespace steadyfire {
namespace {

Json known(double value) { return std::isnan(value) ? Json() : Json(value); }
Json known_degC(double kelvin) { return std::isnan(kelvin) ? Json() : Json(celsius(kelvin)); }

Json tap_json(TapRecord const& t) {
  return {{"draws", t.draws},
          {"on_target", t.on_target},
          {"never_hot", t.never_hot},
          {"cooled", t.cooled},
          {"short_of_flow", t.short_of_flow},
          {"without_burner", t.not_fired},
          {"volume_m3", t.volume},
          {"run_off_m3", t.run_off},
          {"energy_J", t.energy},
          {"energy_short_J", t.energy_short},
          {"time_to_hot_s", {{"mean", known(t.mean_wait())}, {"longest", t.waited > 0 ? Json(t.wait_longest) : Json()}}}};
}

Json deliverable_json(DeliverableRecord const& d, UnitSystem system) {
  Json rows = Json::array(), rises = Json::array();
  for (auto const& row : d.rows)
    rows.push_back({{"season", row.season},
                    {"cold_degC", celsius(row.cold)},
                    {"outdoors_degC", celsius(row.outdoors)},
                    {"heating_W", row.heating},
                    {"wanted_degC", celsius(row.wanted)},
                    {"alone_m3_s", row.alone},
                    {"bound_by", row.bound},
                    {"least_steady_m3_s", row.least_steady},
                    {"beside_heating_m3_s", row.beside_heating},
                    {"bound_beside_heating_by", row.bound_beside}});
  for (auto const& [rise, flow] : d.by_rise) rises.push_back({{"rise_K", rise}, {"flow_m3_s", flow}});
  return {{"output_W", d.output},
          {"output_of_boiler_W", d.output_of_boiler},
          {"efficiency", d.efficiency},
          {"heating_waits", d.takes_turns},
          {"least_output_W", d.least_output},
          {"start_flow_m3_s", d.start_flow},
          {"upper_flow_m3_s", known(d.upper_flow)},
          {"rows", std::move(rows)},
          {"by_rise", std::move(rises)},
          {"words", told(d.words, system)}};
}

Json failed_json(HotWaterRecord const& h) {
  Json failures = Json::array();
  for (auto const& f : h.failures)
    failures.push_back({{"tap", h.taps[std::size_t(f.tap)].name},
                        {"cause", word_for(f.cause)},
                        {"severity", word_for(f.severity)},
                        {"draws", f.draws},
                        {"of", f.of},
                        {"temperature_degC", {{"wanted", celsius(f.wanted)}, {"mean", celsius(f.temperature)}}},
                        {"flow_share", f.flow_share},
                        {"at_once_W", {{"wanted", f.heat_wanted}, {"given", f.heat_given}}}});
  return {{"draws", h.failed()}, {"by_tap", std::move(failures)}};
}

}  // namespace

std::string_view word_for(DrawEnd end) {
  switch (end) {
    case DrawEnd::on_target:
      return "on target";
    case DrawEnd::never_hot:
      return "never hot";
    case DrawEnd::cooled:
      return "cooled off";
    case DrawEnd::short_of_flow:
      return "short of flow";
  }
  return "";
}

Json hot_water_to_json(HotWaterRecord const& h, UnitSystem system) {
  Json taps = Json::object(), draws = Json::array(), dips = Json::array(), help = Json::array();
  for (auto const& t : h.taps) taps[t.name] = tap_json(t);
  for (auto const& d : h.draws)
    draws.push_back({{"tap", h.taps[std::size_t(d.tap)].name},
                     {"start_s", d.start},
                     {"duration_s", d.duration},
                     {"volume_m3", {{"drawn", d.volume}, {"wanted", d.volume_wanted}, {"run_off", d.run_off}}},
                     {"flow_m3_s", {{"mean", d.flow}, {"wanted", d.flow_wanted}}},
                     {"temperature_degC",
                      {{"wanted", celsius(d.wanted)},
                       {"mean", celsius(d.delivered)},
                       {"mean_after_hot", known_degC(d.after_hot)},
                       {"lowest_after_hot", known_degC(d.lowest_after_hot)}}},
                     {"time_to_hot_s", known(d.time_to_hot)},
                     {"energy_J", {{"drawn", d.energy}, {"short", d.energy_short}}},
                     {"burner_fired", d.fired},
                     {"end", word_for(d.end)}});
  for (auto const& d : h.dips)
    dips.push_back({{"zone", d.zone}, {"before_degC", celsius(d.before)}, {"lowest_degC", celsius(d.lowest)}, {"at_s", d.at},
                    {"waited_s", d.waited}});
  for (auto const& r : h.remedies) help.push_back({{"what", r.what.in(system)}, {"effect", r.effect.in(system)}, {"from", "calculated"}});
  bool const ran = h.hottest_at_taps > 0;
  return {{"set_point_degC", celsius(h.set_point)},
          {"all", tap_json(h.all)},
          {"taps", std::move(taps)},
          {"burner_starts", h.burner_starts},
          {"time_serving_s", h.time_serving},
          {"hottest_at_taps_degC", ran ? Json(celsius(h.hottest_at_taps)) : Json()},
          {"cold_degC", {{"least", ran ? Json(celsius(h.cold_least)) : Json()}, {"most", ran ? Json(celsius(h.cold_most)) : Json()}}},
          {"plates_flow_m3_s", h.plates_flow},
          {"dips", std::move(dips)},
          {"largest_met", {{"flow_m3_s", h.largest_met}, {"at_s", h.largest_met_at}, {"taps", h.largest_met_taps}}},
          {"deliverable", deliverable_json(h.deliverable, system)},
          {"failed", failed_json(h)},
          {"help", std::move(help)},
          {"draws", std::move(draws)},
          {"draws_left_out", h.draws_left_out}};
}

}  // namespace steadyfire
