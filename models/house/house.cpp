#include "models/house/house.hpp"

#include <fmt/format.h>

#include <set>
#include <utility>

#include "models/arrangements/headers.hpp"
#include "models/arrangements/hot_water.hpp"
#include "models/arrangements/mixing.hpp"
#include "models/arrangements/row.hpp"
#include "models/boiler.hpp"
#include "models/circulator.hpp"
#include "models/fluid/custom.hpp"
#include "models/fluid/glycol.hpp"
#include "models/fluid/water.hpp"
#include "models/house/contradictions.hpp"
#include "models/house/hot_water_rules.hpp"
#include "models/house/load_estimate.hpp"
#include "models/house/mixed_zones.hpp"
#include "models/house/network_rules.hpp"
#include "models/house/section_of.hpp"
#include "models/house/table_rules.hpp"
#include "models/house/weather_sections.hpp"
#include "models/radiator_valve.hpp"
#include "models/house/water_rules.hpp"
#include "sim/core/finding.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {
namespace {

using namespace unit;

bool is_stated(Value const& v) { return v.given && !v.unknown; }

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
    site_ = section_of<SiteSection>(document_, catalog_);
    near_ = section_of<NearBoilerSection>(document_, catalog_);
    headers_ = section_of<HeadersSection>(document_, catalog_);
    controls_ = section_of<ControlsSection>(document_, catalog_);
    Entry const* boiler = document_.find("boiler");
    std::vector<Entry const*> zones;
    for (auto const& t : document_.tables)
      if (t.kind->name == "zone") zones.push_back(&t);

    weather();
    bool all_pumped = headers_.arrangement != HeadersSection::single_pipe;  // whose main wants a circulator of its own
    std::vector<std::string> names;
    for (auto const* z : zones) all_pumped &= !has_valve(*z), names.push_back(z->name);
    std::string const size = near_.size.empty() ? "1 in copper M" : near_.size;
    Entry const* second = document_.find("lag boiler");
    if (second && near_.arrangement == NearBoilerSection::direct)
      faults_.add({"E248", second->at, "a second boiler needs its own loop, and boiler and zones share one",
                   "arrangement = \"closely spaced tees\", or another with a separate boiler loop",
                   "change the arrangement in [near_boiler]", value_under(*document_.find("near boiler"), "arrangement").at});
    Entry const* hot_water = document_.find("hot water");
    tank_ = potable_tank(document_, faults_);
    if (hot_water && !tank_) {
      beside_.is_combi = true, beside_.by_valve = HotWaterSection::valve_of(*hot_water) != HotWaterSection::parallel_circuits;
      beside_.goes_first = !HotWaterSection::shares(*hot_water);
    }
    auto const ends = add_near_boiler(builder_, near_, all_pumped, bool(second), size, beside_);
    auto const headers = add_headers(builder_, headers_, ends, names, headers_.size.empty() ? size : headers_.size);
    std::vector<std::string> callers, sources;
    for (std::size_t i = 0; i < zones.size(); ++i) zone(*zones[i], headers[i], callers, sources);
    builder_.zone = "";
    auto& in = builder_.installation;
    in.relay = builder_.add("zone relay", "relay", {}, {{"callers", callers}, {"sources", sources}});
    std::string call = "relay";
    if (near_.tank_control) {
      call = "tank/control";
      in.tank_control = builder_.add("tank control", call, {}, {{"tank", "tank"}, {"target_from", "relay"}, {"permits", sources}},
                                     &near_.tank_control);
    }
    std::vector<Setting> wiring{{"call", call}};
    if (!value_under(*boiler, "target").given) wiring.push_back({"target_from", "relay"});  // else it holds its own
    if (near_.sensor == 1) wiring.push_back({"sensor", "system/sensor"});
    std::string const inlet = return_is_guarded_ ? "boiler inlet sensed" : "boiler inlet";
    if (return_is_guarded_) builder_.add("supply sensor", return_sensor, {"boiler inlet", inlet});
    if (near_.appliance_circulator) wiring.push_back({"rated_head_loss", 0.0});  // its curve has it already
    auto const of_lag = wiring;
    if (hot_water) {
      add_hot_water(*hot_water, *boiler, call);
      if (!tank_) wiring.insert(wiring.begin(), {{"hot_water", "hot water/control"}, {"hot_water_sensor", "hot water/sensor"},
                                     {"hot_water_set_point", value_under(*hot_water, "set_point").numbers.at(0)}});
    }
    in.boiler = builder_.add("boiler", "boiler", {inlet, "boiler outlet"}, wiring, boiler);
    if (second) {
      wiring = of_lag;
      wiring[0] = {"call", "lag/control"};
      if (near_.appliance_circulator && near_.lag_circulator) wiring.pop_back();  // which has the curve of its own head
      in.lag_control = builder_.add("lag control", "lag/control", {}, {{"lead", "boiler"}, {"call", call}},
                                    controls_.lag ? &controls_.lag : nullptr);
      if (hot_water && !tank_) scale_lag_control(in.pieces[in.lag_control], in.pieces[in.boiler]);
      in.lag_boiler = builder_.add("lag boiler", "lag", {"lag inlet", "lag outlet"}, wiring, second);
    }
    refuse_mixed_above_boiler(zones, in, faults_);
    auto const made = fill<Boiler>(in.pieces[in.boiler].values);
    project_.carbon_per_joule = Combustion(made.fuel == 0 ? natural_gas() : propane(), *made.excess_air).carbon_dioxide_per_joule;
    overrides();
  }
  Builder& builder() { return builder_; }

 private:
  void add_hot_water(Entry const& table, Entry const& boiler, std::string const& heating_call) {
    auto const hot = fill<HotWaterSection>(table.values);
    auto const input = [&](char const* dhw, char const* heating) {
      auto const& stated = value_under(boiler, dhw).numbers;
      auto const& other = value_under(boiler, heating).numbers;
      return !stated.empty() ? stated[0] : other.empty() ? 0 : other[0];
    };
    auto const run = section_of<RunSection>(document_, catalog_);
    steadyfire::add_hot_water(builder_, hot, table, cold_year(table, hot), run.start_day,
                              {input("dhw_input", "heating_input"), input("dhw_minimum_input", "minimum_input")},
                              taps_of(document_, builder_, hot.draws, *run.clock, *run.duration, project_.file_faults, faults_),
                              {unprotected_floors(document_), heating_call, output_call(document_, hot, faults_), bool(tank_)});
  }
  ColdYear cold_year(Entry const& table, HotWaterSection const& hot) {
    auto const& inlet = hot.cold_inlet;
    auto const usual = [&](char const* key, AnyUnit unit, double low, double middle, double high) {
      return builder_.assume({"hot water/cold main", key, unit.to_si(middle), unit.to_si(low), unit.to_si(high), measure::temperature,
                              common_practice});
    };
    if (!inlet || (inlet.kind->name == ConstantInlet::kind && !is_stated(value_under(inlet, "temperature"))))
      return {usual("cold_inlet", degF, 40, 50, 60), 0, 230};
    if (inlet.kind->name == ConstantInlet::kind) return {*fill<ConstantInlet>(inlet.values).temperature, 0, 230};
    if (inlet.kind->name == SeasonalInlet::kind) {
      auto const season = fill<SeasonalInlet>(inlet.values);
      return {*season.mean, *season.swing, season.warmest_day};
    }
    auto const air = fill<InletByAir>(inlet.values);
    return cold_by_air(air, project_.weather, value_under(table, "cold_inlet"), faults_);
  }

  void weather() {
    project_.ground = of_site("ground", *site_.ground), project_.unheated = of_site("unheated_space", *site_.unheated);
    if (project_.weather.dry_bulb.empty()) read_weather();  // a supposition keeps it
    outdoor_design_ = *site_.outdoor_design;
    if (std::isnan(outdoor_design_) && !project_.weather.dry_bulb.empty()) {
      double const cold = statistics(project_.weather).cold_1_percent;
      outdoor_design_ = builder_.assume({"site", "outdoor_design", cold, cold, cold, measure::temperature,
                                         site_.weather ? "99% temperature of the weather used"
                                                       : "no site in the scenario: 0 °F"});
    }
    builder_.installation.outdoor_design = outdoor_design_;
  }
  void read_weather() {
    double const design_if_none = 255.37;
    if (site_.weather) {
      auto const before = faults_.list().size();
      try {
        project_.weather = make_weather(site_.weather, document_.file, faults_);
      } catch (BadInput const& e) {  // the scenario's own faults are told with those of its weather file
        project_.file_faults.add(e), project_.weather = constant_weather(design_if_none);
      }
      project_.weather_words = site_.weather.kind->summary;
      if (project_.file_faults.empty() && faults_.list().size() == before) refuse_short_weather();
    } else {
      project_.weather = constant_weather(std::isnan(*site_.outdoor_design) ? design_if_none : *site_.outdoor_design);
      project_.weather_words = "constant at the design temperature";
    }
  }
  /// A temperature of the site, by its usual range if nobody stated it.
  double of_site(char const* key, double value) {
    auto const* stated = document_.find("site");
    if (stated && is_stated(value_under(*stated, key))) return value;
    auto const& fields = find_kind(catalog_, "site")->fields;
    auto const& f = *std::find_if(fields.begin(), fields.end(), [&](auto const& field) { return field.key == key; });
    return builder_.assume({"site", key, value, f.unit.to_si(f.low), f.unit.to_si(f.high), measure::temperature, f.typical_source});
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

  /// A design load over no difference of temperature is no heat loss.
  void refuse_warm_outdoors(Entry const& table, Piece const& room) {
    auto const &inside = value_under(*room.kind, room.values, "design_room"),
               &outside = value_under(*room.kind, room.values, "design_outdoors");
    if (value_under(*room.kind, room.values, "heat_loss").given || outside.numbers.at(0) < inside.numbers.at(0)) return;
    bool const of_site = !inside.at.line && !outside.at.line;
    if (of_site && std::exchange(told_warm_outdoors_, true)) return;
    auto const* site = document_.find("site");
    auto const at = outside.at.line ? outside.at : site ? value_under(*site, "outdoor_design").at : table.at;
    auto const tell = [](Value const& v) { return show(v.numbers[0], measure::temperature, UnitSystem::us); };
    faults_.add({"E244", at,
                 (of_site ? "site" : table.who) + ": outdoor design temperature " + tell(outside) +
                     ", not below the room temperature of " + tell(inside),
                 "the outdoor temperature of the design day, below the room", "correct the outdoor design temperature", inside.at});
  }

  double design_load(Entry const& table, ZoneSection const& z) {
    if (is_stated(value_under(table, "design_load")) || z.emitter.kind->calls_itself) return *z.design_load;
    if (!std::isnan(*site_.winter_fuel)) {
      double const efficiency = *site_.winter_efficiency;
      double const load = load_by_fuel(*site_.winter_fuel, efficiency, *site_.winter_degree_days, *site_.indoor_design - outdoor_design_) *
                          *z.floor_area / *site_.heated_area;
      return builder_.assume({table.name, "design_load", load, load * 0.65 / efficiency, load * 0.92 / efficiency, measure::power,
                              "estimated from the winter's fuel, degree-days and floor area; range: efficiency 65% to 92%"});
    }
    auto const load = load_by_area(z.construction, *z.floor_area);
    return builder_.assume({table.name, "design_load", load.middle, load.low, load.high, measure::power,
                            "estimated from floor area and construction; common practice, no published source"});
  }

  void zone(Entry const& table, Headers const& headers, std::vector<std::string>& callers, std::vector<std::string>& sources) {
    auto const z = fill<ZoneSection>(table.values);
    std::string const name = table.name, at = name + "/";
    static std::set<std::string> const of_arrangement{"boiler", "lag", "system", "tees", "tank", "headers", "hot water"};
    if (of_arrangement.count(name))
      faults_.add({"E215", table.at, "zone: the name '" + name + "' is used by the piping arrangement", "another name",
                   "rename this zone"});
    builder_.zone = name;
    ZoneParts parts{name};
    auto const usual = z.emitter.kind->usual.value_or(Usual{120, 140, 180, 20});
    parts.design_load = design_load(table, z), parts.design_room = *site_.indoor_design;
    double const drop = usual.drop * degF_change.scale;
    parts.design_drop =
        !std::isnan(*z.design_drop)
            ? *z.design_drop
            : builder_.assume({name, "design_drop", drop, 0.5 * drop, 1.5 * drop, measure::temperature_change, common_practice});
    auto const& own = builder_.installation.own_fluids;  // of the zones, behind an exchanger
    Fluid const fluid = own.empty() ? builder_.installation.fluid->at(builder_.installation.fluid_temperature)
                                    : own.front().fluid->at(own.front().temperature);
    parts.wanted_flow = parts.design_load / (fluid.density * fluid.heat_capacity * parts.design_drop);

    // room, thermostat and curve; where the emitter calls by itself there is neither room nor thermostat
    bool const calls_itself = z.emitter.kind->calls_itself;
    std::string const call = at + (calls_itself ? "emitter" : "thermostat");
    if (calls_itself) refuse_room(table, z);
    else room(table, z, parts, at);
    reset(table, z, usual, at);
    parts.reset = builder_.installation.find(at + "reset");
    if (z.radiator_valve) refuse_radiator_valve(table, faults_);
    if (!calls_itself) {
      std::vector<Setting> wired{{"room", at + "room"}, {"permit", at + "reset"}};
      if (!z.thermostat || !value_under(z.thermostat, "cycles_per_hour").given) wired.push_back({"cycles_per_hour", usual.cycles / 3600});
      if (z.radiator_valve) {
        double constexpr above = 1;  // [K] where the radiator valve is shut, so that the thermostat is a limit only
        auto const valve = fill<RadiatorValve>(z.radiator_valve.values);
        parts.held_at = *valve.setting;
        if (!z.thermostat || !value_under(z.thermostat, "setting").given)
          wired.push_back({"setting", *valve.setting + *valve.band + above});
      }
      parts.thermostat = builder_.add("thermostat", call, {}, wired, z.thermostat ? &z.thermostat : nullptr);
    }

    // pipes
    std::string const size = z.size.empty() ? "3/4 in copper M" : z.size;
    double const back = std::isnan(*z.return_length) ? *z.supply_length : *z.return_length;
    MixedZone joints{headers.supply, headers.return_};
    if (z.mixing) {
      refuse_valve_of_headers(table);
      auto const wired = mixing_settings(z.mixing, parts, builder_, call);
      return_is_guarded_ |= std::any_of(wired.begin(), wired.end(), [](auto const& s) { return s.key == "return_sensor"; });
      joints = add_mixing(builder_, z.mixing, name, headers, size, wired);
      parts.mixing = builder_.installation.find(at + "mixing");
    }
    Row row{builder_, joints.mixed};
    bool const has_difference = Circulator::wants_sensor(z.circulator);
    if (has_valve(table)) {
      std::vector<Setting> wires{{"call", call}};
      if (!z.zone_valve && headers_.arrangement == HeadersSection::manifold)
        wires.push_back({"opening_time", 180.0});  // a thermal actuator
      parts.mover = row.add("zone valve", at + "valve", name + " moved", wires, &z.zone_valve);
      callers.push_back(at + "valve");
    } else {
      std::vector<Setting> wires{{"calls", std::vector{call}}};
      // In one loop with the boiler its water has no way while hot water has the valve.
      if (beside_.goes_first && beside_.by_valve && near_.arrangement == NearBoilerSection::direct)
        wires.push_back({"rests_while", "hot water/control"});
      if (has_difference) wires.push_back({"sensor", at + "return sensor"});
      parts.mover = row.add("circulator", at + "circulator", name + " moved", wires, &z.circulator);
      callers.push_back(call);
    }
    sources.push_back(at + (z.mixing ? "mixing" : "reset"));
    if (z.flow_check) row.add("check valve", at + "flow check", name + " checked", {}, &z.flow_check);
    auto const pipe = [&](char const* role, double length, std::string to) {
      row.add("pipe", at + role, std::move(to), {{"length", length}, {"size", size}, {"elbows", double(z.elbows)}});
    };
    pipe("supply", *z.supply_length, z.radiator_valve ? name + " led" : name + " in");
    if (z.radiator_valve) row.add("radiator valve", at + "radiator valve", name + " in", {{"room", at + "room"}}, &z.radiator_valve);
    std::vector<std::string> beside;
    if (z.emitter.kind->branches.size() > 1) beside = {"cold tee", "hot made"};  // a tank that feeds the taps
    parts.emitter = row.add(z.emitter.kind->name, at + "emitter", name + " out", emitter_settings(z, at), &z.emitter, beside);
    if (calls_itself) parts.thermostat = parts.emitter;
    if (has_difference) row.add("supply sensor", at + "return sensor", name + " sensed");
    for (auto const* joint : {" led", " in", " out", " sensed"}) builder_.installation.heights[name + joint] = *z.height;
    double const cv = balancing_cv(table, z);
    std::vector<std::string> ends;  // the last of the row ends at the header
    if (z.strainer) ends.push_back(name + " unstrained");
    if (z.limiter) ends.push_back(name + " limited");
    if (!std::isnan(cv)) ends.push_back(name + " balanced");
    ends.push_back(joints.returned);
    auto to = ends.begin();
    pipe("return", back, *to++);
    if (z.strainer) row.add("strainer", at + "strainer", *to++, {}, &z.strainer);
    if (z.limiter) {
      std::vector<Setting> flow;
      if (!value_under(z.limiter, "flow").given) flow.push_back({"flow", parts.wanted_flow});
      row.add("flow limiter", at + "limiter", *to++, flow, &z.limiter);
    }
    if (!std::isnan(cv)) row.add("valve", at + "balancing", *to, {{"cv", cv}});
    builder_.installation.zones.push_back(parts);
  }

  void room(Entry const& table, ZoneSection const& z, ZoneParts& parts, std::string const& at) {
    std::vector<Setting> loss;
    if (!z.room || !value_under(z.room, "heat_loss").given)
      for (auto const& [key, si] :
           {std::pair{"design_load", parts.design_load}, {"design_room", parts.design_room}, {"design_outdoors", outdoor_design_}})
        if (!z.room || !value_under(z.room, key).given) loss.push_back({key, si});
    if (!std::isnan(*z.floor_area) && (!z.room || !value_under(z.room, "floor_area").given)) loss.push_back({"floor_area", *z.floor_area});
    parts.room = builder_.add("room", at + "room", {}, loss, z.room ? &z.room : nullptr);
    auto const& made = builder_.installation.pieces[parts.room];
    parts.design_room = value_under(*made.kind, made.values, "design_room").numbers.at(0);
    refuse_warm_outdoors(table, made);
  }

  /// An emitter with a control of its own has no room whose load or thermostat could be stated.
  void refuse_room(Entry const& table, ZoneSection const& z) {
    std::string const who = "zone '" + table.name + "': a " + z.emitter.kind->name;
    for (auto const* key : {"room", "thermostat"})
      if (auto const& v = value_under(table, key); v.given)
        faults_.add({"E273", v.at, who + " has its own control, so the zone has no " + key, std::string("no '") + key + "'",
                     std::string("remove '") + key + "'; set the control in the emitter", z.emitter.at});
    if (!is_stated(value_under(table, "design_load")))
      faults_.add({"E273", table.at, who + " has no room, so its load cannot be estimated", "design_load = \"60 kBtu/h\"",
          "state design_load"});
  }

  /// Errors  adds E261 where not the zone but the headers bring a valve.
  void refuse_valve_of_headers(Entry const& table) {
    auto const* headers = document_.find("headers");
    if (!has_valve(table) || value_under(table, "zone_valve").given || !headers) return;
    faults_.add({"E261", value_under(table, "mixing").at,
        "zone '" + table.name + "' mixes its water, but its manifold gives it a zone valve",
                 "circulator = { … } in the zone", "mixed water needs its own circulator", headers->at});
  }
  /// Whether a zone valve moves a zone, stated or as the headers have it.
  bool has_valve(Entry const& zone) const {
    return value_under(zone, "zone_valve").entry || (zones_have_actuators(headers_) && !value_under(zone, "circulator").entry);
  }

  /// Of its balancing valve, NaN without one; on a manifold every zone has one, unless a limiter does its work.
  double balancing_cv(Entry const& table, ZoneSection const& z) {
    if (!std::isnan(z.balancing_cv) || headers_.arrangement != HeadersSection::manifold || z.limiter) return z.balancing_cv;
    auto const* section = document_.find("headers");
    if (auto const& stated = value_under(*section, "balancing_cv"); !is_stated(stated))
      return builder_.assume({table.name, "balancing_cv", headers_.balancing_cv, 1, 4, measure::plain, common_practice});
    return headers_.balancing_cv;
  }

  std::vector<Setting> emitter_settings(ZoneSection const& z, std::string const& at) {
    std::vector<Setting> s;
    for (auto const& f : z.emitter.kind->fields) {
      if (f.key == "room" && !z.emitter.kind->calls_itself) s.push_back({"room", at + "room"});
      if ((f.key == "call" || f.key == "calls") && !value_under(z.emitter, f.key).given)
        s.push_back({f.key, std::vector{at + "thermostat"}});  // a fan runs by its zone's thermostat
      if (f.key == "floor_area" && !std::isnan(*z.floor_area) && !value_under(z.emitter, "floor_area").given)
        s.push_back({"floor_area", *z.floor_area});
    }
    return s;
  }

  /// Every zone has a reset: its own curve, a fixed temperature, or the curve all share.
  void reset(Entry const& table, ZoneSection const& z, Usual const& usual, std::string const& at) {
    bool const fixed = is_stated(value_under(table, "supply_temperature"));
    auto const held = held_by_wax(table, faults_);  // such a valve follows no curve
    Entry const* stated = held ? nullptr : z.reset ? &z.reset : !fixed && controls_.reset ? &controls_.reset : nullptr;
    auto const usual_supply = [&] {
      return builder_.assume({table.name, "supply_temperature", degF.to_si(usual.supply), degF.to_si(usual.low), degF.to_si(usual.high),
                              measure::temperature, common_practice});
    };
    double const hot = fixed                                                            ? *z.supply_temperature
                       : held && !std::isnan(*held)                                     ? *held
                       : stated && !value_under(*stated, "cold_supply").numbers.empty() ? value_under(*stated, "cold_supply").numbers[0]
                                                                                        : usual_supply();
    std::vector<Setting> s;
    auto const fallback = [&](char const* key, double si) {
      if (!stated || value_under(*stated, key).numbers.empty()) s.push_back({key, si});
    };
    fallback("cold_outdoors", outdoor_design_), fallback("cold_supply", hot);
    double const cold =
        stated && !value_under(*stated, "cold_supply").numbers.empty() ? value_under(*stated, "cold_supply").numbers[0] : hot;
    fallback("mild_supply", stated ? std::min(degF.to_si(80), cold) : hot);
    fallback("averaging_time", usual.averaging * 3600);
    auto const& made = builder_.installation.pieces[builder_.add("outdoor reset", at + "reset", {}, s, stated)];
    bool const is_common = stated == &controls_.reset;  // told once, though every zone has it
    if (stated && !(is_common && std::exchange(told_common_reset_, true)))  // the site's cold point may not fit a stated mild one
      made.kind->check({made.kind, made.name, stated->who, stated->at, made.values, {}, {}}, faults_);
    builder_.installation.design_supply = std::max(builder_.installation.design_supply, hot);
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
  Entry const* tank_ = nullptr;  // the zone whose tank feeds the taps
  double outdoor_design_ = 255.37;
  bool told_warm_outdoors_ = false, told_common_reset_ = false, return_is_guarded_ = false;
};

/// Fills a project that is empty, or has its weather.
void assemble(Project& project, Document const& document, Catalog catalog, std::optional<Supposition> supposed, Diagnostics& faults) {
  House house{document, catalog, faults, project};
  house.builder().supposed = std::move(supposed);
  auto& in = house.builder().installation;
  auto const fluid = section_of<FluidSection>(document, catalog);
  in.title = value_under(document.root, "title").text;
  in.fluid = make_fluid(fluid), in.fluid_temperature = *fluid.temperature;
  if (in.fluid_temperature < in.fluid->coldest() || in.fluid_temperature > in.fluid->hottest())
    faults.add({"E227", value_under(*document.find("fluid"), "temperature").at,
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
  if (faults.empty() && project.is_house) check_added_pieces(project.installation, document.tables, faults);
  if (faults.empty()) check_contradictions(project.installation, document, faults);
  if (faults.empty() && project.is_house) check_water_names(project.installation, document, faults);
  if (faults.empty() && !project.is_house) check_network(project.installation, faults);
}

}  // namespace

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
