#include "sim/core/count_up.hpp"
#include "tools/counter/sizing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "models/emitters/fan_coil.hpp"
#include "models/emitters/fin_tube_baseboard.hpp"
#include "models/emitters/radiant_slab.hpp"
#include "models/emitters/radiator.hpp"
#include "models/fluid/water.hpp"
#include "models/friction.hpp"
#include "models/gas/gas_flow.hpp"
#include "sim/core/gravity.hpp"

namespace steadyfire::sizing {
namespace {

using namespace unit;

double constexpr spare = 1.1;
double const largest = Btu_per_hour.to_si(1e6);  // of one emitter, that the file takes
double constexpr room = 70, radiator_rating = 90;  // [degF] air; average water above it

Fluid const& warm_water() {
  static Fluid const water = Water{}.at(degF.to_si(140));
  return water;
}
double flow_for_drop(double load, Usual const& usual) {
  return load / (warm_water().density * warm_water().heat_capacity * usual.drop * degF_change.scale);
}
/// Water on average above the room [degF].
double excess(Usual const& usual) { return usual.supply - usual.drop / 2 - room; }
double head_of_pressure(double pascal) { return pascal / (warm_water().density * gravity); }
double head_of_cv(double cv, double flow) { return head_of_pressure(psi.scale * std::pow(flow / gpm.scale / cv, 2)); }

Chosen radiator(std::string_view kind, Usual const& usual, double load, double least_cv) {
  double const flow = flow_for_drop(load, usual), cv = std::max(least_cv, count_up(flow / gpm.scale * 10) / 10);
  double const output = std::clamp(spare * load / std::pow(excess(usual) / radiator_rating, 1.3), Btu_per_hour.to_si(100), largest);
  return {.text = fmt::format("{{ kind = \"{}\", output = \"{:.1f} kBtu/h\", cv = {:.1f} }}", kind, output / kBtu_per_hour.scale, cv),
          .flow = flow,
          .head = head_of_cv(cv, flow)};
}

Chosen baseboard(double load) {
  auto constexpr usual = FinTubeBaseboard::usual;
  double constexpr output = 580, rated = 180 - 65;  // Btu/h a foot, at this excess of water over entering air [degF]
  double const each = output * std::pow(excess(usual) / rated, 1.31);
  double const feet = std::clamp(count_up(spare * load / Btu_per_hour.scale / each), 1.0, 2000.0), flow = flow_for_drop(load, usual);
  auto const tube = tube_for(with_excess * flow, "3/4");
  return {.text = fmt::format("{{ kind = \"fin-tube baseboard\", length = \"{:.0f} ft\"{} }}", feet,
                              tube == "3/4 in copper M" ? "" : ", tube = \"" + tube + "\""),
          .flow = flow,
          .head = head_of_tube(tube, flow, foot.to_si(feet), 4)};
}

Chosen slab(double load, double area) {
  auto usual = RadiantSlab::usual;
  usual.drop = 15;
  double constexpr spacing = 6, longest = 200;  // [in], [ft]: short loops, so that a small circulator is enough
  double constexpr into_room = 0.65;            // Btu/(h·ft²·°F) from water to room through a usual covering: by this program's slab
  double const flow = flow_for_drop(load, usual), tube = area / inch.to_si(spacing);
  double const flux = load / Btu_per_hour.scale / (area / square_foot.scale);
  double const supply = std::clamp(count_up(room + flux / into_room + usual.drop / 2), 85.0, 130.0);
  int const loops = std::max(1, int(count_up(tube / foot.to_si(longest))));
  TubeLoops const laid{"", area, inch.to_si(spacing), Field::none, loops};
  double constexpr bends = 5;  // K of a loop
  double constexpr share = 0.6, to_room = 1.9, warmest = 82;  // of the load, as the day begins; Btu/(h·ft²·°F); [degF] below any limit
  double const start = std::min(room + share * flux / to_room, warmest);
  return {.text = fmt::format("{{ kind = \"radiant slab\", floor_area = \"{:.0f} ft2\", spacing = \"{:.0f} in\", loops = {}, "
                              "start = \"{:.0f} degF\" }}",
                              area / square_foot.scale, spacing, loops, start),
          .more = fmt::format("supply_temperature = \"{:.0f} degF\"   # for this load under a usual covering\n"
                              "design_drop = \"{:.0f} degF\"\n",
                              supply, usual.drop),
          .flow = flow,
          .head = head_of_pressure(laid.loss(flow * warm_water().density, bends, warm_water()))};
}

Chosen air_handler(Usual const& usual, double load) {
  using Coil = AirHandlerMake;
  double constexpr rise = 35, head = 3;  // [degF] of the air, so that it leaves at 105 °F; [ft]
  double const flow = flow_for_drop(load, usual);
  double const all = spare * load * (Coil::rated_water - Coil::rated_air) / (usual.supply - room);
  double const output = std::clamp(all, Btu_per_hour.to_si(500), largest);
  double const air = std::clamp(load / Btu_per_hour.scale / (1.08 * rise), 10.0, 1e5);  // cfm of standard air
  return {.text = fmt::format("{{ kind = \"air handler\", output = \"{:.1f} kBtu/h\", rated_flow = \"{:.1f} gpm\", "
                              "air_flow = \"{:.0f} cfm\", fan_on_water = \"120 degF\" }}",
                              output / kBtu_per_hour.scale, std::clamp(flow / gpm.scale, 0.1, 1000.0), air),
          .flow = flow,
          .head = foot.to_si(head)};
}

}  // namespace

double smallest_of(std::span<double const> all, double wanted) {
  auto const it = std::find_if(all.begin(), all.end(), [&](double size) { return is_enough(size, wanted); });
  return it == all.end() ? all.back() : *it;
}

Usual usual_of(int emitter) {
  switch (emitter) {
    case ZoneAnswer::panel:
      return PanelMake::usual;
    case ZoneAnswer::column:
      return ColumnMake::usual;
    case ZoneAnswer::slab:
      return RadiantSlab::usual;
    case ZoneAnswer::air_handler:
      return AirHandlerMake::usual;
    default:
      return FinTubeBaseboard::usual;
  }
}

Chosen emitter_for(int emitter, double load, double area, double hottest) {
  auto usual = usual_of(emitter);
  usual.supply = std::max(usual.supply, hottest);
  switch (emitter) {
    case ZoneAnswer::panel:
      return radiator(PanelMake::kind, usual, load, 0.4);
    case ZoneAnswer::column:
      return radiator(ColumnMake::kind, usual, load, 2);
    case ZoneAnswer::slab: return slab(load, area);
    case ZoneAnswer::air_handler:
      return air_handler(usual, load);
    default: return baseboard(load);
  }
}

std::string tube_for(double flow, std::string_view smallest) {
  double const most = foot.to_si(4);
  bool reached = false;
  std::string name;
  for (auto const nominal : nominal_sizes) {
    reached |= nominal == smallest;
    name = std::string(nominal) + " in copper M";
    double const bore = find_pipe_size(name).value().inside_diameter;
    if (reached && is_enough(most * std::numbers::pi / 4 * bore * bore, flow)) break;
  }
  return name;
}

double head_of_tube(std::string const& size, double flow, double length, int elbows) {
  auto const tube = find_pipe_size(size).value();
  double const all = length + elbows * foot.to_si(2.5);
  return head_of_pressure(pipe_loss(flow * warm_water().density, all, tube.inside_diameter, tube.roughness, 0.0, warm_water()));
}

std::string gas_pipe_for(double input, double length, int elbows, bool is_propane) {
  auto const gas = is_propane ? FuelGas::propane() : FuelGas::natural_gas();
  double constexpr allowed = 0.5, bores_an_elbow = 30;
  auto const sizes = gas_sizes_beside("1/2 in steel 40");
  for (auto const& size : sizes)
    if (is_enough(inch_water.to_si(allowed),
                  gas_drop(input / gas.heating_value, size.bore, length + elbows * bores_an_elbow * size.bore, gas)))
      return std::string(size.name);
  return std::string(sizes.back().name);
}

}  // namespace steadyfire::sizing
