#include "models/house/zone_builder.hpp"

#include <algorithm>
#include <utility>

#include "models/arrangements/headers.hpp"
#include "models/arrangements/mixing.hpp"
#include "models/arrangements/names.hpp"
#include "models/arrangements/row.hpp"
#include "models/building/room.hpp"
#include "models/building/proportioning_thermostat.hpp"
#include "models/building/thermostats.hpp"
#include "models/circulator.hpp"
#include "models/controls.hpp"
#include "models/flow_limiter.hpp"
#include "models/house/load_estimate.hpp"
#include "models/house/mixed_zones.hpp"
#include "models/house/section_of.hpp"
#include "models/radiator_valve.hpp"

namespace steadyfire {
namespace {

class ZoneBuilder {
  using Z = ZoneSection;

 public:
  ZoneBuilder(Builder& builder, ZonesOfHouse& house, Entry const& table, Diagnostics& faults)
      : builder_{builder}, in_{builder.installation}, house_{house}, table_{table}, faults_{faults}, zone_{fill<Z>(table.values)},
        usual_{zone_.emitter.kind->usual.value_or(Usual{120, 140, 180, 20})}, calls_itself_{zone_.emitter.kind->calls_itself},
        call_{name(calls_itself_ ? "emitter" : "thermostat")}, size_{zone_.size.empty() ? "3/4 in copper M" : zone_.size},
        parts_{table.name} {}

  void add(Headers const& headers) {
    refuse_name();
    builder_.zone = table_.name;
    needs();
    if (calls_itself_) refuse_room();
    else room();
    reset();
    if (zone_.radiator_valve) refuse_radiator_valve(table_, faults_);
    if (!calls_itself_) thermostat();
    branch(zone_.mixing ? mixing(headers) : MixedZone{headers.supply, headers.return_});
    in_.zones.push_back(parts_);
  }

 private:
  std::string name(char const* piece) const { return table_.name + "/" + piece; }
  std::string joint(char const* where) const { return table_.name + " " + where; }
  static Entry const* if_stated(Entry const& e) { return e ? &e : nullptr; }
  template <auto M>
  int stated_by(int piece) {
    builder_.stated_by<M>(piece);
    return piece;
  }

  void refuse_name() {
    if (std::find(named::groups.begin(), named::groups.end(), table_.name) != named::groups.end())
      faults_.add({"E215", table_.at, "zone: the name '" + table_.name + "' is used by the piping arrangement", "another name",
                   "rename this zone"});
  }

  /// Heat, and the flow that brings it.
  void needs() {
    parts_.design_load = design_load(), parts_.design_room = *house_.site.indoor_design;
    double const drop = usual_.drop * unit::degF_change.scale;
    parts_.design_drop = !std::isnan(*zone_.design_drop)
                             ? *zone_.design_drop
                             : builder_.assume({table_.name, "design_drop", drop, 0.5 * drop, 1.5 * drop, measure::temperature_change,
                                                common_practice});
    auto const& own = in_.own_fluids;  // of the zones, behind an exchanger
    Fluid const fluid = own.empty() ? in_.fluid->at(in_.fluid_temperature) : own.front().fluid->at(own.front().temperature);
    parts_.wanted_flow = parts_.design_load / (fluid.density * fluid.heat_capacity * parts_.design_drop);
  }

  double design_load() {
    if (is_stated(value_of<&Z::design_load>(table_)) || calls_itself_) return *zone_.design_load;
    auto const& site = house_.site;
    if (!std::isnan(*site.winter_fuel)) {
      double const efficiency = *site.winter_efficiency;
      double const house = load_by_fuel(*site.winter_fuel, efficiency, *site.winter_degree_days,
                                        *site.indoor_design - house_.outdoor_design),
                   load = house * *zone_.floor_area / *site.heated_area;
      return builder_.assume({table_.name, "design_load", load, load * 0.65 / efficiency, load * 0.92 / efficiency, measure::power,
                              "estimated from the winter's fuel, degree-days and floor area; range: efficiency 65% to 92%"});
    }
    auto const load = load_by_area(zone_.construction, *zone_.floor_area);
    return builder_.assume({table_.name, "design_load", load.middle, load.low, load.high, measure::power,
                            "estimated from floor area and construction; common practice, no published source"});
  }

  void room() {
    auto const& stated = zone_.room;
    std::vector<Setting> loss;
    if (!stated || !value_of<&Room::heat_loss>(stated).given)
      for (auto const& [key, si] : {std::pair{"design_load", parts_.design_load},
                                    {"design_room", parts_.design_room},
                                    {"design_outdoors", house_.outdoor_design}})
        if (!stated || !value_under(stated, key).given) loss.push_back({key, si});
    if (!std::isnan(*zone_.floor_area) && (!stated || !value_of<&Room::floor_area>(stated).given))
      loss.push_back({"floor_area", *zone_.floor_area});
    parts_.room = stated_by<&Z::room>(builder_.add("room", name("room"), {}, loss, if_stated(stated)));
    auto const& made = in_.pieces[parts_.room];
    parts_.design_room = value_of<&Room::design_room>(made).numbers.at(0);
    refuse_warm_outdoors(made);
  }

  /// A design load over no difference of temperature is no heat loss.
  void refuse_warm_outdoors(Piece const& room) {
    auto const &inside = value_of<&Room::design_room>(room), &outside = value_of<&Room::design_outdoors>(room);
    if (value_of<&Room::heat_loss>(room).given || outside.numbers.at(0) < inside.numbers.at(0)) return;
    bool const of_site = !inside.at.line && !outside.at.line;
    if (of_site && std::exchange(house_.told_warm_outdoors, true)) return;
    auto const* site = house_.document.find("site");
    auto const at = outside.at.line ? outside.at : site ? value_of<&SiteSection::outdoor_design>(*site).at : table_.at;
    auto const tell = [](Value const& v) { return show(v.numbers[0], measure::temperature, UnitSystem::us); };
    faults_.add({"E244", at,
                 (of_site ? "site" : table_.who) + ": outdoor design temperature " + tell(outside) +
                     ", not below the room temperature of " + tell(inside),
                 "the outdoor temperature of the design day, below the room", "correct the outdoor design temperature", inside.at});
  }

  /// An emitter with a control of its own has no room whose load or thermostat could be stated.
  void refuse_room() {
    std::string const who = "zone '" + table_.name + "': a " + zone_.emitter.kind->name;
    for (auto const* key : {"room", "thermostat"})
      if (auto const& v = value_under(table_, key); v.given)
        faults_.add({"E273", v.at, who + " has its own control, so the zone has no " + key, std::string("no '") + key + "'",
                     std::string("remove '") + key + "'; set the control in the emitter", zone_.emitter.at});
    if (!is_stated(value_of<&Z::design_load>(table_)))
      faults_.add({"E273", table_.at, who + " has no room, so its load cannot be estimated", "design_load = \"60 kBtu/h\"",
                   "state design_load"});
  }

  /// Every zone has a reset: its own curve, a fixed temperature, or the curve all share.
  void reset() {
    bool const fixed = is_stated(value_of<&Z::supply_temperature>(table_));
    auto const& common = house_.controls.reset;
    auto const held = held_by_wax(table_, faults_);  // such a valve follows no curve
    Entry const* stated = held ? nullptr : zone_.reset ? &zone_.reset : !fixed && common ? &common : nullptr;
    bool const has_cold_point = stated && !value_of<&OutdoorReset::cold_supply>(*stated).numbers.empty();
    double const hot = fixed                        ? *zone_.supply_temperature
                       : held && !std::isnan(*held) ? *held
                       : has_cold_point             ? value_of<&OutdoorReset::cold_supply>(*stated).numbers[0]
                                                    : usual_supply();
    double const cold = has_cold_point ? value_of<&OutdoorReset::cold_supply>(*stated).numbers[0] : hot;
    std::vector<Setting> settings;
    auto const otherwise = [&](char const* key, double si) {
      if (!stated || value_under(*stated, key).numbers.empty()) settings.push_back({key, si});
    };
    otherwise("cold_outdoors", house_.outdoor_design), otherwise("cold_supply", hot);
    otherwise("mild_supply", stated ? std::min(unit::degF.to_si(80), cold) : hot);
    otherwise("averaging_time", usual_.averaging * 3600);
    parts_.reset = stated_by<&Z::reset>(builder_.add("outdoor reset", name("reset"), {}, settings, stated));
    auto const& made = in_.pieces[parts_.reset];
    bool const is_common = stated == &common;  // told once, though every zone has it
    if (stated && !(is_common && std::exchange(house_.told_common_reset, true)))  // the site's cold point may not fit a stated mild one
      made.kind->check({made.kind, made.name, stated->who, stated->at, made.values, {}, {}}, faults_);
    in_.design_supply = std::max(in_.design_supply, hot);
  }
  double usual_supply() {
    auto const& degF = unit::degF;
    return builder_.assume({table_.name, "supply_temperature", degF.to_si(usual_.supply), degF.to_si(usual_.low),
                            degF.to_si(usual_.high), measure::temperature, common_practice});
  }

  void thermostat() {
    auto const& stated = zone_.thermostat;
    std::string_view const kind = stated ? std::string_view(stated.kind->name) : Thermostat::kind;
    std::vector<Setting> wired{{"room", name("room")}, {"permit", in_.pieces[parts_.reset].name}};
    if (kind == Thermostat::kind && (!stated || !value_of<&Thermostat::cycles>(stated).given))
      wired.push_back({"cycles_per_hour", usual_.cycles / 3600});
    if (kind == ProportioningThermostat::kind) floor_sensor(wired);
    if (zone_.radiator_valve) {
      double constexpr above = 1;  // [K] where the radiator valve is shut, so that the thermostat is a limit only
      auto const valve = fill<RadiatorValve>(zone_.radiator_valve.values);
      parts_.held_at = *valve.setting;
      if (!stated || !value_of<&RoomSensor::setting>(stated).given) wired.push_back({"setting", *valve.setting + *valve.band + above});
    }
    parts_.thermostat = stated_by<&Z::thermostat>(builder_.add(kind, call_, {}, wired, if_stated(stated)));
  }
  /// A floor limit is of the zone's own floor, if it has one.
  void floor_sensor(std::vector<Setting>& wired) {
    using P = ProportioningThermostat;
    auto const& stated = zone_.thermostat;
    auto const &most = value_of<&P::floor_most>(stated), &least = value_of<&P::floor_least>(stated);
    if (value_of<&P::floor>(stated).given) return;
    if (zone_.emitter.kind->is_floor) wired.push_back({"floor", name("emitter")});
    else if (most.given || least.given)
      faults_.add({"E294", (most.given ? most : least).at,
                   "zone '" + table_.name + "': a floor limit, and a " + zone_.emitter.kind->name + " heats no floor",
                   "floor_most and floor_least with a heated floor", "remove the floor limits", zone_.emitter.at});
  }

  MixedZone mixing(Headers const& headers) {
    refuse_valve_of_headers();
    auto const wired = mixing_settings(zone_.mixing, parts_, builder_, call_);
    house_.return_is_guarded |= std::any_of(wired.begin(), wired.end(), [](auto const& s) { return s.key == "return_sensor"; });
    auto const made = add_mixing(builder_, zone_.mixing, table_.name, headers, size_, wired);
    parts_.mixing = stated_by<&Z::mixing>(made.device);
    return made;
  }
  /// Errors  adds E261 where not the zone but the headers bring a valve.
  void refuse_valve_of_headers() {
    auto const* headers = house_.document.find("headers");
    if (!has_valve(table_, house_.headers) || value_of<&Z::zone_valve>(table_).given || !headers) return;
    faults_.add({"E261", value_of<&Z::mixing>(table_).at,
                 "zone '" + table_.name + "' mixes its water, but its manifold gives it a zone valve",
                 "circulator = { … } in the zone", "mixed water needs its own circulator", headers->at});
  }

  /// From where the zone takes its water, through the emitter, to where it gives it back.
  void branch(MixedZone const& ends) {
    Row row{builder_, ends.mixed};
    mover(row);
    house_.sources.push_back(in_.pieces[zone_.mixing ? parts_.mixing : parts_.reset].name);
    house_.resets.push_back(in_.pieces[parts_.reset].name);
    if (zone_.flow_check)
      parts_.flow_check =
          stated_by<&Z::flow_check>(row.add("check valve", name("flow check"), joint("checked"), {}, &zone_.flow_check));
    parts_.supply = pipe(row, "supply", *zone_.supply_length, joint(zone_.radiator_valve ? "led" : "in"));
    if (zone_.radiator_valve)
      stated_by<&Z::radiator_valve>(
          row.add("radiator valve", name("radiator valve"), joint("in"), {{"room", name("room")}}, &zone_.radiator_valve));
    emitter(row);
    if (Circulator::wants_sensor(zone_.circulator)) row.add("supply sensor", name("return sensor"), joint("sensed"));
    for (auto const* where : {"led", "in", "out", "sensed"}) in_.heights[joint(where)] = *zone_.height;
    back(row, ends.returned);
  }
  int pipe(Row& row, char const* role, double length, std::string to) {
    std::vector<Setting> made{{"length", length}, {"size", size_}, {"elbows", double(zone_.elbows)}};
    if (parts_.room >= 0) made.push_back({"around", name("room")}), made.push_back({"share_inside", pipes_inside()});
    return row.add("pipe", name(role), std::move(to), made);
  }

  /// What its pipes lose stays in the zone, but for what lies outside it.
  double pipes_inside() {
    if (is_stated(value_of<&Z::pipes_inside>(table_))) return *zone_.pipes_inside;
    if (std::isnan(inside_))
      inside_ = builder_.assume({table_.name, "pipes_inside", 1, 0.5, 1, measure::share,
                                 "the zone's pipes lie in the zone; common practice, no published source"});
    return inside_;
  }

  /// What moves the water, a zone valve or a circulator, and whose call that is.
  void mover(Row& row) {
    if (has_valve(table_, house_.headers)) {
      std::vector<Setting> wires{{"call", call_}};
      if (!zone_.zone_valve && house_.headers.arrangement == HeadersSection::manifold)
        wires.push_back({"opening_time", 180.0});  // a thermal actuator
      parts_.mover = stated_by<&Z::zone_valve>(row.add("zone valve", name("valve"), joint("moved"), wires, &zone_.zone_valve));
      house_.callers.push_back(in_.pieces[parts_.mover].name);
      return;
    }
    std::vector<Setting> wires{{"calls", std::vector{call_}}};
    if (house_.rests_for_hot_water) wires.push_back({"rests_while", named::hot_water_control});
    if (Circulator::wants_sensor(zone_.circulator)) wires.push_back({"sensor", name("return sensor")});
    parts_.mover = stated_by<&Z::circulator>(row.add("circulator", name("circulator"), joint("moved"), wires, &zone_.circulator));
    house_.callers.push_back(call_);
  }

  void emitter(Row& row) {
    auto const& stated = zone_.emitter;
    std::vector<std::string> beside;
    if (stated.kind->branches.size() > 1) beside = {"cold tee", "hot made"};  // a tank that feeds the taps
    parts_.emitter =
        stated_by<&Z::emitter>(row.add(stated.kind->name, name("emitter"), joint("out"), emitter_settings(), &stated, beside));
    if (calls_itself_) parts_.thermostat = parts_.emitter;
  }
  std::vector<Setting> emitter_settings() const {
    auto const& stated = zone_.emitter;
    std::vector<Setting> settings;
    for (auto const& f : stated.kind->fields) {
      if (f.key == "room" && !calls_itself_) settings.push_back({"room", name("room")});
      if ((f.key == "call" || f.key == "calls") && !value_under(stated, f.key).given)
        settings.push_back({f.key, std::vector{call_}});  // a fan runs by its zone's thermostat
      if (f.key == "floor_area" && !std::isnan(*zone_.floor_area) && !value_under(stated, f.key).given)
        settings.push_back({"floor_area", *zone_.floor_area});
    }
    return settings;
  }

  void back(Row& row, std::string const& end) {
    double const cv = balancing_cv();
    std::vector<std::string> joints;  // the last of the row ends at the header
    if (zone_.strainer) joints.push_back(joint("unstrained"));
    if (zone_.limiter) joints.push_back(joint("limited"));
    if (!std::isnan(cv)) joints.push_back(joint("balanced"));
    joints.push_back(end);
    auto to = joints.begin();
    pipe(row, "return", std::isnan(*zone_.return_length) ? *zone_.supply_length : *zone_.return_length, *to++);
    if (zone_.strainer) stated_by<&Z::strainer>(row.add("strainer", name("strainer"), *to++, {}, &zone_.strainer));
    if (zone_.limiter) {
      std::vector<Setting> flow;
      if (!value_of<&FlowLimiter::flow>(zone_.limiter).given) flow.push_back({"flow", parts_.wanted_flow});
      stated_by<&Z::limiter>(row.add("flow limiter", name("limiter"), *to++, flow, &zone_.limiter));
    }
    if (!std::isnan(cv)) row.add("valve", name("balancing"), *to, {{"cv", cv}});
  }
  /// Of its balancing valve, NaN without one; on a manifold every zone has one, unless a limiter does its work.
  double balancing_cv() {
    auto const& headers = house_.headers;
    if (!std::isnan(zone_.balancing_cv) || headers.arrangement != HeadersSection::manifold || zone_.limiter) return zone_.balancing_cv;
    if (is_stated(value_of<&HeadersSection::balancing_cv>(*house_.document.find("headers")))) return headers.balancing_cv;
    return builder_.assume({table_.name, "balancing_cv", headers.balancing_cv, 1, 4, measure::plain, common_practice});
  }

  Builder& builder_;
  Installation& in_;
  ZonesOfHouse& house_;
  Entry const& table_;
  Diagnostics& faults_;
  Z const zone_;
  Usual const usual_;
  bool const calls_itself_;
  std::string const call_, size_;  // what calls for its heat; of its pipes
  double inside_ = std::nan("");  // share of its pipes in the zone, once assumed
  ZoneParts parts_;
};

}  // namespace

bool has_valve(Entry const& zone, HeadersSection const& headers) {
  return value_of<&ZoneSection::zone_valve>(zone).entry ||
         (zones_have_actuators(headers) && !value_of<&ZoneSection::circulator>(zone).entry);
}

void add_zone(Builder& builder, ZonesOfHouse& house, Entry const& zone, Headers const& headers, Diagnostics& faults) {
  ZoneBuilder{builder, house, zone, faults}.add(headers);
}

}  // namespace steadyfire
