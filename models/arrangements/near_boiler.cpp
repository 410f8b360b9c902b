#include "models/arrangements/near_boiler.hpp"

#include "models/fluid/glycol.hpp"

namespace steadyfire {

Headers add_near_boiler(Builder& builder, NearBoilerSection const& near, bool zones_have_circulators, bool two_boilers,
                        std::string const& size) {
  auto const pipe = [&](std::string name, double length, std::string from, std::string to, int elbows) {
    builder.add("pipe", std::move(name), {std::move(from), std::move(to)},
                {{"length", length}, {"size", size}, {"elbows", double(elbows)}});
  };
  auto const circulator = [&](std::string name, Entry const& stated, std::string from, std::string to, char const* call = "relay") {
    builder.add("circulator", std::move(name), {std::move(from), std::move(to)}, {{"calls", std::vector<std::string>{call}}},
                stated ? &stated : nullptr);
  };
  bool const decoupled = near.arrangement != NearBoilerSection::direct;
  bool const system_circulator = near.system_circulator || (decoupled && !zones_have_circulators);
  bool const boiler_circulator = decoupled || near.circulator || (!zones_have_circulators && !system_circulator);

  std::string const top = decoupled ? "supply tee" : "system supply", bottom = decoupled ? "return tee" : "system return";
  pipe("boiler/supply", *near.supply_length, "boiler outlet", top, near.elbows);
  pipe("boiler/return", *near.return_length, bottom, boiler_circulator ? "boiler return" : "boiler inlet", near.elbows);
  if (boiler_circulator) circulator("boiler/circulator", near.circulator, "boiler return", "boiler inlet");

  if (two_boilers) {
    pipe("lag/supply", *near.supply_length, "lag outlet", top, near.elbows);
    pipe("lag/return", *near.return_length, bottom, "lag return", near.elbows);
    circulator("lag/circulator", near.lag_circulator ? near.lag_circulator : near.circulator, "lag return", "lag inlet", "lag/control");
  }

  std::string at = top, back = bottom;
  if (near.arrangement == NearBoilerSection::tees) pipe("tees/gap", *near.gap_length, top, bottom, 0);
  if (near.arrangement == NearBoilerSection::separator || near.arrangement == NearBoilerSection::buffer) {
    bool const buffer = near.arrangement == NearBoilerSection::buffer;
    double const volume = std::isnan(*near.tank_volume) ? (buffer ? 40 : 3) * unit::gallon_m3 : *near.tank_volume;
    bool const tee_above = buffer && near.tank_pipes != NearBoilerSection::four,
               tee_below = buffer && near.tank_pipes == NearBoilerSection::two;
    builder.add("tank", "tank", {tee_above ? "tank top" : top, tee_below ? "tank bottom" : bottom},
                {{"volume", volume}, {"layers", double(buffer ? near.tank_layers : std::min(near.tank_layers, 3))}});
    if (tee_above) pipe("tank/supply", *near.tank_pipe_length, top, "tank top", 1);
    if (tee_below) pipe("tank/return", *near.tank_pipe_length, "tank bottom", bottom, 1);
  }
  if (near.arrangement == NearBoilerSection::exchanger) {
    at = "exchanger supply", back = "exchanger return";
    builder.add("plate exchanger", "exchanger", {top, bottom, back, at}, {}, &near.plates);
    if (!std::isnan(near.glycol))
      builder.installation.own_fluids.push_back({back, std::make_shared<PropyleneGlycol>(near.glycol), *near.glycol_temperature});
  }
  if (near.sensor == 1) builder.add("supply sensor", "system/sensor", {at, "sensed supply"}), at = "sensed supply";
  if (system_circulator) circulator("system/circulator", near.system_circulator, at, "pumped supply"), at = "pumped supply";
  pipe("system/supply", *near.system_length, at, "supply header", near.elbows);
  pipe("system/return", *near.system_length, "return header", back, near.elbows);
  return {"supply header", "return header"};
}

}  // namespace steadyfire
