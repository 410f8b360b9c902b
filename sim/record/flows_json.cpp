#include "sim/record/json_parts.hpp"
#include "sim/record/record_json.hpp"

namespace steadyfire {

namespace {

Json edges(FlowState const& state) {
  Json all = Json::object();
  for (auto const& e : state.edges) {
    Json j{{"kind", e.kind}, {"zone", e.zone}, {"flow_m3_s", e.flow}, {"head_loss_m", e.head_loss}};
    auto const add = [&](char const* key, std::optional<double> const& value) { if (value) j[key] = *value; };
    if (e.fall != 0) j["fall_m"] = e.fall;
    if (!e.is_purgeable) j["purgeable"] = false;
    add("diameter_m", e.diameter);
    add("velocity_m_s", e.velocity);
    add("reynolds", e.reynolds);
    add("friction_factor", e.friction_factor);
    add("head_gradient", e.head_gradient);
    all[e.name] = std::move(j);
  }
  return all;
}

Json zones(std::vector<ZoneFlow> const& of) {
  Json all = Json::object();
  for (auto const& z : of)
    all[z.name] = {{"wanted_flow_m3_s", z.wanted}, {"flow_m3_s", z.got}, {"drop_K", z.drop}, {"head_m", z.head},
                   {"supply_degC", celsius(z.supply)}, {"heat_W", z.heat}, {"design_load_W", z.design_load},
                   {"heat_share", z.heat_share}, {"room_degC", celsius(z.room)}};
  return all;
}

Json one(FlowState const& state) {
  Json joints = Json::object(), circulators = Json::object();
  for (auto const& [name, head] : state.heads) joints[name] = {{"head_m", head}};
  for (auto const& [name, pressure] : state.pressures) joints[name]["pressure_Pa"] = pressure;
  for (auto const& [name, temperature] : state.temperatures) joints[name]["temperature_degC"] = celsius(temperature);
  for (auto const& c : state.circulators) circulators[c.name] = {{"flow_m3_s", c.flow}, {"head_m", c.head}, {"power_W", c.power}};
  return {{"calls", state.calls},
          {"edges", edges(state)},
          {"joints", std::move(joints)},
          {"zones", zones(state.zones)},
          {"circulators", std::move(circulators)},
          {"boiler_flow_m3_s", state.boiler_flow},
          {"zones_flow_m3_s", state.zones_flow},
          {"boiler_heat_W", state.boiler_heat},
          {"boiler_supply_degC", celsius(state.boiler_supply)},
          {"boiler_return_degC", celsius(state.boiler_return)},
          {"system_supply_degC", celsius(state.system_supply)}};
}

}  // namespace

Json flows_to_json(FlowsRecord const& r, UnitSystem system) {
  Json j{{"format", 1},
         {"title", r.title},
         {"fluid", {{"words", r.fluid_words},
                    {"density_kg_m3", r.fluid.density},
                    {"viscosity_Pa_s", r.fluid.viscosity},
                    {"heat_capacity_J_kgK", r.fluid.heat_capacity},
                    {"conductivity_W_mK", r.fluid.conductivity}}}};
  if (!r.sample.empty()) j["sample"] = r.sample;
  j["states"] = Json::array();
  for (auto const& s : r.states) j["states"].push_back(one(s));
  for (auto const& u : r.unsolved) j["unsolved"].push_back({{"calls", u.calls}, {"error", u.why.code}, {"why", u.why.message}});
  j["findings"] = findings_to_json(r.findings, system);
  if (!r.passed.empty()) j["passed"] = findings_to_json(r.passed, system);
  j["assumptions"] = assumptions_to_json(r.assumptions);
  if (r.band.empty()) return j;
  Json list = Json::array();
  for (auto const& b : r.band) {
    auto const end = [&](double value, std::vector<ZoneFlow> const& of) -> Json {
      return {{json_key("value", b.measure), json_value(value, b.measure)}, {"zones", zones(of)}};
    };
    list.push_back({{"place", b.place}, {"key", b.key}, {"low", end(b.low_value, b.low)}, {"high", end(b.high_value, b.high)}});
  }
  j["band"] = {{"calls", r.states.at(r.band_state).calls}, {"ends", std::move(list)}};
  if (!r.band_zones.empty()) j["band"]["zones"] = r.band_zones;
  return j;
}

}  // namespace steadyfire
