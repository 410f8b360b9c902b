#include <cmath>

#include "sim/record/hot_water_json.hpp"
#include "sim/record/reasons.hpp"
#include "sim/record/record_json.hpp"

namespace steadyfire {
namespace {

Json burner_json(BurnerRecord const& b) {
  Json ended = Json::object();
  for (auto const& [cause, count] : b.ends) ended[std::string(name_of(cause))] = count;
  Json ended_by = Json::array();
  for (auto const& e : b.ended_by) ended_by.push_back({{"why", name_of(e.why)}, {"who", e.who}, {"count", e.count}});
  bool const has_burns = !b.burns.empty();
  auto const of_burns = [&](double value) { return has_burns ? Json(value) : Json(); };
  return {{"name", b.name},
          {"starts", b.starts},
          {"starts_per_hour_worst", b.starts_per_hour_worst},
          {"worst_hour_at_s", b.starts > 0 ? Json(b.worst_hour_at) : Json()},
          {"starts_by_day", b.starts_by_day},
          {"burn_s", {{"shortest", of_burns(b.burn_shortest)}, {"median", of_burns(b.burn_median)}, {"longest", of_burns(b.burn_longest)}}},
          {"burns_s", b.burns},
          {"burns_ended", ended},
          {"burns_ended_by", std::move(ended_by)},
          {"near_stops", b.near_stops},
          {"time_s", {{"firing", b.time_firing}, {"condensing", b.time_condensing}}},
          {"input_W", {{"least", b.input_least}, {"most", b.input_most}}},
          {"output_least_W", b.output_least}};
}

Json zone_json(ZoneRecord const& z) {
  return {{"emitter", z.emitter},
          {"room_degC",
           {{"min", celsius(z.room_min)}, {"mean", celsius(z.room_mean)}, {"max", celsius(z.room_max)}, {"setting", celsius(z.setting)}}},
          {"overshoot_Ks", z.overshoot},
          {"undershoot_Ks", z.undershoot},
          {"too_cold_s", z.cold.time},
          {"too_warm_s", z.warm.time},
          {"recovery_s", z.recovery},
          {"call_s", {{"longest", z.longest_call}, {"all", z.call_time}}},
          {"heat_J", z.heat},
          {"design_load_W", z.design_load}};
}

Json energy_json(EnergyRecord const& e) {
  Json j{{"fuel_J", e.fuel},     {"electricity_J", e.electricity}, {"useful_J", e.useful},
         {"losses_J", e.losses}, {"stored_J", e.stored},           {"closure", e.closure},
         {"from_boiler_J", e.from_boiler}, {"to_rooms_J", e.to_rooms}};
  if (e.cost) j["cost_money"] = *e.cost;
  if (e.carbon) j["carbon_kg"] = *e.carbon;
  return j;
}

Json track_json(Track const& t) {
  Json channels = Json::object();
  for (auto const& c : t.channels) {
    auto const values = [&](std::vector<float> const& of) {
      Json::array_t list;
      list.reserve(of.size());
      for (float const v : of) list.emplace_back(shown_value(v, c.measure));
      return list;
    };
    Json const bins{{"least", values(c.least)}, {"mean", values(c.mean)}, {"most", values(c.most)}};
    Json channel{{"label", c.label}, {"group", c.group}};
    auto const group = json_key("", c.measure);
    channel[group.empty() ? "bins" : "bins" + group] = bins;
    channels[c.id] = std::move(channel);
  }
  return {{"start_s", t.start}, {"step_s", t.step}, {"channels", std::move(channels)}};
}

Json moments_json(std::vector<Moment> const& all) {
  Json list = Json::array();
  for (auto const& m : all) {
    Json leaving = Json::array();
    for (double const t : m.temperature) leaving.push_back(celsius(t));
    list.push_back({{"time_s", m.time}, {"words", m.words}, {"flow_m3_s", m.flow}, {"leaving_degC", std::move(leaving)}});
  }
  return list;
}

Json drawing_json(Drawing const& d, Moment const& m, std::vector<Moment> const& moments) {
  Json limbs = Json::array();
  for (std::size_t i = 0; i < d.limbs.size(); ++i) {
    auto const& l = d.limbs[i];
    Json j{{"id", l.id},     {"kind", l.kind}, {"label", l.label}, {"zone", l.zone},
           {"from", l.from}, {"to", l.to},     {"limb", l.limb},   {"role", l.role}};
    if (i < m.flow.size()) j["flow_m3_s"] = m.flow[i], j["leaving_degC"] = celsius(m.temperature[i]);
    limbs.push_back(std::move(j));
  }
  return {{"joints", d.joints}, {"moment", {{"time_s", m.time}, {"words", m.words}}}, {"limbs", std::move(limbs)},
          {"moments", moments_json(moments)}};
}

Json resets_json(std::vector<ResetRecord> const& all) {
  Json list = Json::array();
  for (auto const& r : all) {
    Json points = Json::array();
    for (auto const& [outdoors, supply] : r.curve) points.push_back({{"outdoors", celsius(outdoors)}, {"supply", celsius(supply)}});
    list.push_back({{"name", r.name}, {"curve_degC", std::move(points)}});
  }
  return list;
}

Json band_json(Band const& b) {
  auto const end = [&](BandEnd const& e) -> Json {
    Json j{{json_key("value", b.measure), json_value(e.value, b.measure)}};
    if (!e.incomplete.empty()) j["incomplete"] = e.incomplete;
    else
      j.update({{"starts", e.starts},
                {"starts_per_hour_worst", e.starts_per_hour_worst},
                {"burn_median_s", e.burn_median > 0 ? Json(e.burn_median) : Json()},
                {"coldest_room_degC", celsius(e.coldest_room)},
                {"fuel_J", e.fuel}});
    return j;
  };
  return {{"place", b.place}, {"key", b.key}, {"low", end(b.low)}, {"high", end(b.high)}};
}

Json band_json(std::vector<Band> const& all) {
  Json list = Json::array();
  for (auto const& b : all) list.push_back(band_json(b));
  return list;
}

}  // namespace

Json run_to_json(Record const& r, UnitSystem system) {
  Json others = Json::array();
  for (auto const& b : r.other_burners) others.push_back(burner_json(b));
  Json zones = Json::object(), events = Json::array(), points = Json::array();
  for (auto const& z : r.zones) zones[z.name] = zone_json(z);
  for (auto const& e : r.events)
    events.push_back({{"time_s", e.time}, {"place", e.place}, {"what", e.what}, {"why", e.why.in(system)},
                      {"cause", name_of(e.cause)}});
  for (auto const& p : r.points)
    points.push_back({{"outdoors_degC", celsius(p.outdoors)}, {"supply_degC", celsius(p.supply)}, {"fire", p.fire}});
  auto const& w = r.weather;
  bool const fired = r.burner.time_firing > 0;
  auto const water = [&](double kelvin) { return fired ? Json(celsius(kelvin)) : Json(); };
  Json json{
      {"format", 1},
      {"title", r.title},
      {"program_version", r.program_version},
      {"duration_s", r.duration},
      {"incomplete", r.incomplete},
      {"burner", burner_json(r.burner)},
      {"other_burners", std::move(others)},
      {"supply_degC", {{"min", water(r.supply_min)}, {"mean", water(r.supply_mean)}, {"max", water(r.supply_max)}}},
      {"return_degC", {{"min", water(r.return_min)}, {"mean", water(r.return_mean)}, {"max", water(r.return_max)}}},
      {"energy", energy_json(r.energy)},
      {"zones", std::move(zones)},
      {"weather",
       {{"source", w.source},
        {"outdoors_degC",
         {{"min", celsius(w.min)}, {"mean", celsius(w.mean)}, {"max", celsius(w.max)}, {"cold_1_percent", celsius(w.cold_1_percent)}}},
        {"degree_days_65F_Kd", w.degree_days_65F},
        {"hours", w.hours}}},
      {"reasons", told(reasons(r.why), system)},
      {"findings", findings_to_json(r.findings, system)},
      {"assumptions", assumptions_to_json(r.assumptions)},
      {"stop_point", r.stop_point ? band_json(*r.stop_point) : Json()},
      {"band", band_json(r.band)},
      {"cautions", told(r.cautions, system)},
      {"resets", resets_json(r.resets)},
      {"points", std::move(points)},
      {"drawing", drawing_json(r.drawing, r.moment, r.moments)},
      {"tracks", {{"whole", track_json(r.whole)}, {"closeup", track_json(r.closeup)}}},
      {"events", std::move(events)},
      {"events_left_out", r.events_left_out}};
  json["flue_gas"] = nullptr;
  if (auto const& f = r.flue_gas)
    json["flue_gas"] = {{"oxygen_dry", f->oxygen}, {"carbon_dioxide_dry", f->carbon_dioxide}, {"water_share", f->water},
                        {"dew_point_degC", celsius(f->dew_point)}, {"pressure_Pa", f->pressure}};
  if (r.hot_water) json["hot_water"] = hot_water_to_json(*r.hot_water, system);
  return json;
}

}  // namespace steadyfire
