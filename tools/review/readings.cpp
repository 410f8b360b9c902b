#include "tools/review/readings.hpp"

#include <algorithm>
#include <cmath>

#include "models/boiler.hpp"
#include "models/house/section_of.hpp"
#include "models/house/sections.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/core/gravity.hpp"

namespace steadyfire {
namespace {

Measure constexpr water_gauge{unit::psi, unit::kilopascal, 1, 1}, difference_gauge{unit::psi, unit::kilopascal, 2, 1};

/// Whether a piece has taps on both sides worth reading: what moves water, and what can clog.
bool is_gauged(Piece const& p) {
  return p.kind->name == "circulator" || p.kind->name == "strainer" || p.kind->role == Role::exchanger || p.kind->role == Role::boiler;
}

}  // namespace

GaugeValue const* find_gauge(std::vector<GaugeValue> const& all, std::string_view id) {
  auto const at = std::find_if(all.begin(), all.end(), [&](auto const& g) { return g.id == id; });
  return at == all.end() ? nullptr : &*at;
}

double gas_running_at(StaticReadings const& still, double input) {
  if (std::isnan(still.gas_supply) || !(still.gas_input > 0)) return still.gas_running;
  return still.gas_supply - (still.gas_supply - still.gas_running) * std::pow(input / still.gas_input, 1 / 0.541);
}

std::vector<GaugeValue> gauges_of(Installation const& in, SteadyBurn const& burn, BurnConditions const& conditions,
                                  StaticReadings const& still) {
  std::vector<GaugeValue> all;
  auto const add = [&](std::string id, std::string what, std::string where, Measure const& m, double value, double spread = 0) {
    if (!std::isnan(value)) all.push_back({std::move(id), std::move(what), std::move(where), m, value, spread});
  };
  using namespace measure;
  add("cold_pressure", "pressure, cold", "boiler", water_gauge, still.cold_pressure);
  add("hot_pressure", "pressure, hot", "boiler", water_gauge, still.hot_pressure);
  add("gas_static", "gas pressure, burner off", "boiler gas inlet", measure::gas_pressure, still.gas_static);
  bool const burns = burn.fire > 0;
  if (burns) add("gas_running", "gas pressure, burner on", "boiler gas inlet", measure::gas_pressure, gas_running_at(still, burn.input));

  double room = 0;
  for (auto const& z : in.zones) room += z.design_room / double(in.zones.size());
  double const cooling = burns ? 0 : 10;  // [K] water that nobody heats: how far it has cooled nobody knows
  auto const& joints = burn.state.temperatures;
  auto const joint = [&](char const* name) { return joints.contains(name) ? joints.at(name) : Field::none; };
  add("supply", "water temperature", "boiler supply", fine_temperature, burn.supply, burn.swing + cooling);
  add("return", "water temperature", "boiler return", fine_temperature, burn.returned, burn.swing / 2 + cooling);
  add("system_supply", "water temperature", "supply header", fine_temperature, joint("supply header"), burn.swing + cooling);
  add("system_return", "water temperature", "return header", fine_temperature, joint("return header"), burn.swing / 2 + cooling);
  add("flow", "flow", "boiler", measure::flow, std::abs(burn.state.boiler_flow));
  add("firing", "firing rate shown", "boiler", share, burn.fire, burn.how == SteadyBurn::cycles ? 0.05 : 0);
  add("input", "input, by the gas meter", "gas meter", power, burn.input);
  if (burns) {
    auto const& boiler = in.pieces[std::size_t(in.boiler)];
    double const least = *get<&Boiler::minimum_input>(boiler) / *get<&Boiler::heating_input>(boiler);
    double const above_least = least < 1 ? std::clamp((burn.fire - least) / (1 - least), 0.0, 1.0) : 1;
    double const co2_share = std::lerp(still.carbon_dioxide_share_low, still.carbon_dioxide_share, above_least);
    add("carbon_dioxide", "CO2 in dry flue gas", "boiler vent", fine_share, burn.carbon_dioxide * co2_share);
    add("flue_temperature", "flue gas temperature", "boiler vent", fine_temperature, burn.flue, burn.swing / 2);
  }

  auto const edge = [&](std::string const& piece) -> EdgeFlow const* {
    for (auto const& e : burn.state.edges)
      if (e.name == piece) return &e;
    return nullptr;
  };
  double const noticed = 2e-6;  // [m³/s] 0.03 gpm: less stands
  for (auto const& z : in.zones) {
    auto const& emitter = in.pieces[std::size_t(z.emitter)];
    auto const* e = edge(emitter.name);
    if (!e) continue;
    bool const calls = std::find(conditions.calling.begin(), conditions.calling.end(), z.name) != conditions.calling.end();
    bool const stands = std::abs(e->flow) < noticed;
    for (auto const& [key, words, port] :
         {std::tuple{"/supply", ", into the emitter", 0}, std::tuple{"/return", ", out of the emitter", 1}}) {
      auto const tell = [&, key = key, words = words](double temperature, double spread) {
        add("zone/" + z.name + key, "water temperature", z.name + words, fine_temperature, temperature, spread);
      };
      double const cooled = (burn.supply - room) / 4;  // water that stands has cooled, nobody knows how far
      if (stands && calls) tell(room + cooled, std::max(3.0, cooled) + cooling);
      else if (!stands) tell(joints.at(emitter.ports[std::size_t(port)]), burn.swing / (1 + port) + cooling);
    }
    add("zone/" + z.name + "/flow", "flow", z.name, measure::flow, e->flow);
  }
  for (auto const& p : in.pieces) {
    auto const* e = edge(p.name);
    if (!e || !is_gauged(p)) continue;
    bool const moves = p.kind->role == Role::circulator;
    double const density = in.fluid->at(in.fluid_temperature).density;
    add("piece/" + p.name + "/difference", moves ? "pressure rise" : "pressure drop", p.name, difference_gauge,
        (moves ? -1 : 1) * e->head_loss * density * gravity);
    if (!moves) continue;
    add("piece/" + p.name + "/flow", "flow", p.name, measure::flow, e->flow);
    for (auto const& c : burn.state.circulators)
      if (c.name == p.name) add("piece/" + p.name + "/power", "power", p.name, electric_power, c.power);
  }
  return all;
}

double gauge_error(GaugeValue const& g, GaugesSection const& gauges) {
  auto const ends = [&](std::string_view with) { return g.id.ends_with(with); };
  double const v = std::abs(g.value);
  if (g.id == "flue_temperature") return *gauges.flue_temperature;
  if (g.id == "carbon_dioxide") return *gauges.carbon_dioxide;
  if (g.id == "firing") return *gauges.firing;
  if (g.id == "input") return *gauges.input * v + 100;
  if (g.id == "burns_per_hour") return *gauges.burns * v + 0.5 / 3600;
  if (g.id.starts_with("gas_")) return *gauges.gas;
  if (ends("pressure")) return *gauges.pressure;
  if (ends("flow")) return *gauges.flow * v + 0.1 * unit::gpm.scale;
  if (ends("difference")) return *gauges.difference;
  if (ends("power")) return *gauges.power * v + 3;
  return *gauges.temperature;
}

Catalog readings_catalog() {
  static Kind const kinds[]{section<Opening>(), section<ReadingsSection>(), section<ZoneReading>(), section<PieceReading>(),
                            section<GaugesSection>()};
  return kinds;
}

ReadingsFile read_readings(std::string file, std::string text, Installation const& in, BurnConditions const& scenario,
                           Diagnostics& faults) {
  ReadingsFile r;
  r.document = read_document(std::move(file), std::move(text), readings_catalog(), faults);
  r.conditions = scenario;
  if (!faults.empty()) return r;
  std::vector<std::string> zones, pieces;
  for (auto const& z : in.zones) zones.push_back(z.name);
  for (auto const& p : in.pieces) pieces.push_back(p.name);
  auto const known = [&](std::string const& name, std::vector<std::string> const& all, Position at, std::string const& who,
                         char const* sort) {
    if (std::find(all.begin(), all.end(), name) != all.end()) return true;
    auto const near = nearest(name, all);
    faults.add({"E298", at, who + ": no " + sort + " of the scenario is named '" + name + "'",
                std::string("the name of a ") + sort + " of the scenario", near.empty() ? "" : "did you mean '" + near + "'?"});
    return false;
  };
  auto const take = [&r](Measure const& m, std::string const& owner = "") {
    return [&r, m, owner](std::string const& key, Value const& v) {
      if (!v.numbers.empty()) r.values.push_back({owner + key, "", "", m, v.numbers[0], 0});
    };
  };
  using namespace measure;
  r.gauges = section_of<GaugesSection>(r.document, readings_catalog());
  if (auto const* e = r.document.find("readings")) {
    auto const& calling = value_of<&ReadingsSection::calling>(*e);
    if (calling.given) r.conditions.calling = calling.texts;
    for (auto const& name : calling.texts) known(name, zones, calling.at, e->who, "zone");
    r.conditions.fire = BurnConditions::Fire(get<&ReadingsSection::fire>(*e));
    if (double const outdoors = *get<&ReadingsSection::outdoors>(*e); is_stated(outdoors)) r.conditions.outdoors = outdoors;
    using R = ReadingsSection;
    each_value<&R::cold_pressure, &R::hot_pressure>(*e, take(water_gauge));
    each_value<&R::gas_static, &R::gas_running>(*e, take(measure::gas_pressure));
    each_value<&R::supply, &R::return_, &R::system_supply, &R::system_return, &R::flue_temperature>(*e, take(fine_temperature));
    each_value<&R::flow>(*e, take(measure::flow)), each_value<&R::firing>(*e, take(share)), each_value<&R::input>(*e, take(power));
    each_value<&R::carbon_dioxide>(*e, take(fine_share)), each_value<&R::burns>(*e, take(measure::per_hour));
  }
  for (auto const& e : r.document.tables) {
    if (e.kind->name == ZoneReading::kind && known(e.name, zones, e.at, e.who, "zone")) {
      auto const owner = "zone/" + e.name + "/";
      each_value<&ZoneReading::supply, &ZoneReading::return_>(e, take(fine_temperature, owner));
      each_value<&ZoneReading::flow>(e, take(measure::flow, owner));
      if (double const room = *get<&ZoneReading::room>(e); is_stated(room)) r.conditions.rooms[e.name] = room;
    }
    if (e.kind->name == PieceReading::kind && known(e.name, pieces, e.at, e.who, "part")) {
      auto const owner = "piece/" + e.name + "/";
      each_value<&PieceReading::difference>(e, take(difference_gauge, owner));
      each_value<&PieceReading::power>(e, take(electric_power, owner));
      each_value<&PieceReading::flow>(e, take(measure::flow, owner));
    }
  }
  return r;
}

}  // namespace steadyfire
