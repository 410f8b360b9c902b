#include "models/arrangements/near_boiler.hpp"

#include "models/arrangements/row.hpp"
#include "models/circulator.hpp"
#include "models/fluid/glycol.hpp"

namespace steadyfire {
namespace {

/// The vessel of a separator whose size nobody states has three bores of its pipe: at 4 ft/s there it runs at 0.44 ft/s.
void size_separator(Installation& in, int number, std::string const& size) {
  auto& piece = in.pieces[number];
  auto& diameter = value_under(*piece.kind, std::span<Value>{piece.values}, "diameter");
  auto const pipe = find_pipe_size(size);
  if (pipe && (!diameter.given || diameter.unknown)) diameter.numbers = {3 * pipe->inside_diameter};
}

}  // namespace

Headers add_near_boiler(Builder& builder, NearBoilerSection const& near, bool zones_have_circulators, bool two_boilers,
                        std::string const& size, BesideHeating const& beside) {
  auto& parts = builder.installation.parts;
  auto const pipe = [&](Row& row, std::string name, double length, std::string to, int elbows) {
    return row.add("pipe", std::move(name), std::move(to), {{"length", length}, {"size", size}, {"elbows", double(elbows)}});
  };
  std::string const hot_water = "hot water/control";
  auto const circulator = [&](Row& row, std::string name, Entry const& stated, std::string to, char const* sensor,
                              char const* call = "relay") {
    std::vector<std::string> calls{call};
    bool const is_boilers = name == "boiler/circulator", serves_plates = is_boilers && beside.by_valve;
    if (serves_plates) calls.push_back(hot_water);
    std::vector<Setting> wiring{{"calls", calls}};
    if (is_boilers && beside.is_combi && !stated) wiring.push_back({"duty", 1.0});
    bool const in_line = near.arrangement == NearBoilerSection::direct && name == "system/circulator";
    if (beside.goes_first && (is_boilers || in_line) && !serves_plates) wiring.push_back({"rests_while", hot_water});
    if (Circulator::wants_sensor(stated)) wiring.push_back({"sensor", sensor});
    return row.add("circulator", std::move(name), std::move(to), std::move(wiring), &stated);
  };
  // where a circulator regulates a temperature difference, a thermometer at the other end of its circuit
  auto const sense = [](Row& row, Entry const& stated, char const* sensor) {
    if (Circulator::wants_sensor(stated)) row.add("supply sensor", sensor, row.joint() + " sensed");
  };
  bool const decoupled = near.arrangement != NearBoilerSection::direct;
  bool const system_circulator = near.system_circulator || (decoupled && !zones_have_circulators);
  Entry const& own = near.appliance_circulator ? near.appliance_circulator : near.circulator;
  bool const boiler_circulator = beside.is_combi || decoupled || own || (!zones_have_circulators && !system_circulator);
  std::string const top = decoupled ? "supply tee" : "system supply", bottom = decoupled ? "return tee" : "system return";

  Row supply{builder, beside.by_valve ? "heating outlet" : "boiler outlet"};
  sense(supply, own, "boiler/supply sensor");
  pipe(supply, "boiler/supply", *near.supply_length, near.air_separator ? "boiler supply" : top, near.elbows);
  auto const separator = [&](Row& row, Entry const& stated, std::string to) {
    size_separator(builder.installation, row.add(stated.kind->name, "boiler/" + stated.kind->name, std::move(to), {}, &stated), size);
  };
  if (near.air_separator) separator(supply, near.air_separator, top);

  Row back{builder, bottom};
  std::vector<std::string> joints;  // the last of the row ends at the boiler
  if (near.dirt_separator) joints.push_back("dirty return");
  if (near.strainer) joints.push_back("unstrained return");
  if (boiler_circulator) joints.push_back("boiler return");
  joints.push_back("boiler inlet");
  auto to = joints.begin();
  pipe(back, "boiler/return", *near.return_length, *to++, near.elbows);
  if (near.dirt_separator) separator(back, near.dirt_separator, *to++);
  if (near.strainer) back.add("strainer", "boiler/strainer", *to++, {}, &near.strainer);
  if (boiler_circulator)
    parts[Part::boiler_circulator] =
        circulator(back, "boiler/circulator", own, *to, "boiler/supply sensor", near.tank_control ? "tank/control" : "relay");

  if (two_boilers) {
    Entry const& of_lag = near.lag_circulator ? near.lag_circulator : own;
    Row lag_supply{builder, "lag outlet"}, lag_return{builder, bottom};
    sense(lag_supply, of_lag, "lag/supply sensor");
    pipe(lag_supply, "lag/supply", *near.supply_length, top, near.elbows);
    pipe(lag_return, "lag/return", *near.return_length, "lag return", near.elbows);
    circulator(lag_return, "lag/circulator", of_lag, "lag inlet", "lag/supply sensor", "lag/control");
  }

  Row gap{builder, top};
  if (near.arrangement == NearBoilerSection::tees) parts[Part::gap] = pipe(gap, "tees/gap", *near.gap_length, bottom, 0);
  if (near.arrangement == NearBoilerSection::separator || near.arrangement == NearBoilerSection::buffer) {
    bool const buffer = near.arrangement == NearBoilerSection::buffer;
    double const volume = std::isnan(*near.tank_volume) ? (buffer ? 40 : 3) * unit::gallon_m3 : *near.tank_volume;
    bool const tee_above = buffer && near.tank_pipes != NearBoilerSection::four,
               tee_below = buffer && near.tank_pipes == NearBoilerSection::two;
    std::vector<Setting> vessel{{"volume", volume}, {"layers", double(buffer ? near.tank_layers : std::min(near.tank_layers, 3))}};
    if (!std::isnan(*near.separator_diameter)) vessel.push_back({"diameter", *near.separator_diameter});
    parts[Part::coupling] = builder.add("tank", "tank", {tee_above ? "tank top" : top, tee_below ? "tank bottom" : bottom}, vessel);
    Row above{builder, top}, below{builder, "tank bottom"};
    if (tee_above) pipe(above, "tank/supply", *near.tank_pipe_length, "tank top", 1);
    if (tee_below) pipe(below, "tank/return", *near.tank_pipe_length, bottom, 1);
  }
  std::string zone_supply = top, zone_return = bottom;
  if (near.arrangement == NearBoilerSection::exchanger) {
    zone_supply = "exchanger supply", zone_return = "exchanger return";
    parts[Part::exchanger] = builder.add("plate exchanger", "exchanger", {top, bottom, zone_return, zone_supply}, {}, &near.plates);
    if (!std::isnan(near.glycol))
      builder.installation.own_fluids.push_back({zone_return, std::make_shared<PropyleneGlycol>(near.glycol), *near.glycol_temperature});
  }
  Row system{builder, zone_supply};
  if (near.sensor == 1) parts[Part::system_sensor] = system.add("supply sensor", "system/sensor", "sensed supply");
  if (system_circulator)
    parts[Part::system_circulator] =
        circulator(system, "system/circulator", near.system_circulator, "pumped supply", "system/return sensor");
  parts[Part::system_supply] = pipe(system, "system/supply", *near.system_length, "supply header", near.elbows);
  if (near.bypass)
    parts[Part::system_bypass] = builder.add("bypass valve", "system/bypass", {"supply header", "return header"}, {}, &near.bypass);
  Row from_zones{builder, "return header"};
  sense(from_zones, near.system_circulator, "system/return sensor");
  pipe(from_zones, "system/return", *near.system_length, zone_return, near.elbows);
  return {"supply header", "return header"};
}

}  // namespace steadyfire
