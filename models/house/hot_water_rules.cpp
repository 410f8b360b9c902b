#include "models/house/hot_water_rules.hpp"

#include <algorithm>
#include <cmath>

#include "models/boiler.hpp"
#include "models/emitters/potable_tank.hpp"
#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/draw_kinds.hpp"
#include "models/house/hot_water_maker.hpp"
#include "models/house/sections.hpp"
#include "models/lag_control.hpp"

namespace steadyfire {

namespace {

/// Draws that repeat every day, as those of the run's own time.
std::vector<Draw> through_the_run(std::vector<Draw> const& daily, double clock, double duration) {
  std::vector<Draw> list;
  for (int day = 0; day * 86400.0 - clock < duration; ++day)
    for (Draw d : daily) {
      d.start += day * 86400.0 - clock;
      if (d.start >= 0 && d.start < duration) list.push_back(d);
    }
  return list;
}

void add(DrawList& own, DrawList more, double clock, double duration) {
  if (more.draws.empty()) return;
  if (more.absolute && !own.absolute) own = {through_the_run(own.draws, clock, duration), true};
  own.draws.insert(own.draws.end(), more.draws.begin(), more.draws.end());
  std::stable_sort(own.draws.begin(), own.draws.end(), [](auto const& a, auto const& b) { return a.start < b.start; });
}

}  // namespace

std::vector<TapPlan> taps_of(Document const& document, Builder& builder, Entry const& draws, double clock, double duration,
                             FileFaults& file_faults, Diagnostics& faults) {
  std::vector<TapPlan> list;
  for (auto const& t : document.tables) {
    if (t.kind->name != TapSection::kind) continue;
    auto tap = fill<TapSection>(t.values);
    if (auto const& flow = value_of<&TapSection::flow>(t); !flow.given || flow.unknown)
      tap.flow = {builder.assume({t.name, "flow", *tap.flow, 1.5 * unit::gpm.scale, 2.5 * unit::gpm.scale, measure::flow,
                                  common_practice})};
    DrawList family;
    auto const amount = [](auto const& list, std::size_t i) { return *list[list.size() == 1 ? 0 : i]; };
    for (std::size_t i = 0; i < tap.at.size(); ++i)
      family.draws.push_back({*tap.at[i], *tap.flow, *tap.temperature,
                              tap.volumes.empty() ? amount(tap.lasts, i) * *tap.flow : amount(tap.volumes, i)});
    std::stable_sort(family.draws.begin(), family.draws.end(), [](auto const& a, auto const& b) { return a.start < b.start; });
    list.push_back({t.name, std::move(tap), std::move(family)});
  }
  if (!draws) return list;
  if (list.empty()) {
    faults.add({"E346", draws.at, draws.who + ": the scenario has no tap", "at least one [[tap]] with a name", "add a [[tap]]"});
    return list;
  }
  std::vector<std::string> names;
  for (auto const& tap : list) names.push_back(tap.name);
  auto dealt = deal_draws(draws, names, document.file, clock, duration, [&](Assumption a) { return builder.assume(std::move(a)); }, faults);
  file_faults.add(dealt.file_faults);
  for (std::size_t i = 0; i < list.size(); ++i) add(list[i].draws, std::move(dealt.by_tap[i]), clock, duration);
  return list;
}

std::string unprotected_floors(Document const& document) {
  std::string names;
  for (auto const& t : document.tables) {
    if (t.kind->name != "zone" || value_of<&ZoneSection::mixing>(t).given) continue;
    auto const& emitter = value_of<&ZoneSection::emitter>(t).entry;
    if (!emitter) continue;
    auto const& name = emitter->kind->name;
    if (name != "radiant slab" && name != "panel over subfloor" && name != "plates under floor") continue;
    names += (names.empty() ? "" : ", ") + t.name;
  }
  return names;
}

Entry const* potable_tank(Document const& document, Diagnostics& faults) {
  Entry const *found = nullptr, *hot = document.find("hot water");
  for (auto const& t : document.tables) {
    if (t.kind->name != "zone") continue;
    auto const& emitter = value_of<&ZoneSection::emitter>(t);
    if (!emitter.entry || emitter.entry->kind->name != PotableTank::kind) continue;
    if (found)
      faults.add({"E349", emitter.at, "zone '" + t.name + "': a second potable tank", "one potable tank", "keep one of them", found->at});
    else if (!hot)
      faults.add({"E349", emitter.at, "zone '" + t.name + "': a potable tank needs hot water", "a [hot_water] table",
                  "add [hot_water], or use an indirect tank"});
    found = &t;
  }
  if (!found || !hot) return found;
  using H = HotWaterSection;
  each_value<&H::operation, &H::valve, &H::plates, &H::circulator, &H::flow_limit, &H::storage, &H::second_heater, &H::start_flow,
             &H::stop_flow>(*hot, [&](std::string const& key, Value const& v) {
    if (v.given)
      faults.add({"E349", v.at, "hot water: '" + key + "' belongs to a combi boiler, but zone '" + found->name + "' feeds the taps",
                  "no '" + key + "'", "remove '" + key + "'", found->at});
  });
  return found;
}

std::string output_call(Installation const& in, HotWaterSection const& hot, Diagnostics& faults) {
  if (!hot.recirculation) return "";
  auto const& output = value_of<&RecirculationEntry::zone_output>(hot.recirculation);
  if (output.text.empty()) return "";
  if (auto const* zone = in.zone(output.text)) return in.pieces[zone->thermostat].name;
  std::vector<std::string> zones;
  for (auto const& z : in.zones) zones.push_back(z.name);
  auto const near = nearest(output.text, zones);
  faults.add({"E231", output.at, hot.recirculation.who + ": zone_output is '" + output.text + "', and no zone has that name",
              "the name of a [[zone]]", near.empty() ? "" : "did you mean '" + near + "'?"});
  return "";
}

ColdYear cold_by_air(InletByAir const& air, Weather const& weather, Value const& stated, Diagnostics& faults) {
  double mean = *air.mean, difference = *air.difference;
  double constexpr day = 86400;
  auto const n = weather.dry_bulb.size();
  bool const is_year = double(n) * weather.step >= 364 * day;
  if ((std::isnan(mean) || std::isnan(difference)) && !is_year) {
    faults.add({"E345", stated.at, "hot water: cold_inlet needs the air temperature of a year",
                "cold_inlet = { kind = \"by air temperature\", mean_air = \"50 degF\", monthly_difference = \"45 degF\" }",
                "add these values, or a [site] weather of a whole year"});
    return {};
  }
  if (is_year) {
    double sum = 0, least = 1e9, most = -1e9;
    for (std::size_t month = 0; month < 12; ++month) {
      auto const from = month * n / 12, to = (month + 1) * n / 12;
      double of_month = 0;
      for (auto i = from; i < to; ++i) of_month += weather.dry_bulb[i];
      sum += of_month, of_month /= double(to - from);
      least = std::min(least, of_month), most = std::max(most, of_month);
    }
    if (std::isnan(mean)) mean = sum / double(n);
    if (std::isnan(difference)) difference = most - least;
  }
  return mains_by_air(mean, difference);
}

void state_least_output(Installation& in) {
  int const control = in.part(Part::hot_water_control), main = in.part(Part::cold_main);
  if (control < 0 || main < 0 || in.boiler < 0) return;
  auto& piece = in.pieces[std::size_t(control)];
  double const cold = *get<&ColdMain::mean>(in.pieces[std::size_t(main)]), set_point = *get<&HotWaterControl::set_point>(piece);
  value_of<&HotWaterControl::least_output>(piece).numbers = {hot_water_boiler(in, set_point, 0, cold).least_heat};
}

double take_derate(Piece& piece) {
  auto const boiler = fill<Boiler>(piece.values);
  if (std::isnan(*boiler.derate)) return 1;
  double const left = 1 - *boiler.derate;
  if (double const share = rated_share(boiler); !std::isnan(share)) value_of<&Boiler::dhw_efficiency>(piece).numbers = {share};
  each_value<&Boiler::heating_input, &Boiler::minimum_input, &Boiler::dhw_input, &Boiler::dhw_minimum>(
      piece, [&](std::string const&, Value& input) {
        for (double& x : input.numbers) x *= left;
      });
  return left;
}

void scale_lag_control(Piece& control, Piece const& boiler) {
  auto const& dhw = value_of<&Boiler::dhw_input>(boiler).numbers;
  auto const& heating = value_of<&Boiler::heating_input>(boiler).numbers;
  if (dhw.empty() || heating.empty() || dhw[0] <= heating[0]) return;
  each_value<&LagControl::call_above, &LagControl::release_below>(control, [&](std::string const&, Value& share) {
    for (double& x : share.numbers) x *= heating[0] / dhw[0];
  });
}

}  // namespace steadyfire
