#include "sim/core/count_up.hpp"
#include "models/house/house.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "models/arrangements/headers.hpp"
#include "models/arrangements/hot_water.hpp"
#include "models/arrangements/names.hpp"
#include "models/boiler.hpp"
#include "models/emitters/fin_tube_baseboard.hpp"
#include "models/fluid/custom.hpp"
#include "models/fluid/glycol.hpp"
#include "models/fluid/water.hpp"
#include "models/house/between.hpp"
#include "models/house/boiler_of.hpp"
#include "models/house/contradictions.hpp"
#include "models/house/hot_water_rules.hpp"
#include "models/house/mixed_zones.hpp"
#include "models/house/network_rules.hpp"
#include "models/house/section_of.hpp"
#include "models/house/table_rules.hpp"
#include "models/house/water_rules.hpp"
#include "models/pipe.hpp"
#include "models/venting/vent_sections.hpp"
#include "models/house/weather_sections.hpp"
#include "models/house/zone_builder.hpp"
#include "sim/core/finding.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {
namespace {

using namespace unit;

std::shared_ptr<FluidLaw const> make_fluid(FluidSection const& f) {
  if (f.carrier == 1) return std::make_shared<PropyleneGlycol>(f.mass_fraction);
  if (f.carrier == 2)
    return std::make_shared<CustomFluid>("custom", Fluid{*f.density, *f.viscosity, *f.heat_capacity, *f.conductivity}, 200, 500);
  return std::make_shared<Water>();
}

class House {
 public:
  House(Document const& document, Catalog catalog, Diagnostics& faults, Project& project)
      : document_{document}, catalog_{catalog}, faults_{faults}, project_{project}, builder_{catalog} {}

  void build() {
    read_sections();
    weather();
    refuse_lag_without_loop();
    plan_hot_water();
    auto const headers = piping();
    ZonesOfHouse zones{document_, site_, headers_, controls_, outdoor_design_,
                       beside_.goes_first && beside_.by_valve && near_.arrangement == NearBoilerSection::direct};
    for (std::size_t i = 0; i < zones_.size(); ++i) add_zone(builder_, zones, *zones_[i], headers[i], faults_);
    builder_.zone = "";
    insulate();
    auto const call = heating_controls(zones);
    auto const inlet = boiler_inlet(zones.return_is_guarded);
    if (hot_water_) hot_water(call);
    boiler(call, inlet);
    keep_slugs();
    if (lag_) lag_boiler(call);
    add_partitions(document_, builder_, faults_);
    refuse_mixed_above_boiler(zones_, builder_.installation, faults_);
    overrides();
  }
  Builder& builder() { return builder_; }

 private:
  void read_sections() {
    site_ = section_of<SiteSection>(document_, catalog_);
    near_ = section_of<NearBoilerSection>(document_, catalog_);
    headers_ = section_of<HeadersSection>(document_, catalog_);
    controls_ = section_of<ControlsSection>(document_, catalog_);
    lead_ = document_.find("boiler"), lag_ = document_.find("lag boiler"), hot_water_ = document_.find("hot water");
    for (auto const& t : document_.tables)
      if (t.kind->name == ZoneSection::kind) zones_.push_back(&t);
  }

  /// All heating pipes that stand by now; a pipe's own table may say otherwise later.
  void insulate() {
    if (std::isnan(*headers_.pipe_insulation)) return;
    for (auto& piece : builder_.installation.pieces)
      if (piece.kind->name == Pipe::kind) value_of<&Pipe::insulation>(piece).numbers = {*headers_.pipe_insulation};
  }

  /// Where one pass through the boiler at minimum fire takes a good part of its differential, hot water travels as a slug, and
  /// when it comes round decides the next start: finer cells for the boiler, for pipes and fin-tube of such zones, and the mains.
  /// A boiler with its own loop has its own flow, and nothing comes round as a slug.
  void keep_slugs() {
    if (near_.arrangement != NearBoilerSection::direct) return;
    auto& in = builder_.installation;
    auto const boiler = boiler_of(in);
    double constexpr noticed = 0.4, cell_length = 0.5;  // of the differential; [m]
    double const differential = *boiler.on_below + *boiler.off_above, heat = boiler.least * boiler.full;
    auto const& water = in.fluid->at(in.fluid_temperature);
    std::set<std::string> slugs;
    for (auto const& z : in.zones)
      if (z.wanted_flow * water.density * water.heat_capacity * noticed * differential < heat) slugs.insert(z.name);
    if (slugs.empty()) return;
    if (auto& cells = value_of<&Boiler::cell_count>(in.pieces[in.boiler]); !cells.given) cells.numbers = {32};
    for (auto& piece : in.pieces) {
      bool const potable = piece.name.starts_with(named::hot_water_group);
      if (potable || (!piece.zone.empty() && !slugs.count(piece.zone))) continue;
      if (piece.kind->name == Pipe::kind) {
        double const length = value_of<&Pipe::length>(piece).numbers.at(0);
        double const cells = std::clamp(count_up(length / cell_length), 4.0, 40.0);
        if (length >= 2 * cell_length) value_of<&Pipe::cell_count>(piece).numbers = {cells};
      } else if (piece.kind->name == FinTubeBaseboard::kind && !value_of<&FinTubeBaseboard::cell_count>(piece).given) {
        value_of<&FinTubeBaseboard::cell_count>(piece).numbers = {12};
      }
    }
  }

  void refuse_lag_without_loop() {
    if (!lag_ || near_.arrangement != NearBoilerSection::direct) return;
    faults_.add({"E248", lag_->at, "a second boiler needs its own loop, and boiler and zones share one",
                 "arrangement = \"closely spaced tees\", or another with a separate boiler loop",
                 "change the arrangement in [near_boiler]",
                 value_of<&NearBoilerSection::arrangement>(*document_.find("near boiler")).at});
  }

  /// What feeds the taps, a tank or the boiler, and what that asks of heating.
  void plan_hot_water() {
    tank_ = potable_tank(document_, faults_);
    if (!is_combi()) return;
    beside_.is_combi = true, beside_.by_valve = HotWaterSection::valve_of(*hot_water_) != HotWaterSection::parallel_circuits;
    beside_.goes_first = !HotWaterSection::shares(*hot_water_);
  }
  bool is_combi() const { return hot_water_ && !tank_; }

  /// From the boiler to where each zone is taken off.
  std::vector<Headers> piping() {
    bool all_pumped = headers_.arrangement != HeadersSection::single_pipe;  // whose main wants a circulator of its own
    std::vector<std::string> names;
    for (auto const* z : zones_) all_pumped &= !has_valve(*z, headers_), names.push_back(z->name);
    std::string const size = near_.size.empty() ? "1 in copper M" : near_.size;
    auto const ends = add_near_boiler(builder_, near_, all_pumped, bool(lag_), size, beside_);
    return add_headers(builder_, headers_, ends, names, headers_.size.empty() ? size : headers_.size);
  }

  /// Gathers the zones' calls, and a buffer tank's control. Returns the name of what calls the boiler.
  std::string heating_controls(ZonesOfHouse const& zones) {
    auto& in = builder_.installation;
    in.relay = builder_.add("zone relay", named::relay, {}, {{"callers", zones.callers}, {"sources", zones.sources}});
    if (!near_.tank_control) return named::relay;
    in.tank_control = builder_.add("tank control", named::tank_control, {},
                                   {{"tank", named::tank}, {"target_from", named::relay}, {"permits", zones.resets}},
                                   &near_.tank_control);
    builder_.stated_by<&NearBoilerSection::tank_control>(in.tank_control);
    return named::tank_control;
  }

  /// The joint where the boiler takes its water, behind a sensor where a mixing valve guards the return.
  std::string boiler_inlet(bool is_guarded) {
    if (!is_guarded) return named::boiler_inlet;
    std::string const sensed = std::string(named::boiler_inlet) + " sensed";
    builder_.add("supply sensor", named::return_sensor, {named::boiler_inlet, sensed});
    return sensed;
  }

  /// What both boilers are told alike. `curve_has_its_loss`: the head of the boiler itself is already in its circulator's curve.
  std::vector<Setting> boiler_wiring(std::string const& call, bool curve_has_its_loss) const {
    std::vector<Setting> wiring{{"call", call}};
    if (!value_of<&Boiler::fixed_target>(*lead_).given) wiring.push_back({"target_from", named::relay});  // else it holds its own
    if (near_.sensor == 1) wiring.push_back({"sensor", named::system_sensor});
    if (curve_has_its_loss) wiring.push_back({"rated_head_loss", 0.0});
    return wiring;
  }
  /// What the vent's table says of the air that a boiler burns with, where the boiler's own does not.
  void add_air(Entry const& boiler, std::vector<Setting>& wiring) const {
    auto const* table = document_.find("vent");
    if (!table) return;
    auto const vent = fill<VentSection>(table->values);
    if (!value_of<&Boiler::intake>(boiler).given) wiring.push_back({"intake", vent.system == VentSection::room_air ? 1.0 : 0.0});
    if (std::isnan(*vent.altitude)) return;
    if (!value_of<&Boiler::altitude>(boiler).given) wiring.push_back({"altitude", *vent.altitude});
    double const steps = std::max(0.0, (*vent.altitude - *vent.derate_above) / unit::foot.to_si(1000));
    if (!value_of<&Boiler::derate>(boiler).given && !std::isnan(*vent.derate))
      wiring.push_back({"derate", std::min(0.6, *vent.derate * steps)});
  }

  void boiler(std::string const& call, std::string const& inlet) {
    auto& in = builder_.installation;
    auto wiring = boiler_wiring(call, bool(near_.appliance_circulator));
    if (is_combi()) {
      wiring.push_back({"hot_water", named::hot_water_control});
      wiring.push_back({"hot_water_sensor", named::hot_water_sensor});
      wiring.push_back({"hot_water_set_point", value_of<&HotWaterSection::set_point>(*hot_water_).numbers.at(0)});
    }
    add_air(*lead_, wiring);
    in.boiler = builder_.add("boiler", named::boiler, {inlet, named::boiler_outlet}, wiring, lead_);
    in.pieces[in.boiler].stated_in.table = lead_->kind;
    project_.input_left = take_derate(in.pieces[in.boiler]);
    project_.carbon_per_joule = boiler_of(in).chemistry.carbon_dioxide_per_joule;
  }

  void lag_boiler(std::string const& call) {
    auto& in = builder_.installation;
    in.lag_control = builder_.add("lag control", named::lag_control, {}, {{"lead", named::boiler}, {"call", call}},
                                  controls_.lag ? &controls_.lag : nullptr);
    if (is_combi()) scale_lag_control(in.pieces[in.lag_control], in.pieces[in.boiler]);
    bool const curve_has_its_loss = near_.appliance_circulator && !near_.lag_circulator;
    auto wiring = boiler_wiring(named::lag_control, curve_has_its_loss);
    add_air(*lag_, wiring);
    in.lag_boiler = builder_.add("lag boiler", "lag", {named::lag_inlet, named::lag_outlet}, wiring, lag_);
    in.pieces[in.lag_boiler].stated_in.table = lag_->kind;
    take_derate(in.pieces[in.lag_boiler]);
  }

  void hot_water(std::string const& heating_call) {
    auto const& table = *hot_water_;
    auto const hot = fill<HotWaterSection>(table.values);
    auto const input = [](Value const& dhw, Value const& heating) {
      return !dhw.numbers.empty() ? dhw.numbers[0] : heating.numbers.empty() ? 0 : heating.numbers[0];
    };
    auto const run = section_of<RunSection>(document_, catalog_);
    add_hot_water(builder_, hot, table, cold_year(table, hot), run.start_day,
                  {input(value_of<&Boiler::dhw_input>(*lead_), value_of<&Boiler::heating_input>(*lead_)),
                   input(value_of<&Boiler::dhw_minimum>(*lead_), value_of<&Boiler::minimum_input>(*lead_))},
                  taps_of(document_, builder_, hot.draws, *run.clock, *run.duration, project_.file_faults, faults_),
                  {unprotected_floors(document_), heating_call, output_call(builder_.installation, hot, faults_), bool(tank_)});
  }
  ColdYear cold_year(Entry const& table, HotWaterSection const& hot) {
    auto const& inlet = hot.cold_inlet;
    auto const usual = [&](char const* key, AnyUnit unit, double low, double middle, double high) {
      return builder_.assume({named::cold_main, key, unit.to_si(middle), unit.to_si(low), unit.to_si(high), measure::temperature,
                              common_practice});
    };
    if (!inlet || (inlet.kind->name == ConstantInlet::kind && !is_stated(value_of<&ConstantInlet::temperature>(inlet))))
      return {usual("cold_inlet", degF, 40, 50, 60), 0, 230};
    if (inlet.kind->name == ConstantInlet::kind) return {*fill<ConstantInlet>(inlet.values).temperature, 0, 230};
    if (inlet.kind->name == SeasonalInlet::kind) {
      auto const season = fill<SeasonalInlet>(inlet.values);
      return {*season.mean, *season.swing, season.warmest_day};
    }
    auto const air = fill<InletByAir>(inlet.values);
    return cold_by_air(air, project_.weather, value_of<&HotWaterSection::cold_inlet>(table), faults_);
  }

  void weather() {
    project_.ground = of_site<&SiteSection::ground>(), project_.unheated = of_site<&SiteSection::unheated>();
    if (project_.weather.dry_bulb.empty()) read_weather();  // a supposition keeps it
    outdoor_design_ = *site_.outdoor_design;
    if (std::isnan(outdoor_design_) && !project_.weather.dry_bulb.empty()) {
      double const cold = statistics(project_.weather).cold_1_percent;
      auto const* told = site_.weather.kind;  // a day repeated tells nothing of the coldest of a year
      if (!told || told->name == SteadyWeather::kind || told->name == DailyWave::kind) project_.guessed_design = cold;
      outdoor_design_ = builder_.assume({"site", "outdoor_design", cold, cold, cold, measure::temperature,
                                         site_.weather ? "99% temperature of the weather used"
                                                       : "no site in the scenario: 0 °F"});
    }
    builder_.installation.outdoor_design = outdoor_design_;
  }
  void read_weather() {
    double const design_if_none = degF.to_si(0);
    if (site_.weather) {
      auto const before = faults_.count();
      try {
        project_.weather = make_weather(site_.weather, document_.file, faults_);
      } catch (BadInput const& e) {  // the scenario's own faults are told with those of its weather file
        project_.file_faults.add(e), project_.weather = constant_weather(design_if_none);
      }
      project_.weather_words = site_.weather.kind->summary;
      if (project_.file_faults.empty() && faults_.count() == before) refuse_short_weather();
    } else {
      project_.weather = constant_weather(std::isnan(*site_.outdoor_design) ? design_if_none : *site_.outdoor_design);
      project_.weather_words = "constant at the design temperature";
    }
  }
  /// A temperature of the site, by its usual range if nobody stated it.
  template <auto M>
  double of_site() {
    auto const* stated = document_.find("site");
    double const value = *(site_.*M);
    if (stated && is_stated(value_of<M>(*stated))) return value;
    auto const& f = field_of<M>(*find_kind(catalog_, SiteSection::kind));
    return builder_.assume({"site", f.key, value, f.unit.to_si(f.low), f.unit.to_si(f.high), measure::temperature, f.typical_source});
  }
  /// Short weather would begin anew within the run, as nobody measured it; a year may.
  void refuse_short_weather() {
    double const has = double(project_.weather.dry_bulb.size()) * project_.weather.step, day_length = 86400;
    auto const run = section_of<RunSection>(document_, catalog_);
    double const end = (run.start_day - 1) * day_length + *run.clock + *run.duration;
    auto const* stated = document_.find("run");
    bool const of_file = site_.weather.kind->name == TypicalYearFile::kind || site_.weather.kind->name == HourlyFile::kind;
    if (!of_file || has >= 364 * day_length || end <= has + project_.weather.first) return;
    faults_.add({"E316", stated ? stated->at : value_under(site_.weather, "file").at,
                 fmt::format("run: it ends on day {:.4g} of the weather, which has {:.4g} days", end / day_length,
                             has / day_length),
                 "a run within the weather file",
                 fmt::format("shorten duration, or change start_day (now {})", run.start_day), {}, {}});
  }

  void overrides() {
    for (auto const& t : document_.tables) {
      if (t.kind->home != Home::repeated || !t.kind->empty_batch) continue;  // zones, side data of a review
      if (!t.ports.empty() && builder_.installation.find(t.name) >= 0) {
        faults_.add({"E215", t.at, t.kind->name + ": the name '" + t.name + "' is already used by a part of the arrangement",
                     "a unique name", "leave out its joints to change that part"});
        continue;
      }
      if (builder_.override_with(t, faults_)) {
        if (t.kind->check) t.kind->check(t, faults_);  // the reader leaves that out where keys are missing
        continue;
      }
      if (!t.ports.empty()) { builder_.zone = "", builder_.add(t); continue; }
      std::vector<std::string> known;
      for (auto const& p : builder_.installation.pieces) known.push_back(p.name);
      auto const near = nearest(t.name, known);
      faults_.add({"E236", t.at, "no part is named '" + t.name + "'",
                   "the name of a part of the arrangement, or joints for a new one",
                   near.empty() ? "" : "did you mean '" + near + "'?"});
    }
  }

  Document const& document_;
  Catalog catalog_;
  Diagnostics& faults_;
  Project& project_;
  Builder builder_;
  SiteSection site_{};
  NearBoilerSection near_{};
  HeadersSection headers_{};
  ControlsSection controls_{};
  BesideHeating beside_{};
  Entry const *lead_ = nullptr, *lag_ = nullptr, *hot_water_ = nullptr;
  Entry const* tank_ = nullptr;  // the zone whose tank feeds the taps
  std::vector<Entry const*> zones_;
  double outdoor_design_ = 255.37;
};

/// Fills a project that is empty, or has its weather.
void assemble(Project& project, Document const& document, Catalog catalog, std::optional<Supposition> supposed, Diagnostics& faults) {
  House house{document, catalog, faults, project};
  house.builder().supposed = std::move(supposed);
  auto& in = house.builder().installation;
  auto const fluid = section_of<FluidSection>(document, catalog);
  in.title = get<&Opening::title>(document.root);
  in.fluid = make_fluid(fluid), in.fluid_temperature = *fluid.temperature;
  if (in.fluid_temperature < in.fluid->coldest() || in.fluid_temperature > in.fluid->hottest())
    faults.add({"E227", value_of<&FluidSection::temperature>(*document.find("fluid")).at,
                "fluid: " + in.fluid->describe() + " at " + show(in.fluid_temperature, measure::temperature, UnitSystem::us) +
                    ", outside its known range",
                show(in.fluid->coldest(), measure::temperature, UnitSystem::us) + " to " +
                    show(in.fluid->hottest(), measure::temperature, UnitSystem::us),
                "set temperature to the usual water temperature"});
  project.run = section_of<RunSection>(document, catalog);
  project.is_house = is_house(document);
  if (project.is_house) {
    house.build();
  } else {
    for (auto const& t : document.tables) {
      if (t.kind->name == "joint") {
        auto const j = fill<JointSection>(t.values);
        GivenJoint g{t.name, {}, {}, t.at};
        if (!std::isnan(*j.head)) g.head = *j.head;
        if (!std::isnan(*j.inflow)) g.inflow = *j.inflow;
        in.joints.push_back(g), in.heights[t.name] = *j.height;
      } else if (t.kind->home == Home::repeated && t.kind->empty_batch) {
        house.builder().add(t);
      }
    }
  }
  project.installation = house.builder().finish(faults);
  check_references(project.installation, faults);
  if (faults.empty() && project.is_house) state_least_output(project.installation);
  if (faults.empty() && project.is_house) check_added_pieces(project.installation, document.tables, faults);
  if (faults.empty()) check_contradictions(project.installation, document, faults);
  if (faults.empty() && project.is_house) check_water_names(project.installation, document, faults);
  if (faults.empty() && !project.is_house) check_network(project.installation, faults);
}

}  // namespace

std::vector<Finding> findings_of_site(Project const& project) {
  if (std::isnan(project.guessed_design)) return {};
  return {{.id = "site.no_design_temperature",
           .place = "site",
           .severity = Severity::minor,
           .figures = {{"outdoor_design", project.guessed_design, measure::temperature}},
           .limit = std::nullopt,
           .whose = common_practice,
           .words = say("outdoor design temperature not stated; {} taken. Loads, emitters and boiler are judged at it.",
                        Amount{project.guessed_design, measure::temperature}),
           .order = 95,
           .fix = "state outdoor_design in [site]: the 99% heating temperature of the place."}};
}

Project make_project(Document const& document, Catalog catalog, Diagnostics& faults) {
  Project project;
  check_tables(document, faults);
  if (faults.empty()) assemble(project, document, catalog, std::nullopt, faults);
  return project;
}

Project suppose(Project const& project, Document const& document, Catalog catalog, Supposition const& other, Diagnostics& faults) {
  Project changed;
  changed.weather = project.weather, changed.weather_words = project.weather_words;
  assemble(changed, document, catalog, other, faults);
  return changed;
}

}  // namespace steadyfire
