#include "tools/review/start_up_review.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/combustion.hpp"
#include "models/expansion_tank.hpp"
#include "models/gas/gas_sections.hpp"
#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/deliverable.hpp"
#include "models/hot_water/hot_water_control.hpp"
#include "models/house/boiler_of.hpp"
#include "models/house/section_of.hpp"
#include "models/pressure/expansion.hpp"
#include "tools/review/circuits.hpp"
#include "tools/review/diagnosis.hpp"
#include "tools/review/gas_review.hpp"

namespace steadyfire {
namespace {

/// Pressure of the boiler's circuit at its expansion tank once its water has become `hot` [Pa], gauge; NaN where the tank's
/// volume is not stated, infinite where the tank is full.
double hot_pressure(Installation const& in, double hot) {
  double constexpr atmosphere = 101325;
  for (auto const& c : circuits_of(in)) {
    if (!c.has_boiler || c.tank < 0) continue;
    auto const tank = fill<ExpansionTank>(in.pieces[std::size_t(c.tank)].values);
    if (std::isnan(*tank.volume) || tank.cushion != ExpansionTank::diaphragm) continue;
    double const water = std::isnan(*tank.system_volume) ? c.water() : *tank.system_volume, cold = *tank.fill_temperature;
    double const lengthening = tank.pipes == 0 ? 0 : tank.pipes == 1 ? steel_lengthening : copper_lengthening;
    double const expansion =
        expansion_volume(water, c.fluid->at(std::max(cold, c.fluid->coldest())).density, c.fluid->at(hot).density, lengthening, hot - cold);
    double const precharge = std::isnan(*tank.precharge) ? *tank.fill_pressure : *tank.precharge;
    return cushion_when_hot(*tank.volume, precharge + atmosphere, *tank.fill_pressure + atmosphere, std::max(0.0, expansion)) - atmosphere;
  }
  return Field::none;
}

/// `hot`: mean temperature of the water once it is hot. Gas: of the boiler alone at full heating fire.
StaticReadings still_of(Job const& job, Installation const& in, double hot) {
  StaticReadings still{Field::none, hot_pressure(in, hot), Field::none, Field::none};
  still.gas_input = *boiler_of(in).heating_input, still.gas_running = gas_left_at_boiler(job, still.gas_input);
  still.gas_supply = *section_of<GasSection>(job.document, job.catalog).supply;
  if (!std::isfinite(still.hot_pressure)) still.hot_pressure = Field::none;  // the review of pressures tells of a tank that is too small
  for (auto const& p : in.pieces)
    if (p.kind->role == Role::expansion && std::isnan(still.cold_pressure))
      still.cold_pressure = *get<&ExpansionTank::fill_pressure>(p);
  auto const manual = section_of<StartUpSection>(job.document, job.catalog);
  still.gas_static = *manual.gas_static;
  if (!std::isnan(*manual.gas_running)) still.gas_running = *manual.gas_running, still.gas_supply = Field::none;
  if (!std::isnan(*manual.carbon_dioxide_full)) {
    double const complete = boiler_of(in).chemistry.dry_carbon_dioxide;
    still.carbon_dioxide_share = *manual.carbon_dioxide_full / complete;
    double const low = std::isnan(*manual.carbon_dioxide_low) ? *manual.carbon_dioxide_full : *manual.carbon_dioxide_low;
    still.carbon_dioxide_share_low = low / complete;
  }
  return still;
}

class Sheet {
 public:
  explicit Sheet(Job const& job)
      : job_{job}, stand_{stand_of(job, conditions_of(job.project))}, open_{unstated_deviation(job, stand_)},
        manual_{section_of<StartUpSection>(job.document, job.catalog)} {
    Diagnostics none;
    gauges_ = section_of<GaugesSection>(read_document("", "format = 1\ntitle = \"\"\n", readings_catalog(), none), readings_catalog());
  }

  ReviewPart part() {
    part_.id = "start_up", part_.title = "Start-up sheet";
    auto const& in = job_.project.installation;
    part_.sentences.push_back(say("Expected with every zone calling, {} outdoor, rooms at design temperature. Ranges cover gauge error and "
                                  "assumed values (two standard deviations).",
                                  Amount{in.outdoor_design, measure::temperature}));
    auto const running = shown(BurnConditions::modulating);
    cold(running.second);
    modulating(running.first, running.second);
    forced(BurnConditions::full, "At full fire");
    forced(BurnConditions::minimum, "At minimum fire");
    hot_water();
    zones(running.second);
    circulators(running.second);
    other_days();
    notes();
    return std::move(part_);
  }

 private:
  using Shown = std::pair<SteadyBurn, std::vector<GaugeValue>>;
  /// With what nobody stated in each reading's spread.
  Shown shown(BurnConditions::Fire fire) const {
    Stand stand = stand_;
    stand.conditions.fire = fire;
    auto burn = steady_burn(stand.installation, stand.conditions);
    auto gauges = gauges_of(stand.installation, burn, stand.conditions, stand.still);
    // of a forced fire the input is what it is; what else is open is taken as on the boiler's own control
    bool const forced = fire != BurnConditions::modulating;
    for (auto& g : gauges)
      if (auto const at = open_.find(g.id); at != open_.end() && !(forced && g.id == "input")) g.spread = std::hypot(g.spread, at->second);
    return {std::move(burn), std::move(gauges)};
  }

  ReviewTable table(std::string id, std::string title) const {
    return {"start_up_" + std::move(id), std::move(title), {"reading", "where", "expected", "range", "read"}, {}};
  }
  void row(ReviewTable& t, std::string reading, std::string where, double value, double sigma, Measure const& m,
           bool positive = true) const {
    double const low = positive ? std::max(0.0, value - 2 * sigma) : value - 2 * sigma;
    t.rows.push_back({std::move(reading), std::move(where), {value, m}, say("{} to {}", Amount{low, m}, Amount{value + 2 * sigma, m}), ""});
  }
  double sigma(GaugeValue const& g) const { return std::hypot(gauge_error(g, gauges_), g.spread); }
  void gauge(ReviewTable& t, std::vector<GaugeValue> const& all, std::string const& id) const {
    if (auto const* g = find_gauge(all, id)) row(t, g->what, g->where, g->value, sigma(*g), g->measure, g->measure.us.offset == 0);
  }
  /// A difference of two thermometers.
  void difference(ReviewTable& t, std::vector<GaugeValue> const& all, std::string const& words, std::string const& where,
                  std::string const& from, std::string const& to) const {
    auto const *a = find_gauge(all, from), *b = find_gauge(all, to);
    if (a && b)
      row(t, words, where, a->value - b->value, std::hypot(std::sqrt(2.0) * *gauges_.temperature, std::max(a->spread, b->spread)),
          measure::fine_temperature_change);
  }
  void keep(ReviewTable t) {
    if (!t.rows.empty()) part_.tables.push_back(std::move(t));
  }

  void cold(std::vector<GaugeValue> const& all) {
    auto t = table("cold", "Before the burner runs");
    gauge(t, all, "cold_pressure"), gauge(t, all, "gas_static");
    keep(std::move(t));
  }

  void modulating(SteadyBurn const& burn, std::vector<GaugeValue> const& all) {
    auto t = table("design", "All zones calling, boiler on its own control");
    for (auto const* id : {"supply", "return"}) gauge(t, all, id);
    difference(t, all, "temperature rise", "across the boiler", "supply", "return");
    for (auto const* id : {"system_supply", "system_return", "flow", "firing", "input", "hot_pressure"}) gauge(t, all, id);
    keep(std::move(t));
    switch (burn.how) {
      case SteadyBurn::steady:
        part_.sentences.push_back(say("The burner then fires steadily at {} of its heating input.", Amount{burn.fire, measure::share}));
        break;
      case SteadyBurn::cycles:
        part_.sentences.push_back(say("Even then the zones take less than minimum fire gives: the burner cycles and the water swings {} up "
                                      "and down. The return shown is that during a burn.",
                                      Amount{burn.swing, measure::temperature_change}));
        break;
      case SteadyBurn::at_full_fire:
        part_.sentences.push_back(say("The burner then stays at full fire. Its water reaches {}, below target.",
                                      Amount{burn.supply, measure::temperature}));
        break;
      case SteadyBurn::starved:
        part_.sentences.push_back(
            say("Boiler flow {} is too low to fire.", Amount{burn.state.boiler_flow, measure::flow}));
        break;
      case SteadyBurn::at_high_limit:
        break;  // of a forced fire only
    }
  }

  void forced(BurnConditions::Fire fire, char const* title) {
    auto const [burn, all] = shown(fire);
    if (burn.how == SteadyBurn::starved) return;
    bool const full = fire == BurnConditions::full, at_limit = burn.how == SteadyBurn::at_high_limit;
    auto t = table(full ? "full_fire" : "minimum_fire", title);
    gauge(t, all, "input");
    if (full || !std::isnan(stand_.still.gas_supply)) gauge(t, all, "gas_running");
    gauge(t, all, "carbon_dioxide");
    carbon_monoxide(t);
    if (!at_limit) {
      difference(t, all, "temperature rise", "across the boiler", "supply", "return");
      gauge(t, all, "supply"), gauge(t, all, "return"), gauge(t, all, "flue_temperature");
    } else {
      double const approach = burn.flue - burn.returned;
      row(t, "flue gas above return", "boiler", approach, std::hypot(*gauges_.flue_temperature, *gauges_.temperature),
          measure::fine_temperature_change);
      part_.sentences.push_back(
          say("{} the zones cannot take the heat. The water climbs to the high limit: read within minutes.", title));
    }
    keep(std::move(t));
  }

  /// What nobody computes and everybody measures.
  static void carbon_monoxide(ReviewTable& t) {
    t.rows.push_back({"CO, air-free", "boiler vent", "by the manual", "usual 0 to 100 ppm", ""});
  }

  /// A combi at full fire, as many taps open as it takes.
  void hot_water() {
    auto const& in = job_.project.installation;
    int const main_at = in.part(Part::cold_main), control_at = in.part(Part::hot_water_control);
    if (main_at < 0 || control_at < 0) return;
    auto const boiler = boiler_of(in);
    if (!boiler.hot_water) return;
    auto const &main = in.pieces[std::size_t(main_at)], &control = in.pieces[std::size_t(control_at)];
    double const mean = *get<&ColdMain::mean>(main), swing = *get<&ColdMain::swing>(main),
                 set_point = *get<&HotWaterControl::set_point>(control), input = boiler.full * boiler.dhw_most;
    double const computed = job_.run.hot_water ? job_.run.hot_water->deliverable.output : 0,
                 output = computed > 0 ? computed : input * boiler.efficiency(boiler.dhw_most, mean);
    auto t = table("hot_water", "Hot water at full fire (open taps until the burner stays there)");
    row(t, "input, by the gas meter", "gas meter", input, *gauges_.input * input + 100, measure::power);
    if (double const left = gas_running_at(stand_.still, input); !std::isnan(left) && !std::isnan(stand_.still.gas_supply))
      row(t, "gas pressure, burner on", "boiler gas inlet", left, *gauges_.gas, measure::gas_pressure);
    carbon_monoxide(t);
    row(t, "incoming water temperature", "cold inlet", mean, std::hypot(*gauges_.temperature, swing / 2), measure::temperature, false);
    row(t, "hot water temperature", "hot outlet", set_point, std::hypot(*gauges_.temperature, 2 / 1.8), measure::temperature, false);
    double const flow = flow_for(output, mean, set_point);
    row(t, "hot water flow", "unmixed, at that rise", flow, *gauges_.flow * flow + 0.1 * unit::gpm.scale, measure::flow);
    keep(std::move(t));
    part_.sentences.push_back(say("Hot water at full fire: {} heated from {} to {}. Colder incoming water gives less.",
                                  Amount{flow, measure::flow}, Amount{mean, measure::temperature},
                                  Amount{set_point, measure::temperature}));
  }

  void zones(std::vector<GaugeValue> const& all) {
    auto t = table("zones", "Zone by zone, all of them calling");
    for (auto const& z : stand_.installation.zones) {
      std::string const at = "zone/" + z.name + "/";
      gauge(t, all, at + "supply"), gauge(t, all, at + "return");
      difference(t, all, "temperature drop", z.name, at + "supply", at + "return");
      gauge(t, all, at + "flow");
    }
    keep(std::move(t));
  }

  void circulators(std::vector<GaugeValue> const& all) {
    auto t = table("circulators", "Circulators, and parts that can clog");
    for (auto const& g : all)
      if (g.id.starts_with("piece/") && !g.id.ends_with("/flow")) gauge(t, all, g.id);
    keep(std::move(t));
  }

  /// The reset curve as a thermometer sees it.
  void other_days() {
    ReviewTable t{"start_up_days", "On other days, all zones calling", {"outdoor", "boiler supply", "boiler return", "firing rate"}, {}};
    double const warmest = 288.7;  // 60 degF
    double const coldest = stand_.conditions.outdoors;
    for (int i = 0; i < 4 && coldest < warmest; ++i) {
      BurnConditions conditions = stand_.conditions;
      conditions.outdoors = coldest + (warmest - coldest) * i / 3;
      auto const burn = steady_burn(stand_.installation, conditions);
      ReviewCell const fire = burn.how == SteadyBurn::cycles ? ReviewCell{"cycles"}
                              : burn.fire == 0               ? ReviewCell{"none"}
                                                             : ReviewCell{burn.fire, measure::share};
      t.rows.push_back(
          {{conditions.outdoors, measure::temperature}, {burn.supply, measure::temperature}, {burn.returned, measure::temperature}, fire});
    }
    keep(std::move(t));
  }

  void notes() {
    if (std::isnan(*manual_.carbon_dioxide_full))
      part_.missing.push_back("carbon_dioxide_full_fire in [start_up]: CO2 is computed from the boiler's excess air; the manual decides");
    else
      part_.sentences.push_back(say("CO2 is from the manual (your input){}.",
                                    std::isnan(*manual_.carbon_dioxide_within)
                                        ? Words()
                                        : say(", within {}", Amount{*manual_.carbon_dioxide_within, measure::fine_share})));
    if (std::isnan(stand_.still.cold_pressure)) part_.missing.push_back("no [[expansion_tank]]: expected water pressures are unknown");
    if (std::isnan(stand_.still.gas_static)) part_.missing.push_back("gas_static in [start_up]");
    part_.sentences.push_back("CO: the manual decides. Usual 0 to 100 ppm air-free (common practice, no published source), limit 400 ppm "
                              "(ANSI Z21.13, edition not checked).");
    if (!std::isnan(stand_.still.gas_supply))
      part_.sentences.push_back("Running gas pressures are for the input in the same table, the boiler alone firing.");
    if (std::isnan(stand_.still.gas_running))
      part_.missing.push_back("gas_running in [start_up], or a gas line with its supply pressure");
    part_.not_covered = {"slabs and rooms that still warm up: cold ones take more, so supply, return and temperature drops read lower",
                         "errors of the computation: published fitting losses differ by a factor of two to three"};
    part_.reminders = {"Purge the air, warm every zone through once, and read after ten minutes of steady burner.",
                       "Type the readings into a file and run: steadyfire check FILE --readings READINGS"};
    part_.cautions = {"Carbon monoxide and gas kill. A licensed contractor measures and sets gas pressure, CO2 and carbon monoxide by the "
                      "appliance manual. Hot water and steam scald at the relief valve."};
  }

  Job const& job_;
  Stand stand_;
  std::map<std::string, double> open_;
  StartUpSection manual_;
  GaugesSection gauges_{};
  ReviewPart part_;
};

}  // namespace

BurnConditions conditions_of(Project const& project) {
  BurnConditions c;
  for (auto const& z : project.installation.zones) c.calling.push_back(z.name);
  c.outdoors = project.installation.outdoor_design, c.ground = project.ground, c.unheated = project.unheated;
  return c;
}

Stand stand_of(Job const& job, BurnConditions conditions) {
  auto const& in = job.project.installation;
  auto const burn = steady_burn(in, conditions);
  return {in, std::move(conditions), still_of(job, in, (burn.supply + burn.returned) / 2)};
}

std::map<std::string, double> unstated_deviation(Job const& job, Stand const& stand) {
  std::map<std::string, double> squares;
  auto const burn = steady_burn(stand.installation, stand.conditions);
  double const hot = (burn.supply + burn.returned) / 2;
  for (auto const& a : stand.installation.assumptions) {
    if (!a.has_range()) continue;
    std::vector<GaugeValue> ends[2];
    try {
      for (int end : {0, 1}) {
        Diagnostics faults;
        auto const other = suppose(job.project, job.document, job.catalog, {a.place, a.key, end ? a.most : a.least}, faults);
        if (!faults.empty()) break;
        Stand changed{other.installation, stand.conditions, still_of(job, other.installation, hot)};
        ends[end] = gauges_on(changed);
      }
    } catch (Stopped const&) { continue; }
    for (auto const& low : ends[0])
      if (auto const* high = find_gauge(ends[1], low.id)) squares[low.id] += std::pow(high->value - low.value, 2) / 12;
  }
  for (auto& [id, sum] : squares) sum = std::sqrt(sum);
  return squares;
}

ReviewPart review_start_up(Job const& job) {
  try {
    return Sheet{job}.part();
  } catch (Stopped const& stop) {
    ReviewPart part;
    part.id = "start_up", part.title = "Start-up sheet";
    part.missing.push_back(std::string("expected readings: ") + stop.what());
    return part;
  }
}

}  // namespace steadyfire
