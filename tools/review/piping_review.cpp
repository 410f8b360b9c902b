#include "tools/review/piping_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "models/circulator.hpp"
#include "models/expansion_tank.hpp"
#include "models/house/boiler_of.hpp"
#include "models/house/piping_sections.hpp"
#include "models/house/section_of.hpp"
#include "models/house/sections.hpp"
#include "models/piping/buffer_size.hpp"
#include "models/piping/condensate.hpp"
#include "models/piping/thermosiphon.hpp"
#include "models/pressure/fill.hpp"
#include "tools/review/circuits.hpp"
#include "tools/review/pressure_review.hpp"
#include "tools/review/size_sections.hpp"
#include "tools/review/water_sections.hpp"
#include "models/valve.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {
namespace {

Measure constexpr fine_pressure{unit::psi, unit::kilopascal, 2, 2};
Measure constexpr water_per_fuel{Unit<MassPerEnergy::dimension>{"gal/therm", 3.785411784 / (1e5 * unit::Btu)},  // of 1 kg/L
                                 Unit<MassPerEnergy::dimension>{"kg/kWh", 1 / 3.6e6}, 2, 3};
Measure constexpr of_tees{unit::inch, unit::millimetre, 1, 0};
double constexpr noticed = 3e-6;  // [m³/s] 0.05 gpm

class PipingReview {
public:
  explicit PipingReview(Job const& job)
      : job_{job}, in_{job.project.installation}, safety_{section_of<SafetySection>(job.document, job.catalog)},
        boiler_{boiler_of(in_)}, circuits_{circuits_of(in_)} {
    part_.id = "piping", part_.title = "Flow, air, check valves, buffer and condensate";
  }

  ReviewPart write() {
    boiler_flow(), circulators(), tees(), air_separator(), dirt(), zones_that_warm(), valves(), slow_pipes(), buffer(), condensate();
    part_.not_covered.push_back("velocities above their limits: see the flows");
    part_.not_covered.push_back("noise, vibration, hangers and expansion of pipes");
    part_.reminders.push_back("Purge each zone with a hose until no bubbles come, then bleed every high point once it is hot.");
    return std::move(part_);
  }

private:
  void missing(Words words) { part_.missing.push_back(std::move(words)); }
  void find(char const* id, std::string place, Severity severity, Words words, Words fix, double order) {
    part_.find({id, std::move(place), severity, {}, std::nullopt, common_practice, std::move(words), order}, std::move(fix));
  }
  void judge(Judgement j) { part_.judge(std::move(j)); }
  static std::string with(FlowState const& s) { return s.calling + " calling"; }
  double height_of(std::string const& joint) const {
    auto const at = in_.heights.find(joint);
    return at == in_.heights.end() ? 0 : at->second;
  }
  static EdgeFlow const* edge(FlowState const& s, std::string const& name) {
    auto const at = std::find_if(s.edges.begin(), s.edges.end(), [&](auto const& e) { return e.name == name; });
    return at == s.edges.end() ? nullptr : &*at;
  }
  Circuit const* circuit_with(std::string const& joint) const {
    auto const at = std::find_if(circuits_.begin(), circuits_.end(), [&](auto const& c) { return c.holds(joint); });
    return at == circuits_.end() ? nullptr : &*at;
  }
  Piece const& tank_of(Circuit const& c) const { return in_.pieces[c.tank]; }

  void boiler_flow() {
    auto const& name = in_.pieces[in_.boiler].name;
    FlowState const *least = nullptr, *most = nullptr;
    double low = 0, high = 0, worst_rise = 0, worst_heat = 0;
    std::string worst;
    double const cp = circuits_.front().fluid->at(circuits_.front().temperature).heat_capacity,
                 rho = circuits_.front().fluid->at(circuits_.front().temperature).density;
    double const efficiency = job_.run.burner.input_least > 0 ? job_.run.burner.output_least / job_.run.burner.input_least : 0.9;
    for (auto const& s : job_.flows.states) {
      auto const* e = edge(s, name);
      if (!e) continue;
      if (!least || e->flow < low) least = &s, low = e->flow;
      if (!most || e->flow > high) most = &s, high = e->flow;
      double load = 0;
      for (auto const& z : in_.zones)
        if (std::find(s.calls.begin(), s.calls.end(), z.name) != s.calls.end()) load += z.design_load;
      double const heat = std::clamp(load, *boiler_.minimum_input * efficiency, *boiler_.heating_input * efficiency);
      double const rise = e->flow > 1e-9 ? heat / (rho * cp * e->flow) : 0;
      if (rise > worst_rise) worst_rise = rise, worst_heat = heat, worst = with(s);
    }
    if (!least) return;
    judge({"boiler.low_flow",
           name,
           "boiler flow",
           {"flow", low, measure::flow},
           {"least_flow", *boiler_.least_flow, measure::flow},
           Judgement::at_least,
           value_of<&Boiler::least_flow>(in_.pieces[in_.boiler]).given
               ? Words(users_manual)
               : Words("usual value; the manual decides"),
           "Use closely spaced tees with a boiler circulator, a bypass, or a larger circulator.",
           Severity::serious,
           72,
           say("That is with {}.", with(*least))});
    judge(
        {"boiler.high_rise",
         name,
         "temperature rise at design load",
         {"rise", worst_rise, measure::temperature_change},
         {"rise_limit", *boiler_.rise_limit, measure::temperature_change},
         Judgement::at_most,
         "rise_limit in [boiler]",
         say("Get {} through the boiler.", Amount{worst_heat / (rho * cp * *boiler_.rise_limit), measure::flow}),
         Severity::minor,
         35,
         say("That is with {}. The control cuts back the fire.", worst)});
    if (is_stated(*boiler_.most_flow))
      judge({"boiler.high_flow",
             name,
             "boiler flow",
             {"flow", high, measure::flow},
             {"most_flow", *boiler_.most_flow, measure::flow},
             Judgement::at_most,
             users_manual,
             "Use a smaller circulator, a lower speed, or a balancing valve in the boiler loop.",
             Severity::minor,
             36,
             say("That is with {}.", with(*most))});
    else missing("most_flow in [boiler], from its manual");
    bool const is_steady = high - low < 0.01 * high;
    auto const range = is_steady ? say("Boiler flow {}", Amount{high, measure::flow})
                                 : say("Boiler flow {} to {}", Amount{low, measure::flow}, Amount{high, measure::flow});
    part_.sentences.push_back(
        high > 1e-9 ? say("{}; temperature rise at minimum fire {}{}.", range,
                          Amount{*boiler_.minimum_input * efficiency / (rho * cp * high), measure::fine_temperature_change},
                          is_steady ? "" : " at the highest flow")
                    : range + ".");
  }

  /// Where the tank holds the pressure, and what each circulator does to its own suction.
  void circulators() {
    ReviewTable table{"suctions",
                      "Suction of the circulators, gauge",
                      {"circulator", "at rest", "lowest while it runs", "change", "by itself", "head as pressure",
                       "suction head above boiling", "calling"},
                      {}};
    for (int p = 0; p < int(in_.pieces.size()); ++p) {
      auto const& piece = in_.pieces[p];
      if (piece.kind->role != Role::circulator) continue;
      auto const* c = circuit_with(piece.ports.front());
      if (!c || c->tank < 0) {
        untold_.insert(c ? c->name : piece.name);
        continue;
      }
      auto const& joint = piece.ports.front();
      auto const& tank = tank_of(*c);
      double const weight = c->fluid->at(c->temperature).density * 9.80665;
      double const resting = *get<&ExpansionTank::fill_pressure>(tank) + atmosphere -
                             weight * (height_of(joint) - height_of(tank.ports.front()));
      double const stated_heat = *get<&ExpansionTank::hottest_water>(tank),
                   hottest = is_stated(stated_heat) ? stated_heat : hottest_water(job_);
      FlowState const* worst = nullptr;
      double suction = 0, head = 0;
      for (auto const& s : job_.flows.states)
        if (auto const at = s.pressures.find(joint); at != s.pressures.end() && runs(s, piece.name) && (!worst || at->second < suction))
          worst = &s, suction = at->second, head = point_of(s, piece.name)->head * weight;
      if (!worst) continue;
      double const left = suction_head(suction, c->fluid->vapour_pressure(hottest), c->fluid->at(hottest).density);
      double const own = suction - without(*worst, piece, resting);
      table.rows.push_back({piece.name,
                            {resting - atmosphere, measure::pressure},
                            {suction - atmosphere, measure::pressure},
                            {suction - resting, fine_pressure},
                            {own, fine_pressure},
                            {head, fine_pressure},
                            {left, measure::head},
                            fmt::format("{}", fmt::join(worst->calls, ", "))});
      judge({"circulator.pumps_towards_tank",
             piece.name,
             "suction pressure falls",
             {"drop", -own, measure::pressure},
             {"half_its_head", head / 2, measure::pressure},
             Judgement::at_most,
             say("half its head; {}", common_practice),
             say("Connect the expansion tank '{}' just before it, at '{}'.", tank.name, joint),
             Severity::minor,
             45,
             "It pushes water toward the tank instead of away from it."});
      bool const stated = is_stated(*safety_.needed_suction_head);
      double const needed = stated ? *safety_.needed_suction_head : 2;
      judge({"circulator.low_suction",
             piece.name,
             "suction head above boiling",
             {"suction_head", left, measure::head},
             {"needed", needed, measure::head},
             Judgement::at_least,
             stated ? users_manual : common_practice,
             "Raise the fill pressure, or pump away from the tank.",
             Severity::serious,
             74,
             say("Water at {}.", Amount{hottest, measure::temperature})});
    }
    for (auto const& name : untold_) missing("no [[expansion_tank]] in " + name + ": pressures at its circulators are unknown");
    if (!table.rows.empty()) part_.tables.push_back(std::move(table));
  }

  static CirculatorPoint const* point_of(FlowState const& s, std::string const& circulator) {
    auto const at = std::find_if(s.circulators.begin(), s.circulators.end(), [&](auto const& x) { return x.name == circulator; });
    return at == s.circulators.end() ? nullptr : &*at;
  }
  static bool runs(FlowState const& s, std::string const& circulator) {
    auto const* point = point_of(s, circulator);
    return point && point->power > 0 && point->flow > noticed;
  }
  /// The pressure at a circulator's suction if it alone rested: that of the same calls without its zone, else with nothing running.
  double without(FlowState const& with, Piece const& circulator, double resting) const {
    for (auto const& s : job_.flows.states) {
      auto calls = with.calls;
      calls.erase(std::remove(calls.begin(), calls.end(), circulator.zone), calls.end());
      if (auto const at = s.pressures.find(circulator.ports.front());
          s.calls == calls && !runs(s, circulator.name) && at != s.pressures.end())
        return at->second;
    }
    return resting;
  }

  void tees() {
    auto const* section = job_.document.find("near boiler");
    auto const near = section_of<NearBoilerSection>(job_.document, job_.catalog);
    if (near.arrangement != NearBoilerSection::tees) return;
    double const bore = find_pipe_size(near.size.empty() ? "1 in copper M" : near.size)->inside_diameter;
    struct Rule {
      char const *id, *key, *words;
      bool is_stated;
      Length length;
      double bores;
      Judgement::Sense sense;
      char const *fix, *consequence;
      double order;
    };
    using S = NearBoilerSection;
    Rule const rules[]{
        {"tees.far_apart", "gap_length", "gap", value_of<&S::gap_length>(*section).given, near.gap_length, 4, Judgement::at_most,
         "Set the tees closer together.", "The head loss of the gap drives flow through zones that do not call.", 40},
        {"tees.short_before", "straight_before", "straight pipe before the tees", value_of<&S::straight_before>(*section).given,
         near.straight_before, 8, Judgement::at_least,
         "Use more straight pipe before the tees, or a hydraulic separator.", "", 18},
        {"tees.short_after", "straight_after", "straight pipe after the tees", value_of<&S::straight_after>(*section).given,
         near.straight_after, 4, Judgement::at_least,
         "Use more straight pipe after the tees, or a hydraulic separator.", "", 17}};
    for (auto const& r : rules) {
      if (r.is_stated)
        judge({.id = r.id,
               .place = "tees",
               .subject = r.words,
               .actual = {"length", *r.length, of_tees},
               .limit = {"limit", r.bores * bore, of_tees},
               .sense = r.sense,
               .whose = fmt::format("{:.0f} pipe diameters; {}", r.bores, common_practice),
               .fix = r.fix,
               .severity = Severity::minor,
               .order = r.order,
               .consequence = r.consequence});
      else missing(say("{} in [near_boiler]", r.key));
    }
  }

  /// Joints and pieces that water meets from a joint on, with every zone calling, before the next emitter, exchanger or boiler; behind
  /// a valve of several ways those along all of them.
  struct Walk {
    std::set<std::string> joints, pieces;
  };
  Walk downstream(std::string const& from) const {
    Walk walk{{from}, {}};
    if (job_.flows.states.empty()) return walk;
    auto const& s = *std::max_element(job_.flows.states.begin(), job_.flows.states.end(),
                                      [](auto const& a, auto const& b) { return a.calls.size() < b.calls.size(); });
    for (bool grows = true; grows;) {
      grows = false;
      for (auto const& piece : in_.pieces) {
        bool const several = piece.ports.size() > 2 && piece.kind->role == Role::valve;
        for (std::size_t way = 0; several && way + 1 < piece.ports.size(); way += 2)
          if (walk.joints.count(piece.ports[way]) && walk.joints.insert(piece.ports[way + 1]).second)
            walk.pieces.insert(piece.name), grows = true;
        auto const* e = piece.ports.size() == 2 ? edge(s, piece.name) : nullptr;
        if (!e || std::abs(e->flow) < noticed || piece.kind->role == Role::emitter || piece.kind->role == Role::boiler) continue;
        auto const &in = e->flow > 0 ? piece.ports[0] : piece.ports[1], &out = e->flow > 0 ? piece.ports[1] : piece.ports[0];
        if (walk.joints.count(in) && walk.pieces.insert(piece.name).second) walk.joints.insert(out), grows = true;
      }
    }
    return walk;
  }
  void air_separator() {
    std::vector<Piece const*> found;
    for (auto const& p : in_.pieces)
      if (p.kind->name == "air separator") found.push_back(&p);
    if (found.empty()) {
      find("air.no_separator", "the system", Severity::minor, "no air separator. Air that the water gives off stays in the system.",
           "Add one in the hot supply before the circulators: air_separator = {} in [near_boiler].", 28);
      return;
    }
    auto const hot = downstream(in_.pieces[in_.boiler].ports.back());
    for (auto const* p : found) {
      bool const is_hot = hot.pieces.count(p->name);
      auto const onward = downstream(p->ports.back());
      bool const before = std::any_of(in_.pieces.begin(), in_.pieces.end(), [&](auto const& other) {
        return other.kind->role == Role::circulator && onward.pieces.count(other.name);
      });
      if (!is_hot)
        find("air.cool_place", p->name, Severity::minor, "the air separator is not in the hottest water, where air comes out",
             "Move it to the boiler supply.", 22);
      if (!before)
        find("air.high_pressure", p->name, Severity::note,
             "the air separator is downstream of the circulators, where pressure is high and less air comes out",
             "Move it, the tank and the fill to the suction side of the circulators.", 10);
      if (is_hot && before)
        part_.sentences.push_back(say("{} is in the hottest water and ahead of a circulator, as it should be.", p->name));
      if (int const plates = in_.part(Part::plates); is_hot && plates >= 0 && hot.joints.count(in_.pieces[plates].ports.front()) &&
                                                     !onward.joints.count(in_.pieces[plates].ports.front()))
        part_.sentences.push_back(
            say("Water to the hot water heat exchanger leaves ahead of {}: the boiler's own vent lets out its air.", p->name));
    }
  }
  void dirt() {
    bool const has = std::any_of(in_.pieces.begin(), in_.pieces.end(), [](auto const& p) {
      return p.zone.empty() && (p.kind->name == "strainer" || p.kind->name == "dirt separator");
    });
    if (!has)
      find("boiler.no_strainer", in_.pieces[in_.boiler].name, Severity::note, "no strainer or dirt separator ahead of the boiler",
           "Add one: strainer = {} or dirt_separator = {} in [near_boiler]. Many boiler manuals ask for it in old systems.", 9);
  }

  /// Zones that warm water or another circulator can move while they rest.
  void zones_that_warm() {
    ReviewTable table{"ghost_flow",
                      "Rising warm water, zone off",
                      {"zone", "height", "push while it cools", "push against cold water", "stopped by", "opens at"},
                      {}};
    for (auto const& zone : in_.zones) {
      auto const& emitter = in_.pieces[zone.emitter];
      auto const* c = circuit_with(emitter.ports.front());
      if (!c) continue;
      auto const density = [&](double kelvin) { return c->fluid->at(kelvin).density; };
      double const hot = in_.design_supply, height = std::max(0.0, height_of(emitter.ports.front())), warm = density(hot);
      double const running = thermosiphon(density(hot - zone.design_drop), warm, height),
                   standing = thermosiphon(density(zone.design_room), warm, height);
      std::string stop;
      double opens = 0;
      for (auto const& p : in_.pieces) {
        if (p.zone != zone.name) continue;
        double const weight = density(zone.design_room) * 9.80665;
        if (p.kind->name == ZoneValve::kind) stop = "zone valve", opens = Field::none;
        else if (p.kind->name == CheckValve::kind && !std::isnan(opens))
          stop = "flow check", opens += weight * *get<&CheckValve::opening_head>(p);
        else if (p.kind->name == Circulator::kind && get<&Circulator::check_valve>(p) && !std::isnan(opens))
          stop = stop.empty() ? "flow check in its circulator" : stop, opens += weight * *get<&Circulator::check_opening>(p);
      }
      table.rows.push_back({zone.name,
                            {height, measure::length},
                            {running, fine_pressure},
                            {standing, fine_pressure},
                            stop.empty() ? "nothing" : stop,
                            stop.empty() || std::isnan(opens) ? ReviewCell{""} : ReviewCell{opens, fine_pressure}});
      if (std::isnan(opens)) continue;
      if (!stop.empty()) {
        judge({"zone.check_opens",
               zone.name,
               "rising warm water pushes with",
               {"drive", standing, fine_pressure},
               {"opens_at", opens, fine_pressure},
               Judgement::at_most,
               say("where the {} opens", stop),
               "Use a flow check that opens at more, or a second one in the return.",
               Severity::minor,
               32});
        continue;
      }
      auto const [ghost, when] = moved_at_rest(zone, emitter);
      if (standing <= 0 && ghost < noticed) continue;
      double constexpr of_a_check = 0.5 * unit::psi.scale;
      bool const heavy = ghost > 0.2 * zone.wanted_flow;
      part_.find(
          {"zone.no_check",
           zone.name,
           heavy ? Severity::serious : Severity::minor,
           {{"drive", standing, fine_pressure}, {"flow", ghost, measure::flow}},
           Figure{"of_a_flow_check", of_a_check, fine_pressure},
           common_practice,
           say("no flow check and no zone valve. Warm water rises into the zone with {}{}", Amount{standing, fine_pressure},
               ghost < noticed ? Words() : say(", and {} flows through it while it is off ({})", Amount{ghost, measure::flow}, when)),
           30 + 20 * std::min(1.0, standing / of_a_check) + (heavy ? 25 : 0)},
          say("Add a flow check (opens at about {}), or a circulator with one built in.", Amount{of_a_check, fine_pressure}));
    }
    part_.tables.push_back(std::move(table));
  }
  /// The most that runs through a zone's emitter while it does not call [m³/s], and who calls then.
  std::pair<double, std::string> moved_at_rest(ZoneParts const& zone, Piece const& emitter) const {
    double most = 0;
    std::string when;
    for (auto const& s : job_.flows.states) {
      auto const* e = edge(s, emitter.name);
      if (!e || std::find(s.calls.begin(), s.calls.end(), zone.name) != s.calls.end() || std::abs(e->flow) <= most) continue;
      most = std::abs(e->flow), when = with(s);
    }
    return {most, when};
  }

  void valves() {
    std::vector<std::string> untold_purge, untold_isolation;
    for (auto const& t : job_.document.tables) {
      if (t.kind->name != "zone") continue;
      if (auto const purge = get<&ZoneSection::purge_valve>(t); purge == Statement::unknown) untold_purge.push_back(t.name);
      else if (purge == Statement::no)
        find("zone.no_purge", t.name, Severity::minor, "no purge valve on this zone. Air stays in it",
             "Add a ball valve with a hose drain ahead of it, in the zone return.", 24);
      if (auto const valves = get<&ZoneSection::isolation_valves>(t); valves == Statement::unknown) untold_isolation.push_back(t.name);
      else if (valves == Statement::no)
        find("zone.no_isolation", t.name, Severity::note, "no isolation valves. Every repair drains the whole system",
             "Add isolation valves in supply and return.", 8);
    }
    if (!untold_purge.empty()) missing(fmt::format("purge_valve in [[zone]]: {}", fmt::join(untold_purge, ", ")));
    if (!untold_isolation.empty()) missing(fmt::format("isolation_valves in [[zone]]: {}", fmt::join(untold_isolation, ", ")));
    struct Fitting {
      char const* id;
      Statement said;
      char const *key, *words;
      Severity severity;
      char const* fix;
      double order;
    };
    Fitting const fittings[]{
        {"boiler.no_isolation", safety_.boiler_isolation, "boiler_isolation", "isolation valves at the boiler", Severity::note,
         "Add isolation valves at its supply and return, never between boiler and relief valve.", 8},
        {"boiler.no_purge", safety_.boiler_purge, "boiler_purge", "purge valve in the boiler loop", Severity::minor,
         "Add a ball valve with a hose drain ahead of it, in the return.", 24},
        {"boiler.no_plate_flush", safety_.plate_flush, "plate_flush", "flush valves at the hot water heat exchanger", Severity::minor,
         "Add service valves with hose ports at the cold inlet and the hot outlet; hard water needs them most.", 19},
        {"drain.no_neutraliser", safety_.neutraliser, "neutraliser", "condensate neutralizer", Severity::minor,
         "Add a neutralizer and refill it each year: condensate (pH 3 to 5) eats concrete and cast iron.", 21},
        {"drain.no_air_gap", safety_.drain_air_gap, "drain_air_gap", "air gap at the drain", Severity::minor,
         "Add an air gap, so that a blocked drain cannot back up into the boiler.", 23}};
    std::vector<Words> seen;
    for (auto const& f : fittings) {
      if (f.said == Statement::yes) seen.push_back(f.words);
      else if (f.said == Statement::unknown) missing(say("{} in [safety]: {}", f.key, f.words));
      else find(f.id, "boiler", f.severity, say("no {}", f.words), f.fix, f.order);
    }
    if (!seen.empty()) part_.sentences.push_back(say("Stated in the file: {}.", listed(seen)));
  }

  /// The flows study tells them; under the flows only what weighs more is repeated.
  void slow_pipes() {
    for (auto const& f : job_.flows.findings)
      if (f.id == "pipe.slow") part_.findings.push_back(f);
  }

  void buffer() {
    auto const stated = section_of<BufferSection>(job_.document, job_.catalog);
    auto const size = section_of<SizeSection>(job_.document, job_.catalog);
    auto const& b = job_.run.burner;
    double const fire = is_stated(*stated.least_output) ? *stated.least_output : b.output_least;
    ZoneParts const* smallest = nullptr;
    for (auto const& z : in_.zones)
      if (z.room >= 0 && (!smallest || z.design_load < smallest->design_load)) smallest = &z;
    double const load = is_stated(*stated.load) ? *stated.load : smallest ? smallest->design_load : 0;
    double const swing = is_stated(*stated.swing) ? *stated.swing : *boiler_.on_below + *boiler_.off_above;
    if (fire <= 0) return missing("buffer tank: the burner never fired in the run, and least_output in [buffer] is not stated");
    auto const& c = circuits_.front();
    Fluid const water = c.fluid->at(c.temperature);
    double const wanted = buffer_size(*size.wanted_burn, fire, load, water.density * water.heat_capacity, swing);
    double has = 0;
    for (auto const& [zone, volume] : c.parts)
      if (zone.empty() || (smallest && zone == smallest->name)) has += volume;
    ReviewTable table{
        "buffer",
        "Buffer tank: volume = burn time × (minimum fire output − load) ÷ (heat per volume × swing)",
        {"burn needed", "minimum fire output", "load", "swing", "water needed", "water near the boiler and in the smallest zone"},
        {{{*size.wanted_burn, measure::minutes},
          {fire, measure::power},
          {load, measure::power},
          {swing, measure::temperature_change},
          {wanted, measure::volume},
          {has, measure::volume}}}};
    part_.tables.push_back(std::move(table));
    auto const met = b.burns.empty() ? Words("The run had no finished burn.")
                                     : say("In the run the shortest burn is {}, the median burn {}.",
                                           Amount{b.burn_shortest, measure::minutes}, Amount{b.burn_median, measure::minutes});
    bool const is_buffered = in_.part(Part::coupling) >= 0 &&
                             section_of<NearBoilerSection>(job_.document, job_.catalog).arrangement == NearBoilerSection::buffer;
    part_.sentences.push_back(say("For burns of {} against a load of {} the formula needs {} of water; there are {}. {}",
                                  Amount{*size.wanted_burn, measure::minutes}, Amount{load, measure::power},
                                  Amount{wanted, measure::volume}, Amount{has, measure::volume}, met));
    if (is_buffered)
      judge({"buffer.small",
             "tank",
             "buffer water",
             {"water", has, measure::volume},
             {"wanted", wanted, measure::volume},
             Judgement::at_least,
             say("for a {} burn (wanted_burn in [size]); heat balance of mixed water", Amount{*size.wanted_burn, measure::minutes}),
             "Use a larger buffer tank, a wider differential, or a lower minimum fire.",
             Severity::minor,
             38,
             met});
    part_.not_covered.push_back(
        "buffer formula: it takes the water as mixed and the load as constant; the run does not, and is nearer the truth");
  }

  void condensate() {
    auto const& e = job_.run.energy;
    ReviewTable table{"condensate", "Condensate by flue gas temperature", {"flue gas", "water from the fuel"}, {}};
    table.rows.push_back(
        {"all condensed",
         {boiler_.chemistry.water_amount * Combustion::water_molar_mass / boiler_.chemistry.higher_heating_value, water_per_fuel}});
    for (double const celsius : {30.0, 40.0, 50.0})
      table.rows.push_back(
          {{celsius + 273.15, measure::temperature}, {boiler_.chemistry.condensate(celsius + 273.15), water_per_fuel}});
    part_.tables.push_back(std::move(table));
    auto const flue = e.losses.find("flue");
    if (e.fuel <= 0 || flue == e.losses.end() || job_.run.duration <= 0) return;
    auto const& b = job_.run.burner;
    double const fire = b.time_firing > 0 ? std::clamp(e.fuel / (b.time_firing * boiler_.full), boiler_.least, 1.0) : 1;
    double const rise = job_.run.return_mean + boiler_.approach(fire) - Combustion::reference;
    double const each = b.time_condensing > 0 ? condensate_by_loss(boiler_.chemistry, flue->second / e.fuel, rise) : 0;
    double constexpr weight = 1000, day = 86400;
    part_.sentences.push_back(
        say("In the run {} of fuel gave {} of condensate, {} a day; condensing {} of firing time. Full fire with all water condensed "
            "gives {} a day.",
                    Amount{e.fuel, measure::fuel}, Amount{each * e.fuel / weight, measure::volume},
                    Amount{each * e.fuel / weight * day / job_.run.duration, measure::volume},
                    Amount{b.time_firing > 0 ? b.time_condensing / b.time_firing : 0, measure::share},
                    Amount{boiler_.full * day * boiler_.chemistry.water_amount * Combustion::water_molar_mass /
                             boiler_.chemistry.higher_heating_value / weight,
                         measure::volume}));
    part_.cautions.push_back(
        "Condensate is acid, and its trap blocks flue gas. A dry or missing trap lets carbon monoxide into the room: fill it before you "
        "fire.");
  }

  static constexpr double atmosphere = 101325;
  Job const& job_;
  Installation const& in_;
  SafetySection const safety_;
  Boiler boiler_;
  std::vector<Circuit> const circuits_;
  ReviewPart part_;
  std::set<std::string> untold_;
};

}  // namespace

ReviewPart review_piping(Job const& job) { return PipingReview{job}.write(); }

}  // namespace steadyfire
