#include "sim/core/count_up.hpp"
#include "tools/study/arrange/layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "models/arrangements/headers.hpp"
#include "models/arrangements/names.hpp"
#include "models/bypass_valve.hpp"
#include "models/circulator.hpp"
#include "models/controls.hpp"
#include "models/house/boiler_of.hpp"
#include "models/house/section_of.hpp"
#include "models/house/zone_builder.hpp"
#include "models/pipe_sizes.hpp"
#include "models/piping/buffer_size.hpp"
#include "sim/scenario/table_reader.hpp"
#include "tools/job/catalog.hpp"
#include "tools/review/size_sections.hpp"
#include "tools/review/water_sections.hpp"

namespace steadyfire {
namespace {

using namespace unit;
using N = NearBoilerSection;
using Z = ZoneSection;
using Distribution = Layout::Distribution;

double constexpr enough_of_own = 0.9, enough_of_new = 1.0;  // of the needed flow
double constexpr fastest = foot_per_second.to_si(4);

std::vector<Entry const*> zones_of(Document const& document) {
  std::vector<Entry const*> zones;
  for (auto const& t : document.tables)
    if (t.kind->name == Z::kind) zones.push_back(&t);
  return zones;
}

/// The next larger size of the same pipe, "" if there is none.
std::string next_size(std::string const& size) {
  auto const gap = size.find(" in ");
  auto const at = std::find(nominal_sizes.begin(), nominal_sizes.end(), size.substr(0, gap));
  if (gap == size.npos || at == nominal_sizes.end() || std::next(at) == nominal_sizes.end()) return "";
  auto const next = std::string(*std::next(at)) + size.substr(gap);
  return find_pipe_size(next) ? next : "";
}

/// One circulator of the other layout: what it serves, and how it is stated.
struct Chosen {
  enum class Serves { boiler_loop, all_zones, one_zone } serves;
  ValuePlace at;
  int duty;            ///< of a new one; −1: the house's own as it is
  int first_duty = 0;  ///< from which its replacement begins
  bool is_stated;      ///< in the file
  int zone = -1;
  double head = std::nan("");  ///< [ft] held, of a new one for all zones
  bool is_new() const { return duty >= 0; }
};

class Piper {
 public:
  Piper(Case const& house, Layout const& layout, PipingNeeds const& needs)
      : house_{house}, document_{house.document()}, in_{house.project().installation}, now_{layout_of(house)}, then_{layout},
        needs_{needs}, near_{document_.find("near boiler")}, headers_{section_of<HeadersSection>(document_, catalog())},
        zones_{zones_of(document_)}, size_{section_of<N>(document_, catalog()).size}, header_size_{headers_.size},
        boiler_has_its_own_{states<&N::appliance_circulator>() || in_.part(Part::plates) >= 0} {
    if (size_.empty()) size_ = "1 in copper M";
    near_size_grew_ = widen(size_);
    if (!header_size_.empty()) header_size_grew_ = widen(header_size_);
  }

  Relaid lay_out() {
    if (auto why = why_not(); !why.empty()) return {{}, "", std::move(why)};
    near_boiler(), zones(), circulators();
    try {
      leave_out_lost_parts();
      choose_parts();
      return {edits(), text()};
    } catch (BadInput const& e) { return {{}, "", told_in_a_line(e.what())}; } catch (BadEdit const& e) {
      return {{}, "", Words(e.what())};
    } catch (Stopped const& e) { return {{}, "", Words(e.message)}; }
  }

 private:
  template <auto M>
  bool states() const { return near_ && value_of<M>(*near_).given; }
  bool is_direct(Layout const& l) const { return l.arrangement == N::direct; }
  bool by_valves(Layout const& l) const { return l.distribution == Distribution::zone_valves; }
  bool is_mixed(Entry const* z) const { return value_of<&Z::mixing>(*z).given; }

  Words why_not() const {
    bool const has_plates = now_.arrangement == N::exchanger, wants_plates = then_.arrangement == N::exchanger;
    if (has_plates && !wants_plates) return "boiler and zones have water of their own; without plates they would share it";
    if (wants_plates && !has_plates) return "plates are for zones with water of their own, as glycol; the file has none";
    if (is_direct(then_) && in_.lag_boiler >= 0) return "a second boiler needs its own loop";
    if (!by_valves(then_) && by_valves(now_)) {
      if (headers_.arrangement == HeadersSection::manifold) return "the manifold has an actuator for each zone";
      if (headers_.arrangement == HeadersSection::single_pipe) return "the single pipe has one circulator for its loop";
    }
    if (by_valves(then_) && std::all_of(zones_.begin(), zones_.end(), [&](auto const* z) { return is_mixed(z); }))
      return "mixed water needs a circulator in each zone";
    if (zones_.size() == 1 && by_valves(then_) && !by_valves(now_) && !(is_direct(then_) && boiler_has_its_own_))
      return "one zone: its circulator is the only one already";
    return {};
  }

  void set(std::string const& table, int index, std::vector<std::string> path, std::string value) {
    edits_.push_back({Edit::Do::set, {table, index, std::move(path)}, std::move(value)});
  }
  void near(std::string const& key, std::string value) { set("near_boiler", 0, {key}, std::move(value)); }
  template <auto M>
  void leave_out() {
    if (states<M>()) near(field_of<M>(*near_->kind).key, "");
  }
  template <auto M>
  void near_choice(int to) {
    auto const& field = field_of<M>(*find_kind(catalog(), N::kind));
    near(field.key, field.choices.at(std::size_t(to)));
  }

  void near_boiler() {
    int const a = then_.arrangement;
    bool const same = then_ == now_;
    if (a != now_.arrangement) near_choice<&N::arrangement>(a);
    if (a != N::tees) leave_out<&N::straight_before>(), leave_out<&N::straight_after>();
    if (a != N::separator) leave_out<&N::separator_diameter>();
    if (a != N::buffer) leave_out<&N::tank_control>();
    if (a == N::buffer && (now_.arrangement != N::buffer || now_.tank_pipes != then_.tank_pipes))
      near_choice<&N::tank_pipes>(then_.tank_pipes);
    if (a == N::buffer && now_.arrangement != N::buffer)
      near("tank_volume", fmt::format("{:.0f} gal", AnyUnit{gallon}.from_si(needs_.tank_volume)));
    bool const mixes = a == N::tees || a == N::separator;
    if (mixes && is_direct(now_) && !states<&N::sensor>()) near_choice<&N::sensor>(1);
    if (!same && !(is_direct(then_) && by_valves(then_) && boiler_has_its_own_)) leave_out<&N::bypass>();
    if (is_direct(then_) == is_direct(now_)) return;
    for (std::string const end : {"supply", "return"}) {  // joints that the boiler shares with tees or vessel are called otherwise
      auto const apart = end + " tee", direct = "system " + end;
      is_direct(now_) ? rename_joint(direct, apart) : rename_joint(apart, direct);
    }
  }
  /// In tables that say where they are joined.
  void rename_joint(std::string const& from, std::string const& to) {
    std::map<std::string, int> seen;
    for (auto const& t : document_.tables) {
      int const index = seen[t.kind->name]++;
      auto const keys = t.ports.empty() ? std::vector<std::string>{} : port_keys(*t.kind);
      for (std::size_t i = 0; i < t.ports.size(); ++i)
        if (t.ports[i] == from) set(table_key(*t.kind), index, {keys.at(i)}, to);
    }
  }

  void zones() {
    for (std::size_t i = 0; i < zones_.size(); ++i) {
      auto const& z = *zones_[i];
      bool const had_valve = has_valve(z, headers_), gets_valve = by_valves(then_) && !is_mixed(&z);
      auto const &circulator = value_of<&Z::circulator>(z), &valve = value_of<&Z::zone_valve>(z);
      if (gets_valve && !had_valve) {
        if (circulator.given) set("zone", int(i), {"circulator"}, "");
        if (!zones_have_actuators(headers_)) set("zone", int(i), {"zone_valve", "cv"}, "5");
      }
      if (gets_valve) continue;
      if (valve.given) set("zone", int(i), {"zone_valve"}, "");
      add({Chosen::Serves::one_zone, {"zone", int(i), {"circulator"}}, had_valve ? 0 : -1, 0, circulator.given, int(i)},
          had_valve ? -1 : in_.zones[i].mover);
    }
  }

  void circulators() {
    bool const one_pipe = headers_.arrangement == HeadersSection::single_pipe;
    bool const for_all = by_valves(then_) || one_pipe, was_for_all = by_valves(now_) || one_pipe;
    bool const same_way = is_direct(then_) == is_direct(now_) && for_all == was_for_all;
    int const boilers = in_.part(Part::boiler_circulator), systems = in_.part(Part::system_circulator);
    // The boiler's: in its own loop; or for all zones straight through it; or none.
    bool const same_work = is_direct(then_) ? same_way : !is_direct(now_);
    if (!boiler_has_its_own_) {
      auto const serves = is_direct(then_) ? Chosen::Serves::all_zones : Chosen::Serves::boiler_loop;
      bool const needed = !is_direct(then_) || (for_all && !(same_work && boilers < 0));
      bool const stated = states<&N::circulator>();
      if (!needed) {
        if (!same_work) leave_out<&N::circulator>(), rename_joint("boiler return", named::boiler_inlet);
      } else {
        add({serves, {"near_boiler", 0, {"circulator"}}, same_work && boilers >= 0 ? -1 : 0, 0, stated}, same_work ? boilers : -1);
      }
    }
    bool const keeps_system = same_way && systems >= 0, needs_system = !is_direct(then_) && for_all;
    if (needs_system || keeps_system)
      add({Chosen::Serves::all_zones, {"near_boiler", 0, {"system_circulator"}}, keeps_system ? -1 : 0, 0, states<&N::system_circulator>()},
          keeps_system ? systems : -1);
    else leave_out<&N::system_circulator>();
  }

  /// `own`: the piece that does the work now. One with a stated curve stays whatever it moves, and so does the largest.
  void add(Chosen c, int own) {
    if (own >= 0) {
      auto const& piece = in_.pieces[std::size_t(own)];
      if (piece.kind->name != Circulator::kind || value_of<&Circulator::curve>(piece).given) return;
      auto const now = fill<Circulator>(piece.values);
      bool const is_plain = now.regulation == Circulator::fixed_speed && *now.speed > 0.99 && now.speeds.empty() && now.in_series == 1 &&
                            now.in_parallel == 1;
      if (is_plain) c.first_duty = now.duty + 1;
    }
    chosen_.push_back(std::move(c));
  }
  static std::vector<std::string> const& duties() { return field_of<&Circulator::duty>(*find_kind(catalog(), Circulator::kind)).choices; }
  static bool can_grow(Chosen const& c) { return (c.is_new() ? c.duty + 1 : c.first_duty) < int(duties().size()); }

  std::string text() const { return edited(house_.text(), edits(), catalog()); }
  std::vector<Edit> edits() const {
    auto edits = edits_;
    auto const put = [&](ValuePlace at, char const* key, std::string value) {
      at.path.emplace_back(key);
      edits.push_back({Edit::Do::set, std::move(at), std::move(value)});
    };
    for (auto const& c : chosen_) {
      if (!c.is_new()) continue;
      if (c.is_stated) edits.push_back({Edit::Do::set, c.at, ""});
      put(c.at, "duty", duties().at(std::size_t(c.duty)));
      if (std::isnan(c.head)) continue;
      put(c.at, "regulation", "constant head");
      put(c.at, "setting_head", fmt::format("{:.0f} ft", c.head));
    }
    auto const size_of = [&](char const* table, std::string const& size) {
      edits.push_back({Edit::Do::set, {table, 0, {"size"}}, size});
    };
    if (near_size_grew_) size_of("near_boiler", size_);
    if (header_size_grew_) size_of("headers", header_size_);
    if (then_.arrangement == N::separator && now_.arrangement != N::separator) {
      double constexpr bores = 3, height = foot.to_si(4);  // common practice, no published source
      double const wide = bores * find_pipe_size(size_)->inside_diameter;
      edits.push_back({Edit::Do::set, {"near_boiler", 0, {"separator_diameter"}}, fmt::format("{:.1f} in", AnyUnit{inch}.from_si(wide))});
      edits.push_back({Edit::Do::set,
                       {"near_boiler", 0, {"tank_volume"}},
                       fmt::format("{:.1f} gal", AnyUnit{gallon}.from_si(std::numbers::pi / 4 * wide * wide * height))});
    }
    edits.insert(edits.end(), removals_.begin(), removals_.end());
    return edits;
  }

  /// Tables that change a part which this layout does not have.
  void leave_out_lost_parts() {
    Diagnostics faults;
    auto const changed = read_document(document_.file, text(), catalog(), faults);
    if (!changed.root.kind || !faults.empty()) return;
    make_project(changed, catalog(), faults);
    std::map<std::string, int> seen;
    for (auto const& t : changed.tables) {
      int const index = seen[t.kind->name]++;
      bool const is_lost = std::any_of(faults.list().begin(), faults.list().end(),
                                       [&](auto const& f) { return f.code == "E236" && f.at == t.at; });
      if (is_lost) removals_.insert(removals_.begin(), {Edit::Do::remove, {table_key(*t.kind), index, {}}, ""});
    }
  }

  FlowState solve() const {
    Case const changed{document_.file, text(), {}, house_.units()};
    auto options = flows_options_of(changed.project());
    options.tell_findings = false;
    options.calls.emplace_back();
    for (auto const& z : changed.project().installation.zones) options.calls[0].push_back(z.name);
    return study_flows(changed.project().installation, options).states.front();
  }
  /// Of what a circulator serves, the least share of its flow.
  double share(Chosen const& c, FlowState const& state) const {
    if (c.serves == Chosen::Serves::boiler_loop) return state.boiler_flow / needs_.boiler_flow;
    double least = 1e9;
    for (std::size_t i = 0; i < state.zones.size(); ++i)
      if (c.zone < 0 || c.zone == int(i)) least = std::min(least, state.zones[i].got / state.zones[i].wanted);
    return least;
  }

  /// Raises circulators until all have what they need, or are the largest. Each round raises one of them at least, so it ends.
  void choose_parts() {
    for (bool changed = true; changed;) {
      changed = false;
      auto const state = solve();
      for (auto& c : chosen_)
        if (share(c, state) < (c.is_new() ? enough_of_new : enough_of_own) && can_grow(c))
          c.duty = c.is_new() ? c.duty + 1 : c.first_duty, changed = true;
    }
    for (auto& c : chosen_)
      if (c.serves == Chosen::Serves::all_zones && c.is_new()) hold_head(c);
    if (is_direct(then_) && by_valves(then_) && boiler_has_its_own_ && !states<&N::bypass>()) add_bypass();
  }
  /// The boiler's own circulator may run while all valves are shut: a bypass that opens above what the zones take with all of them calling.
  void add_bypass() {
    auto const heads = solve().heads;
    double const zones = heads.at(named::supply_header) - heads.at(named::return_header);
    edits_.push_back({Edit::Do::set,
                      {"near_boiler", 0, {"bypass", field_of<&BypassValve::setting>(*find_kind(catalog(), BypassValve::kind)).key}},
                      fmt::format("{:.0f} ft", std::max(1.0, count_up(AnyUnit{foot}.from_si(zones))))});
  }
  /// To the pipe that carries what all zones need at 4 ft/s at most, or the largest; whether it is another.
  bool widen(std::string& size) const {
    auto const before = size;
    auto const is_fast = [&] {
      auto const pipe = find_pipe_size(size);
      return pipe && !is_enough(fastest * std::numbers::pi / 4 * pipe->inside_diameter * pipe->inside_diameter, needs_.boiler_flow);
    };
    for (auto next = next_size(size); is_fast() && !next.empty(); next = next_size(size)) size = next;
    return size != before;
  }
  /// The least whole foot at which all zones have their flow; fixed speed where they never do.
  void hold_head(Chosen& c) {
    if (share(c, solve()) < enough_of_new) return;
    int low = 0, high = 40;  // [ft] the second above any generic curve: as fixed speed
    while (high - low > 1) {
      int const middle = (low + high) / 2;
      c.head = middle;
      (share(c, solve()) < enough_of_new ? low : high) = middle;
    }
    c.head = high;
  }

  /// "near boiler: a bypass valve, but every zone …": the first fault of a rendered list, without its place.
  static Words told_in_a_line(std::string const& rendered) {
    auto words = rendered.substr(0, rendered.find('\n'));
    if (auto const at = words.find("]: "); at != words.npos) words.erase(0, at + 3);
    return words;
  }

  Case const& house_;
  Document const& document_;
  Installation const& in_;
  Layout const now_, then_;
  PipingNeeds const needs_;
  Entry const* near_;
  HeadersSection const headers_;
  std::vector<Entry const*> const zones_;
  std::string size_, header_size_;  // the second "" where headers are as the pipes near the boiler
  bool const boiler_has_its_own_;   // a circulator that nobody changes
  bool near_size_grew_ = false, header_size_grew_ = false;  // made larger than the file has them
  std::vector<Chosen> chosen_;
  std::vector<Edit> edits_, removals_;
};

/// The next of a row of sizes wide enough that none is one maker's own.
double round_volume(double volume) {
  for (double const gallons : {10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 120.0, 200.0, 300.0, 500.0, 1000.0})
    if (volume <= gallon.to_si(gallons)) return gallon.to_si(gallons);
  return gallon.to_si(2000);
}

}  // namespace

std::string arrangement_name(Layout const& l) {
  auto const& kind = *find_kind(catalog(), N::kind);
  auto const& name = field_of<&N::arrangement>(kind).choices.at(std::size_t(l.arrangement));
  if (l.arrangement != N::buffer) return name;
  return fmt::format("{}, {} pipes", name, field_of<&N::tank_pipes>(kind).choices.at(std::size_t(l.tank_pipes)));
}
std::string distribution_name(Layout::Distribution d) { return d == Distribution::circulators ? "circulators" : "zone valves"; }

Layout layout_of(Case const& house) {
  auto const near = section_of<N>(house.document(), catalog());
  auto const headers = section_of<HeadersSection>(house.document(), catalog());
  auto const zones = zones_of(house.document());
  bool const valves = std::any_of(zones.begin(), zones.end(), [&](auto const* z) { return has_valve(*z, headers); });
  return {near.arrangement, near.arrangement == N::buffer ? near.tank_pipes : int(N::two),
          valves ? Distribution::zone_valves : Distribution::circulators};
}

std::vector<Layout> all_layouts() {
  std::vector<Layout> all;
  auto const both = [&](int arrangement, int pipes = N::two) {
    for (auto const d : {Distribution::zone_valves, Distribution::circulators}) all.push_back({arrangement, pipes, d});
  };
  both(N::direct), both(N::tees), both(N::separator);
  for (int const pipes : {N::two, N::three, N::four}) both(N::buffer, pipes);
  both(N::exchanger);
  return all;
}

double buffer_by_formula(Case const& house, double least_output) {
  auto const& in = house.project().installation;
  auto const buffer = section_of<BufferSection>(house.document(), catalog());
  auto const boiler = boiler_of(in);
  double smallest = 1e300;
  for (auto const& z : in.zones)
    if (z.room >= 0) smallest = std::min(smallest, z.design_load);
  auto const stated_or = [](double stated, double otherwise) { return std::isnan(stated) ? otherwise : stated; };
  auto const water = in.fluid->at(in.fluid_temperature);
  return buffer_size(*section_of<SizeSection>(house.document(), catalog()).wanted_burn, stated_or(*buffer.least_output, least_output),
                     stated_or(*buffer.load, smallest), water.density * water.heat_capacity,
                     stated_or(*buffer.swing, *boiler.on_below + *boiler.off_above));
}

PipingNeeds needs_of(Case const& house, double boiler_supply, double least_output) {
  auto const& in = house.project().installation;
  PipingNeeds needs;
  for (auto const& z : in.zones) {
    double draws = z.wanted_flow;
    if (z.mixing >= 0) {  // hot water that makes its own of what comes back: less
      double const mixed = value_of<&OutdoorReset::cold_supply>(in.pieces[std::size_t(z.reset)]).numbers.at(0);
      double const hot = std::max(boiler_supply, mixed) - (mixed - z.design_drop);
      draws *= z.design_drop / hot;
    }
    needs.boiler_flow += draws;
  }
  double constexpr usual = 20;  // [gal] common practice, no published source
  double const formula = buffer_by_formula(house, least_output);
  needs.tank_volume = formula > 0 ? round_volume(formula) : gallon.to_si(usual);
  return needs;
}

Relaid lay_out_again(Case const& house, Layout const& layout, PipingNeeds const& needs) { return Piper{house, layout, needs}.lay_out(); }

}  // namespace steadyfire
