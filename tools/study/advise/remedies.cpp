#include "tools/study/advise/remedies.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "models/boiler_data.hpp"
#include "models/building/thermostats.hpp"
#include "models/circulator.hpp"
#include "models/controls.hpp"
#include "models/house/piping_sections.hpp"
#include "models/pipe_sizes.hpp"
#include "models/tank.hpp"
#include "sim/core/count_up.hpp"
#include "sim/record/cycle_arithmetic.hpp"
#include "sim/scenario/field_words.hpp"
#include "sim/scenario/value_reader.hpp"
#include "tools/study/arrange/layout.hpp"

namespace steadyfire {
namespace {

using namespace unit;
using Sort = Trouble::Sort;

class Catalogue {
  using Z = ZoneSection;
  using N = NearBoilerSection;

public:
  Catalogue(Case const& house, Judged const& now)
      : house_{house}, document_{house.document()}, in_{house.project().installation}, now_{now} {}

  std::vector<Remedy> all() {
    bool const cold = now_.has(Sort::cold_room) || now_.has(Sort::short_of_flow) || now_.has(Sort::too_cold);
    bool const cycles = now_.has(Sort::many_starts) || now_.has(Sort::short_burns);
    bool const warm = now_.has(Sort::too_warm) || now_.has(Sort::other);
    if (cold || warm) curves(cold, warm);
    if (cold) circulators(), own_circulators(), pipes(), emitters();
    if (now_.has(Sort::short_of_flow)) throttles();
    if (cycles) differentials(), off_time(), thermostats(), joined(), buffers();
    if (cycles) boilers();
    if (now_.has(Sort::too_warm)) checks();
    if (now_.has(Sort::other)) mixing(), priority();
    return std::move(list_);
  }

private:
  static std::string boiler(std::string const& key) { return "boiler." + key; }
  static std::string zone(std::string const& name, std::string const& key) { return address_of("zone", name) + "." + key; }

  /// The number that holds in the house for a member of a piece: as stated, else as the piece was made with.
  template <auto M>
  double value(Turn const& t, int piece) const {
    if (!std::isnan(t.own[0])) return t.own[0];
    if (piece < 0) return std::nan("");
    auto const& numbers = value_of<M>(in_.pieces[piece]).numbers;
    return numbers.empty() ? std::nan("") : numbers[0];
  }
  /// In the house's units, with no more digits than somebody would set.
  std::string shown(Field const& f, double si) const {
    auto const unit = unit_for(f, house_.units());
    return words_of(unit, unit.to_si(std::stod(fmt::format("{:.4g}", unit.from_si(si)))));
  }
  std::string stated(Field const& f, double si) const { return steadyfire::stated(f, si, house_.units()); }
  /// "a 20 gal", "an 80 gal".
  std::string with_article(Field const& f, double si) const {
    auto const size = shown(f, si);
    return (size.starts_with('8') || size.starts_with("11 ") || size.starts_with("18 ") ? "an " : "a ") + size;
  }
  std::vector<Edit> set(std::string const& address, std::string const& to) const {
    std::vector<Edit> edits;
    for (auto const& place : house_.turn(address).places) edits.push_back({Edit::Do::set, place, to});
    return edits;
  }
  /// Rounds to a number that somebody would set, and leaves out what goes beyond the field's range.
  void offer_number(Hardness hardness, std::string what, std::string const& thing, std::string const& address, double from, double to,
                    int size = 0, std::string note = "") {
    auto const& f = *house_.turn(address).field;
    auto const u = unit_for(f, house_.units());
    double const rounded = u.to_si(std::round(u.from_si(to) * 10) / 10);
    if (f.unit.from_si(rounded) < f.least || f.unit.from_si(rounded) > f.most || std::isnan(from)) return;
    list_.push_back({hardness, std::move(what), fmt::format("{} from {} to {}", thing, shown(f, from), shown(f, rounded)),
                     set(address, stated(f, rounded)), std::move(note), size});
  }
  Entry const* table(std::string_view name) const {
    for (auto const& t : document_.tables)
      if (t.kind->name == Z::kind && t.name == name) return &t;
    return nullptr;
  }
  template <auto M>
  static bool states(Entry const* e) { return e && value_of<M>(*e).given; }
  /// Takes values out of [near_boiler] as far as it states them.
  template <auto... M>
  void leave_out(std::vector<Edit>& edits) const {
    auto const* near = document_.find("near boiler");
    auto const take = [&](Value const& v, Field const& f) {
      if (v.given) edits.push_back(set("near_boiler." + f.key, "").front());
    };
    if (near) (take(value_of<M>(*near), field_of<M>(*near->kind)), ...);
  }
  static bool has(Kind const& kind, std::string_view key) {
    return std::any_of(kind.fields.begin(), kind.fields.end(), [&](auto const& f) { return f.key == key; });
  }
  std::vector<std::string> in_trouble(std::initializer_list<Sort> sorts) const {
    std::vector<std::string> zones;
    for (auto const& t : now_.troubles)
      if (std::find(sorts.begin(), sorts.end(), t.sort) != sorts.end() && table(t.place) &&
          std::find(zones.begin(), zones.end(), t.place) == zones.end())
        zones.push_back(t.place);
    return zones;
  }

  /// Hotter or cooler water: the curve that a zone follows, or its fixed temperature.
  void curves(bool cold, bool warm) {
    bool common = false;
    std::vector<std::string> zones = cold ? in_trouble({Sort::cold_room, Sort::too_cold}) : std::vector<std::string>{};
    if (warm)
      for (auto const& z : in_.zones)
        if (now_.has(Sort::other) || std::any_of(now_.troubles.begin(), now_.troubles.end(),
                                                 [&](auto const& t) { return t.sort == Sort::too_warm && t.place == z.name; }))
          if (std::find(zones.begin(), zones.end(), z.name) == zones.end() && table(z.name)) zones.push_back(z.name);
    for (auto const& name : zones) {
      auto const* z = table(name);
      auto const* controls = document_.find("controls");
      bool const fixed = !states<&Z::reset>(z) && (states<&Z::supply_temperature>(z) || !states<&ControlsSection::reset>(controls));
      bool const shared = !states<&Z::reset>(z) && !fixed;
      if (shared && std::exchange(common, true)) continue;
      std::string const whose = shared ? "the shared reset curve" : "the reset curve of " + name,
                        curve = shared ? "controls.reset" : zone(name, "reset");
      if (fixed) {
        fixed_temperature(name, cold, warm);
        continue;
      }
      int const reset = in_.zone(name)->reset;
      auto const cold_point = curve + ".cold_supply", mild_point = curve + ".mild_supply";
      double const at_cold = value<&OutdoorReset::cold_supply>(house_.turn(cold_point), reset),
                   at_mild = value<&OutdoorReset::mild_supply>(house_.turn(mild_point), reset);
      auto const lifted = cold ? lifts(shared ? std::string{} : name) : std::vector<double>{};
      for (std::size_t i = 0; i < lifted.size(); ++i)
        if (at_cold + lifted[i] < warmest_target())
          offer_number(Hardness::setting, "curve", "raise the cold point of " + whose, cold_point, at_cold, at_cold + lifted[i], int(i),
                       shared && in_.zones.size() > 1 ? "all zones on this curve get hotter water, on account of " + name : "");
      if (cold && at_mild + degF_change.to_si(10) < at_cold && has_trouble(Sort::too_cold, name))
        offer_number(Hardness::setting, "mild point", "raise the mild point of " + whose, mild_point, at_mild,
                     at_mild + degF_change.to_si(10));
      int size = 0;
      for (double const by : {10.0, 20.0})
        if (double const change = degF_change.to_si(by); warm && at_cold - change > at_mild)
          offer_number(Hardness::setting, "curve", "lower the cold point of " + whose, cold_point, at_cold, at_cold - change, size++);
      if (!warm) continue;
      offer_number(Hardness::setting, "curve", "lower the mild point of " + whose, mild_point, at_mild, at_mild - degF_change.to_si(5));
      double const averaging = value<&OutdoorReset::averaging>(house_.turn(curve + ".averaging_time"), reset);
      if (std::isnan(averaging) || averaging > 3600)
        list_.push_back({Hardness::setting, "averaging",
                         fmt::format("shorten the outdoor averaging of {} to 0.5 h", whose),
                         set(curve + ".averaging_time", "0.5 h"), "mount the outdoor sensor out of sun and wind"});
      auto const shut_down = house_.turn(curve + ".warm_weather_shut_down");
      double const now = value<&OutdoorReset::shut_down>(shut_down, reset), sixty = degF.to_si(60);
      if (std::isnan(now) || now > degF.to_si(61))
        list_.push_back({Hardness::setting, "shutdown",
                         fmt::format("set warm-weather shutdown to {} on {}", shown(*shut_down.field, sixty), whose),
                         set(shut_down.address, stated(*shut_down.field, sixty))});
    }
  }
  bool has_trouble(Sort sort, std::string const& zone) const {
    return std::any_of(now_.troubles.begin(), now_.troubles.end(), [&](auto const& t) { return t.sort == sort && t.place == zone; });
  }
  /// What the limit of the boiler allows: a target that its off differential does not carry up to the high limit [K].
  double warmest_target() const {
    return value<&BoilerData::high_limit>(house_.turn(boiler("high_limit")), in_.boiler) -
           value<&BoilerData::off_above>(house_.turn(boiler("off_differential")), in_.boiler);
  }
  /// By how much the water would have to be warmer for a zone, or for each that is cold, on the design day, and two larger steps [K].
  /// The heat of its emitter taken as straight over the excess of its water, which is a little too much.
  std::vector<double> lifts(std::string const& name) const {
    double needed = 0;
    if (!now_.flows.states.empty())
      for (auto const& z : now_.flows.states.front().zones) {
        auto const* zone = in_.zone(z.name);
        if ((!name.empty() && z.name != name) || !zone || !(z.heat > 0)) continue;
        double const lack = z.design_load / z.heat - 1, excess = z.supply - z.drop / 2 - zone->design_room;
        if (lack > 0) needed = std::max(needed, lack * excess);
      }
    std::vector<double> all;
    double const small = count_up(needed / degF_change.scale / 2) * 2;  // [degF], a step of a control's dial
    for (double const by : {small, 10.0, 20.0})
      if (by > 0 && (all.empty() || degF_change.to_si(by) > 1.3 * all.back())) all.push_back(degF_change.to_si(by));
    return all;
  }
  void fixed_temperature(std::string const& name, bool cold, bool warm) {
    auto const address = zone(name, "supply_temperature");
    double const now = value<&OutdoorReset::cold_supply>(house_.turn(address), in_.zone(name)->reset);
    double const fixed = std::isnan(now) ? supply_at_design(name) : now;
    auto const lifted = cold ? lifts(name) : std::vector<double>{};
    for (std::size_t i = 0; i < lifted.size(); ++i)
      if (fixed + lifted[i] < warmest_target())
        offer_number(Hardness::setting, "curve", "raise the supply temperature of " + name, address, fixed, fixed + lifted[i], int(i));
    int size = 0;
    for (double const by : {10.0, 20.0})
      if (warm)
        offer_number(Hardness::setting, "curve", "lower the supply temperature of " + name, address, fixed, fixed - degF_change.to_si(by),
                     size++);
    if (!warm || std::isnan(fixed) || !states<&Z::supply_temperature>(table(name))) return;
    for (double const mild : {75.0, 85.0}) {
      if (degF.to_si(mild) >= fixed) continue;
      auto const& f = *house_.turn(zone(name, "reset.cold_supply")).field;
      auto edits = set(zone(name, "reset.cold_supply"), stated(f, fixed));
      for (auto const& more : set(zone(name, "reset.mild_supply"), stated(f, degF.to_si(mild)))) edits.push_back(more);
      for (auto const& gone : set(address, "")) edits.push_back(gone);
      list_.push_back({Hardness::setting, "curve",
                       fmt::format("add an outdoor reset to {}: {} at the cold point, {} at the mild point", name, shown(f, fixed),
                                   shown(f, degF.to_si(mild))),
                       edits, "the control needs an outdoor sensor"});
    }
  }
  double supply_at_design(std::string const& name) const {
    if (!now_.flows.states.empty())
      for (auto const& z : now_.flows.states.front().zones)
        if (z.name == name) return z.supply;
    return std::nan("");
  }

  /// Circulators: faster, then a size larger.
  void circulators() {
    for (auto const& name : in_trouble({Sort::cold_room, Sort::short_of_flow})) {
      int const mover = in_.zone(name)->mover;
      if (states<&Z::zone_valve>(table(name))) circulator(in_.part(Part::system_circulator), "the circulator of all zones");
      else if (in_.pieces[mover].kind->name == Circulator::kind) circulator(mover, "the circulator of " + name);
    }
    if (!states<&N::appliance_circulator>(document_.find("near boiler")))  // which nobody changes alone
      circulator(in_.part(Part::boiler_circulator), "the boiler circulator");
  }
  void circulator(int number, std::string const& whose) {
    if (number < 0 || std::find(seen_.begin(), seen_.end(), number) != seen_.end()) return;
    seen_.push_back(number);
    auto const& piece = in_.pieces[number];
    auto const now = fill<Circulator>(piece.values);
    auto const stated_at = address_of(piece);
    if (*now.speed < 0.99)
      offer_number(Hardness::valve_or_speed, "speed of " + piece.name, "raise the speed of " + whose, stated_at + ".speed", *now.speed, 1);
    if (now.regulation == Circulator::constant_head || now.regulation == Circulator::proportional_head)
      offer_number(Hardness::valve_or_speed, "speed of " + piece.name, "raise the head setting of " + whose, stated_at + ".setting_head",
                   *now.setting_head, 1.3 * *now.setting_head);
    if (value_of<&Circulator::curve>(piece).given) return;
    auto const& duties = field_of<&Circulator::duty>(*piece.kind).choices;
    for (auto d = std::size_t(now.duty) + 1; d < duties.size(); ++d)
      list_.push_back({Hardness::new_circulator, "size of " + piece.name, fmt::format("replace {} with a {} circulator", whose, duties[d]),
                       set(stated_at + ".duty", duties[d]), "generic curve, compare it with the maker's curve"});
  }

  /// In place of zone valves and the one that all zones share, where the boiler's loop is a loop of its own.
  void own_circulators() {
    auto layout = layout_of(house_);
    if (in_trouble({Sort::cold_room, Sort::short_of_flow}).empty() || now_.flows.states.empty() ||
        layout.distribution != Layout::Distribution::zone_valves || layout.arrangement == N::direct)
      return;
    layout.distribution = Layout::Distribution::circulators;
    auto relaid = lay_out_again(house_, layout, needs_of(house_, now_.flows.states.front().boiler_supply, now_.run.burner.output_least));
    if (!relaid.edits.empty())
      list_.push_back({Hardness::own_circulators, "distribution",
                       "replace the zone valves and the circulator of all zones with a circulator for each zone", std::move(relaid.edits),
                       "the smallest generic circulators that give each zone its flow; compare them with the maker's curve"});
  }

  /// Valves in the zones that have more flow than they need.
  void throttles() {
    if (now_.flows.states.empty()) return;
    auto const& state = now_.flows.states.front();
    std::vector<Edit> edits;
    std::string names;
    for (auto const& z : state.zones) {
      if (!(z.got > 1.25 * z.wanted) || !table(z.name)) continue;
      double head = 0;  // that its piping takes at its present flow [m]
      for (auto const& e : state.edges)
        if (e.zone == z.name) head += std::max(0.0, e.head_loss);
      // The valve takes what the rest leaves of that head at the flow needed: the rest falls with the square of the flow.
      double const left = head * (1 - std::pow(z.wanted / z.got, 2)), psi_per_meter = 1.42;
      double const cv = std::max(0.2, std::round(10 * z.wanted / gpm.scale / std::sqrt(left * psi_per_meter)) / 10);
      for (auto const& e : set(zone(z.name, "balancing_cv"), fmt::format("{}", cv))) edits.push_back(e);
      names += fmt::format("{}{} to Cv {}", names.empty() ? "" : ", ", z.name, cv);
    }
    if (!edits.empty())
      list_.push_back({Hardness::valve_or_speed, "throttle", fmt::format("set balancing valves for the flow needed: {}", names), edits,
                       "it gives the others what these have too much, no more"});
  }

  /// Where the room holds nobody opens a wall.
  void pipes() {
    for (auto const& name : in_trouble({Sort::cold_room})) {
      auto const now = get<&Z::size>(*table(name));
      std::string const size = now.empty() ? "3/4 in copper M" : now;
      auto const gap = size.find(" in ");
      if (gap == size.npos) continue;
      auto const at = std::find(nominal_sizes.begin(), nominal_sizes.end(), size.substr(0, gap));
      if (at == nominal_sizes.end() || std::next(at) == nominal_sizes.end()) continue;
      auto const next = std::string(*std::next(at)) + size.substr(gap);
      if (find_pipe_size(next))
        list_.push_back({Hardness::pipe, "pipe of " + name, fmt::format("pipe {} in {} (now {})", name, next, size),
                         set(zone(name, "size"), next)});
    }
  }
  void emitters() {
    for (auto const& name : in_trouble({Sort::cold_room, Sort::too_cold})) {
      auto const& e = value_of<&Z::emitter>(*table(name)).entry;
      if (!e) continue;
      for (auto const* key : {"length", "output"}) {
        if (!has(*e->kind, key)) continue;
        auto const& v = value_under(*e, key);
        if (!v.given || v.numbers.empty()) continue;
        offer_number(Hardness::emitter, "emitter of " + name, fmt::format("add {} in {}: {}", e->kind->name, name, key),
                     zone(name, std::string("emitter.") + key), v.numbers[0], 1.25 * v.numbers[0]);
        break;
      }
    }
  }

  void differentials() {
    auto const off = house_.turn(boiler("off_differential")), on = house_.turn(boiler("on_differential"));
    double const now_off = value<&BoilerData::off_above>(off, in_.boiler), now_on = value<&BoilerData::on_below>(on, in_.boiler);
    int size = 0;
    for (double const by : {1.5, 2.0}) {
      auto const& f = *off.field;
      double const to_off = by * now_off, to_on = by * now_on;
      if (f.unit.from_si(std::max(to_off, to_on)) > 30) continue;  // [degF] more than controls usually offer
      auto edits = set(boiler("off_differential"), stated(f, to_off));
      for (auto const& e : set(boiler("on_differential"), stated(f, to_on))) edits.push_back(e);
      list_.push_back({Hardness::setting, "differentials", widened(f, now_off, to_off, now_on, to_on), edits,
                       "the water temperature swings that much wider", size++});
    }
  }
  std::string widened(Field const& f, double off, double to_off, double on, double to_on) const {
    if (off == on) return fmt::format("widen the on and off differentials from {} to {} each", shown(f, off), shown(f, to_off));
    return fmt::format("widen the off differential from {} to {} and the on differential from {} to {}", shown(f, off), shown(f, to_off),
                       shown(f, on), shown(f, to_on));
  }
  void off_time() {
    double const now = value<&BoilerData::minimum_off>(house_.turn(boiler("minimum_off")), in_.boiler);
    int size = 0;
    for (double const to : {300.0, 600.0})
      if (to > 1.3 * now) offer_number(Hardness::setting, "rest", "raise the minimum off time", boiler("minimum_off"), now, to, size++);
  }
  void thermostats() {
    int size = 0;
    for (double const per_hour : {2.0, 1.0}) {
      std::vector<Edit> edits;
      for (auto const& z : in_.zones) {
        int const t = z.thermostat;
        if (t < 0 || in_.pieces[t].kind->name != Thermostat::kind || !table(z.name)) continue;  // else it calls by itself
        auto const& v = value_of<&Thermostat::cycles>(in_.pieces[t]).numbers;
        if (v.empty() || v[0] * 3600 <= per_hour * 1.01) continue;
        for (auto const& e : set(zone(z.name, "thermostat.cycles_per_hour"), fmt::format("{} 1/h", per_hour))) edits.push_back(e);
      }
      if (!edits.empty())
        list_.push_back({Hardness::setting, "thermostats",
                         fmt::format("set all thermostats to {:.0f} cycle{} per hour", per_hour, per_hour > 1 ? "s" : ""), edits,
                         "room temperatures swing a little more", size++});
    }
  }

  /// The smallest zone joined to each other one with the same kind of emitter.
  void joined() {
    std::vector<Entry const*> zones;
    for (auto const& t : document_.tables)
      if (t.kind->name == Z::kind) zones.push_back(&t);
    auto const load = [&](Entry const* z) {
      for (auto const& p : in_.zones)
        if (p.name == z->name && p.room >= 0) return p.design_load;
      return 1e300;
    };
    if (zones.size() < 2) return;
    auto const* small = *std::min_element(zones.begin(), zones.end(), [&](auto a, auto b) { return load(a) < load(b); });
    for (auto const* other : zones) {
      auto const &mine = value_of<&Z::emitter>(*small).entry, &its = value_of<&Z::emitter>(*other).entry;
      if (other == small || !mine || !its || mine->kind != its->kind) continue;
      auto edits =
          set(zone(other->name, "design_load"), stated(*house_.turn(zone(other->name, "design_load")).field, load(small) + load(other)));
      auto const add_up = [&](std::string const& key, Entry const& a, Entry const& b, std::string const& field) {
        auto const &x = value_under(a, field), &y = value_under(b, field);
        if (!x.given || !y.given || x.numbers.empty() || y.numbers.empty()) return false;
        for (auto const& e : set(zone(other->name, key), stated(*house_.turn(zone(other->name, key)).field, x.numbers[0] + y.numbers[0])))
          edits.push_back(e);
        return true;
      };
      bool whole = false;
      for (auto const* key : {"output", "length"})
        if (has(*its->kind, key))
          whole = add_up(std::string("emitter.") + key, *mine, *its, key) || whole;
      if (!whole) continue;
      add_up("floor_area", *small, *other, "floor_area");
      if (has(*its->kind, "cv"))
        add_up("emitter.cv", *mine, *its, "cv");
      edits.push_back({Edit::Do::remove, house_.turn(zone(small->name, "design_load")).places[0], ""});
      edits.back().at.path.clear();
      list_.push_back(
          {Hardness::joined_zones, "joined", fmt::format("join {} to {}: one zone, one thermostat", small->name, other->name), edits,
           fmt::format("simulated as one room with both emitters; {} then follows the thermostat of {}", small->name, other->name)});
    }
  }

  void buffers() {
    auto const arrangement = house_.turn("near_boiler.arrangement");
    auto const& choices = arrangement.field->choices;
    auto const now = choices.at(std::size_t(arrangement.own[0]));
    if (now == "plate exchanger") return;
    auto const volume = house_.turn("near_boiler.tank_volume");
    // By the formula of short cycling for a burn that nobody minds, in sizes of five gallons; half as much again where that is not all.
    auto const& why = now_.run.why;
    double constexpr water = 4.18e6 * 0.985;  // [J/(m³·K)] near 140 °F
    double const needed =
        why.differential > 0 && why.output_least > why.smallest_load
            ? remedies_of(why.output_least, why.smallest_load, why.heat_capacity, why.differential, why.note_burn).more_capacity / water
            : gallon.to_si(20);
    double const first = std::clamp(count_up(needed / gallon.scale / 5) * 5, 10.0, 200.0);
    int size = 0;
    for (double const gallons : {first, count_up(1.5 * first / 5) * 5, count_up(2.5 * first / 5) * 5}) {
      double const to = gallon.to_si(gallons);
      auto edits = set("near_boiler.tank_volume", stated(*volume.field, to));
      if (now == "buffer tank") {
        double const own = value<&Tank::volume>(volume, in_.part(Part::coupling));
        if (!(to > 1.2 * own)) continue;
        list_.push_back({Hardness::buffer_tank, "buffer",
                         fmt::format("enlarge the buffer tank from {} to {}", shown(*volume.field, own), shown(*volume.field, to)), edits,
                         "", size++});
        continue;
      }
      edits.insert(edits.begin(), set("near_boiler.arrangement", "buffer tank").front());
      leave_out<&N::gap_length, &N::straight_before, &N::straight_after>(edits);
      list_.push_back({Hardness::buffer_tank, "buffer",
                       now == "direct" ? fmt::format("add {} buffer tank between boiler and zones", with_article(*volume.field, to))
                                       : fmt::format("replace the {} with {} buffer tank", now, with_article(*volume.field, to)),
                       edits, "four pipes", size++});
    }
  }

  void boilers() {
    auto const least = house_.turn(boiler("minimum_input")), most = house_.turn(boiler("heating_input"));
    double const low = least.own[0], high = most.own[0];
    if (std::isnan(low) || std::isnan(high)) return;
    int size = 0;
    for (double const part : {2.0, 4.0})
      offer_number(Hardness::boiler, "boiler", "replace the boiler: same rating, minimum fire", boiler("minimum_input"), low, low / part,
                   size++);
    double design = 0;
    for (auto const& z : in_.zones) design += z.design_load;
    double const fit = 1.2 * design;
    if (fit > 1.2 * low && fit < 0.9 * high)
      offer_number(Hardness::boiler, "rating", "replace the boiler: same minimum fire, rating", boiler("heating_input"), high, fit);
  }

  /// What keeps warm water from rising into a zone that does not call.
  void checks() {
    for (auto const& name : in_trouble({Sort::too_warm})) {
      auto const check = zone(name, "circulator.check_valve");
      auto const& mover = in_.pieces[in_.zone(name)->mover];
      if (mover.kind->name != Circulator::kind || states<&Z::flow_check>(table(name))) continue;
      if (!get<&Circulator::check_valve>(mover))
        list_.push_back({Hardness::valve_or_speed, "check of " + name, fmt::format("use a circulator with a flow check for {}", name),
                         set(check, "true")});
    }
  }
  /// Cooler water for floors alone.
  void mixing() {
    for (auto const& z : in_.zones) {
      auto const* t = table(z.name);
      bool const too_warm = std::any_of(now_.troubles.begin(), now_.troubles.end(), [&](auto const& x) {
        return x.sort == Sort::other && x.place.find("too_warm " + in_.pieces[z.emitter].name) != std::string::npos;
      });
      if (!too_warm || !t || states<&Z::mixing>(t) || states<&Z::zone_valve>(t)) continue;
      auto place = house_.turn(zone(z.name, "design_load")).places[0];
      place.path = {"mixing", "kind"};
      list_.push_back({Hardness::pipe,
                       "mixing of " + z.name,
                       fmt::format("add a motorized mixing valve to {}", z.name),
                       {{Edit::Do::set, place, "motorised mixing valve"}}});
    }
  }
  void priority() {
    if (!document_.find("hot water")) return;
    auto const t = house_.turn("hot_water.operation");
    if (t.own[0] == 0) return;
    list_.push_back({Hardness::setting, "priority", "give hot water priority (now shared)", set("hot_water.operation", "priority"),
                     "heating waits during a draw"});
  }

  Case const& house_;
  Document const& document_;
  Installation const& in_;
  Judged const& now_;
  std::vector<Remedy> list_;
  std::vector<int> seen_;  // circulators
};

}  // namespace

std::string_view words_of(Hardness h) {
  constexpr std::array words{"a setting",   "a valve or speed", "a new circulator", "joined zones", "a circulator for each zone",
                             "larger pipe", "more emitter",     "a buffer tank",    "a new boiler"};
  return words.at(std::size_t(h));
}

std::string_view key_of(Hardness h) {
  constexpr std::array keys{"a setting",  "a valve or a speed", "another circulator", "zones joined",  "a circulator for each zone",
                            "other pipe", "more emitter",       "a buffer tank",      "another boiler"};
  return keys.at(std::size_t(h));
}

std::vector<Remedy> remedies_for(Case const& house, Judged const& now) { return Catalogue{house, now}.all(); }

}  // namespace steadyfire
