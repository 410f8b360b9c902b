#include "sim/core/count_up.hpp"
#include "models/arrangements/hot_water.hpp"

#include "models/arrangements/names.hpp"
#include "models/arrangements/row.hpp"
#include "models/fluid/water.hpp"
#include "models/hot_water/instantaneous_heater.hpp"
#include "models/pipe.hpp"

namespace steadyfire {
namespace {

/// One cell every 5 ft: a front of hot water widens as 1/√cells.
double cells_of(double length) { return std::clamp(count_near(length / 1.5), 2.0, 10.0); }

/// What a combi boiler has inside it, whatever else of its hot water is piped outside.
char const *const plates_name = "hot water/plates", *const diverter_name = "hot water/diverter", *const limiter_name = "hot water/limiter";

constexpr double output_share = 0.95;  // of the input, where plates and limiter are sized by it; common practice

void add_plates(Builder& builder, HotWaterSection const& hot, std::vector<std::string> ports, DhwInputs const& input) {
  std::vector<Setting> sized;
  if (!hot.plates) {
    double constexpr rise = 38.9, apart = 30;  // [K]: 70 °F of rise, 54 °F between the waters
    double const output = output_share * input.most, flow = output / (HotWaterControl::heat_per_volume * rise), UA = output / apart;
    char const* const why = "sized to the boiler's hot water output; common practice, no published source";
    sized = {{"rated_conductance", builder.assume({plates_name, "rated_conductance", UA, 0.7 * UA, 1.5 * UA,
                                                   Measure{unit::Btu_per_hour_degF, unit::watt_per_kelvin, 0, 0}, why})},
             {"rated_flow", flow},
             {"rated_head_loss", 6 * unit::foot.scale},
             {"water_content", 0.1 * unit::gallon_m3}};
  }
  builder.installation.parts[Part::plates] =
      builder.add("plate exchanger", plates_name, std::move(ports), sized, hot.plates ? &hot.plates : nullptr);
}

/// Combi boilers hold back what they cannot heat: the flow that full fire warms by a usual rise.
double usual_limit(Builder& builder, DhwInputs const& input) {
  auto const through = [&](double rise) {
    return output_share * input.most / (HotWaterControl::heat_per_volume * rise * unit::degF_change.scale);
  };
  return builder.assume({limiter_name, "flow_limit", through(70), through(90), through(60), measure::flow,
                         "the flow that full fire warms by a usual rise; common practice, no published source"});
}

/// From the cold tee through flow sensor and plates, and beside them through the second heater, to "hot made".
void add_makers(Builder& builder, Row& row, HotWaterSection const& hot, DhwInputs const& input, HotWaterPlace const& place) {
  auto& parts = builder.installation.parts;
  parts[Part::hot_water_control] = row.add(
      "hot water control", named::hot_water_control, "cold sensed",
          {{"operation", double(hot.operation)},
           {"set_point", *hot.set_point},
           {"start_flow", *hot.start_flow},
           {"stop_flow", *hot.stop_flow},
           {"longest_wait", *hot.longest_wait},
           {"heating_turn", *hot.heating_turn},
           {"floors", place.floors},
           {"recirculates", hot.recirculation || hot.storage ? 1.0 : 0.0},
           {"heating", place.heating_call}});
  parts[Part::hot_water_limiter] = row.add("flow limiter", limiter_name, "plates cold",
                                           {{"flow", std::isnan(*hot.flow_limit) ? usual_limit(builder, input) : *hot.flow_limit},
                                            {"may_pass_less", 1.0},
                                            {"most_difference", 10e5}});  // against the street: common practice
  Row outlet{builder, "plates hot"};
  outlet.add("supply sensor", named::hot_water_sensor, "hot made", {{"lag", 2.0}});
  if (!hot.second_heater) return;
  std::vector<Setting> wired{{"lead", named::hot_water_control}, {"lead_sensor", named::hot_water_sensor}};
  if (!value_of<&InstantaneousHeater::set_point>(hot.second_heater).given) wired.push_back({"set_point", *hot.set_point});
  builder.add("instantaneous heater", "hot water/second", {"cold tee", "hot made"}, wired, &hot.second_heater);
}

void add_storage(Builder& builder, HotWaterSection const& hot) {
  auto const store = fill<StorageEntry>(hot.storage.values);
  auto const storage = "hot water/storage", aquastat = "hot water/aquastat";
  auto& parts = builder.installation.parts;
  parts[Part::storage] = builder.add("tank", storage, {"hot made", "hot stored"},
              {{"volume", *store.volume}, {"layers", double(store.layers)}, {"height", 2 * unit::foot.scale}});
  builder.add("storage aquastat", aquastat, {},
              {{"tank", storage},
               {"setting", std::isnan(*store.setting) ? *hot.set_point - 6 * unit::degF_change.scale : *store.setting},
               {"differential", *store.differential}});
  parts[Part::charger] = builder.add("circulator", "hot water/charger", {"hot stored", "cold tee"},
              {{"calls", std::vector<std::string>{aquastat}},
               {"regulation", 3.0},
               {"setting_flow", *store.charge_flow},
               {"duty", 1.0}});
}

void add_recirculation(Builder& builder, HotWaterSection const& hot, HotWaterPlace const& place) {
  auto const back = fill<RecirculationEntry>(hot.recirculation.values);
  auto const return_sensor = "hot water/return sensor";
  Row row{builder, "hot trunk"};
  int const number = row.add("pipe", "hot water/return", "hot returned",
                             {{"length", *back.length},
                              {"size", back.size.empty() ? "1/2 in copper M" : back.size},
                              {"elbows", 6.0},
                              {"insulation", *back.insulation}});
  row.add("supply sensor", return_sensor, "hot return sensed");
  std::string call = place.output_call;
  if (call.empty()) {
    call = "hot water/recirculation";
    auto pipe = fill<Pipe>(builder.installation.pieces[number].values);
    pipe.prepare();
    double const holds = 4.1e6 * 3.14159265358979 / 4 * pipe.bore * pipe.bore + pipe.metal_per_metre;  // [J/(m·K)]
    std::vector<Setting> wired{{"sensor", return_sensor}, {"cooling_time", holds / pipe.loss_per_metre}};
    for (auto const* key : {"by", "from", "until", "longest_run", "asked_at", "setting", "differential"})
      if (auto const& v = value_under(hot.recirculation, key).numbers; key == std::string("asked_at")) wired.push_back({key, v});
      else wired.push_back({key, v.at(0)});
    builder.add("recirculation control", call, {}, wired);
  }
  std::vector<Setting> wired{{"calls", std::vector{call}}};
  if (!back.circulator) wired.insert(wired.end(), {{"regulation", 3.0}, {"setting_flow", 1.5 * unit::gpm.scale}});
  row.add("circulator", "hot water/recirculator", back.past_sensor == 1 ? "plates cold" : "cold tee", wired, &back.circulator);
}

void add_tap(Builder& builder, TapPlan const& plan, double insulation) {
  auto const& tap = plan.tap;
  auto const& zones = builder.installation.zones;
  bool const taken = std::any_of(zones.begin(), zones.end(), [&](auto const& z) { return z.name == plan.name; });
  builder.zone = taken ? plan.name + " tap" : plan.name;  // pictures frame it
  std::string const hot = plan.name + " hot";
  builder.add("pipe", plan.name + "/run", {"hot trunk", hot},
              {{"length", *tap.run_length},
               {"size", tap.run_size.empty() ? "1/2 in copper M" : tap.run_size},
               {"cells", cells_of(*tap.run_length)},
               {"elbows", 4.0},
               {"insulation", std::isnan(*tap.insulation) ? insulation : *tap.insulation}});
  std::vector<double> starts, flows, temperatures, volumes, useful;
  for (auto const& d : plan.draws.draws) {
    starts.push_back(d.start), flows.push_back(d.flow), temperatures.push_back(d.temperature), volumes.push_back(d.volume);
    useful.push_back(d.useful_from);
  }
  builder.add("mixing tap", plan.name + "/tap", {hot, "drain", "cold main", "drain"},
              {{"starts", starts},
               {"flows", flows},
               {"temperatures", temperatures},
               {"volumes", volumes},
               {"useful_from", useful},
               {"absolute", plan.draws.absolute ? 1.0 : 0.0}});
}

}  // namespace

bool is_inside_combi(Piece const& piece) {
  auto const inside = {plates_name, diverter_name, limiter_name, named::hot_water_control, named::hot_water_sensor};
  return std::any_of(inside.begin(), inside.end(), [&](char const* name) { return piece.name == name; });
}

void add_hot_water(Builder& builder, HotWaterSection const& hot, Entry const& stated, ColdYear const& cold, int first_day, DhwInputs input,
                   std::vector<TapPlan> const& taps, HotWaterPlace const& place) {
  auto const valve = HotWaterSection::valve_of(stated);
  bool const shares = HotWaterSection::shares(stated);
  std::string const control = named::hot_water_control;

  // boiler water
  if (!place.from_tank && valve == HotWaterSection::parallel_circuits) {
    add_plates(builder, hot, {named::boiler_outlet, "plates out", "plates cold", "plates hot"}, input);
    std::vector<Setting> wired{{"calls", std::vector{control}}};
    if (!hot.circulator) wired.push_back({"duty", 1.0});
    builder.add("circulator", "hot water/circulator", {"plates out", named::boiler_inlet}, wired,
                hot.circulator ? &hot.circulator : nullptr);
  } else if (!place.from_tank) {
    std::vector<Setting> wired{{"call", control}, {"turning_time", *hot.turning_time}};
    if (shares) wired.push_back({"heating", place.heating_call});
    builder.add(valve == HotWaterSection::diverting ? "diverting valve" : "proportioning valve", diverter_name,
                {named::boiler_outlet, "plates in", named::boiler_outlet, named::heating_outlet}, wired);
    add_plates(builder, hot, {"plates in", "boiler return", "plates cold", "plates hot"}, input);
  }

  // potable water
  builder.installation.own_fluids.push_back({"cold main", std::make_shared<Water>(), 303.15});
  auto& parts = builder.installation.parts;
  parts[Part::cold_main] = builder.add("cold main", named::cold_main, {"drain", "cold main"},
              {{"pressure", *hot.supply_pressure},
               {"mean", cold.mean},
               {"swing", cold.swing},
               {"warmest_day", double(cold.warmest_day)},
               {"first_day", double(first_day)}});
  Row row{builder, "cold main"};
  bool const has_tee = hot.recirculation || hot.storage || hot.second_heater || place.from_tank;
  if (has_tee) row.add("check valve", "hot water/check", "cold tee", {{"cv", 15.0}});
  if (!place.from_tank) add_makers(builder, row, hot, input, place);
  std::string const made = hot.storage ? "hot stored" : "hot made";
  if (hot.storage) add_storage(builder, hot);
  if (hot.mixing_valve)
    parts[Part::hot_water_mixing] = builder.add(
        "thermostatic mixing valve", "hot water/mixing", {made, "hot mixed", "cold main", "hot mixed"},
                place.from_tank ? std::vector<Setting>{} : std::vector<Setting>{{"call", control}}, &hot.mixing_valve);
  Row trunk{builder, hot.mixing_valve ? "hot mixed" : made};
  trunk.add("pipe", "hot water/trunk", "hot trunk",
            {{"length", *hot.trunk_length},
             {"size", hot.trunk_size.empty() ? "3/4 in copper M" : hot.trunk_size},
             {"cells", cells_of(*hot.trunk_length)},
             {"elbows", 4.0},
             {"insulation", *hot.insulation}});
  if (hot.recirculation) add_recirculation(builder, hot, place);
  for (auto const& tap : taps) add_tap(builder, tap, *hot.insulation);
  builder.zone = "";
}

}  // namespace steadyfire
