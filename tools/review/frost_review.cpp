#include "tools/review/frost_review.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/emitters/indirect_tank.hpp"
#include "models/fluid/burst_protection.hpp"
#include "models/fluid/glycol.hpp"
#include "models/fluid/water.hpp"
#include "models/house/section_of.hpp"
#include "models/house/sections.hpp"
#include "models/pipe.hpp"
#include "models/piping/standing_pipe.hpp"
#include "tools/review/circuits.hpp"
#include "tools/review/water_sections.hpp"
#include "sim/core/finding.hpp"
#include "sim/study/flows_study.hpp"

namespace steadyfire {
namespace {

Measure constexpr heat_factor{Unit<HeatPerVolume::dimension>{"Btu/h per gpm.degF", unit::Btu_per_hour.scale / unit::gpm.scale * 1.8},
                              Unit<HeatPerVolume::dimension>{"kJ/(L.K)", 1e6}, 1, 3};
double constexpr margin = 5 / 1.8;  // [K] below the coldest met

class FrostReview {
public:
  explicit FrostReview(Job const& job) : job_{job}, in_{job.project.installation}, circuits_{circuits_of(in_)} {
    part_.id = "frost", part_.title = "Glycol and frost";
  }
  ReviewPart write() {
    cold_runs();
    for (auto const& c : circuits_) fluid(c);
    bool const has_glycol = std::any_of(circuits_.begin(), circuits_.end(), [](auto const& c) { return is_glycol(*c.fluid); });
    if (has_glycol) effect();
    if (colds_.empty())
      part_.missing.push_back("[[cold_run]]: pipes through an attic, crawl space or outside wall, where water may stand and freeze");
    part_.not_covered = {"inhibitors and their age, oxygen that enters through tube",
                         "wind through insulation; valves and bends, which lose more than pipe; heat held by insulation"};
    part_.reminders = {"Measure the strength of glycol by refractometer after a day of circulation."};
    if (has_glycol)
      part_.reminders.push_back("Glycol has no automatic fill: a feed tank with a low-level alarm makes up what is lost.");
    return std::move(part_);
  }

private:
  /// The least share by mass of which something holds that holds of all stronger ones.
  template <class F>
  static double least_share(F&& suffices) {
    for (int i = 0; i < 60; ++i)
      if (suffices(i / 100.0)) return i / 100.0;
    return 0.6;
  }
  static double share_of(FluidLaw const& glycol) {
    return least_share([&](double x) { return PropyleneGlycol{x}.freezing_point() <= glycol.coldest() + 1e-6; });
  }

  void cold_runs() {
    ReviewTable table{"cold_runs",
                      "Water at rest in the cold",
                      {"pipe", "air", "water at first", "time constant", "at rest", "water then", "first ice after"},
                      {}};
    double const rooms = in_.zones.empty() ? 294 : in_.zones.front().design_room;
    for (auto const& t : job_.document.tables) {
      if (t.kind->name != "cold run") continue;
      auto const run = fill<ColdRunSection>(t.values);
      StandingPipe pipe{};
      double const air = std::isnan(*run.air) ? in_.outdoor_design : *run.air, start = std::isnan(*run.water) ? rooms : *run.water;
      Water const water;
      FluidLaw const* law = &water;
      if (int const p = run.pipe.empty() ? -1 : in_.find(run.pipe); p >= 0) {
        auto made = fill<Pipe>(in_.pieces[p].values);
        made.prepare();
        for (auto const& c : circuits_)
          if (c.holds(in_.pieces[p].ports.front())) law = c.fluid.get(), colds_.emplace_back(c.name, air);
        pipe = {area(made.bore) * heat_of(*law, start) + made.metal_per_metre, made.loss_per_metre};
      } else {
        auto const size = find_pipe_size(run.size).value();
        colds_.emplace_back("", air);
        pipe = {area(size.inside_diameter) * heat_of(*law, start) + size.wall_heat_capacity_per_length,
                *run.insulation > 0 ? insulated_loss_per_metre(size.outside_diameter, *run.insulation, *run.insulation_conductivity)
                                    : bare_loss_per_metre(size.outside_diameter, 0.5, std::max(start, air + 1), air)};
      }
      double const ice = law->coldest(), end = pipe.temperature(start, air, *run.rest), lasts = pipe.time_to(ice, start, air);
      table.rows.push_back({t.name,
                            {air, measure::temperature},
                            {start, measure::temperature},
                            {pipe.time_constant(), measure::hours},
                            {*run.rest, measure::hours},
                            {end, measure::fine_temperature},
                            std::isfinite(lasts) ? ReviewCell{lasts, measure::hours} : ReviewCell{"never"}});
      part_.judge(
          {"pipe.freezes",
           t.name,
           say("{} at rest {} in {} air:", law->describe(), Amount{*run.rest, measure::hours}, Amount{air, measure::temperature}),
           {"temperature", end, measure::fine_temperature},
           {"first_ice", ice, measure::fine_temperature},
           Judgement::at_least,
           "its freezing point; time at rest is your input",
           "Keep it inside the insulation, keep it moving, or fill its circuit with glycol. Insulation only delays.",
           Severity::serious,
           82,
           std::isfinite(lasts) ? say("First ice after {}.", Amount{lasts, measure::hours}) : Words()});
    }
    if (!table.rows.empty()) part_.tables.push_back(std::move(table));
  }
  static double area(double bore) { return 3.14159265358979 / 4 * bore * bore; }
  static double heat_of(FluidLaw const& law, double kelvin) {
    Fluid const f = law.at(kelvin);
    return f.density * f.heat_capacity;
  }

  void fluid(Circuit const& c) {
    double lowest = Field::none;
    std::string where;
    auto const meets = [&](double kelvin, std::string place) {
      if (!(kelvin >= lowest)) lowest = kelvin, where = std::move(place);
    };
    for (int const p : c.pieces)
      if (in_.pieces[p].kind->name == "snow-melt slab") {
        meets(in_.outdoor_design, "outdoor design temperature at '" + in_.pieces[p].name + "'");
        if (job_.run.weather.hours > 0) meets(job_.run.weather.min, "outdoor temperature of the run at '" + in_.pieces[p].name + "'");
      }
    bool const glycol = is_glycol(*c.fluid);
    if (glycol) {
      for (auto const& [circuit, air] : colds_)
        if (circuit == c.name) meets(air, "the air of a cold run");
      drinking_water(c);
    }
    bool const must_flow = !std::isnan(lowest);  // where it is cold; else it only must not burst
    if (glycol && !must_flow) meets(in_.outdoor_design, "outdoor design temperature, as if the heat failed");
    if (std::isnan(lowest)) return;  // plain water in the warm; its cold runs are judged by time
    double const ice = c.fluid->coldest(), needed = lowest - margin, bursts = glycol ? burst_protection(share_of(*c.fluid)) : ice;
    bool const is_slush = glycol && !must_flow && bursts <= needed;
    Words fix = "Put the snow-melt slab on glycol, behind a plate heat exchanger.";
    if (glycol)
      fix = say("Use {} glycol by mass for freeze protection (it still flows); {} is enough for burst protection (slush, nothing breaks).",
                Amount{least_share([&](double x) { return PropyleneGlycol{x}.freezing_point() <= needed; }), measure::share},
                Amount{least_share([&](double x) { return burst_protection(x) <= needed; }), measure::share});
    Words after;
    if (glycol)
      after = say("Burst protection to {}{}.", Amount{bursts, measure::temperature},
                  is_slush ? ": nothing breaks, but as slush it does not flow until it thaws" : "");
    part_.judge(
        {"glycol.weak",
         c.name,
         say("{} freezes at", c.fluid->describe()),
         {"first_ice", ice, measure::fine_temperature},
         {"needed", needed, measure::fine_temperature},
         Judgement::at_most,
         say("{} below the coldest: {}; {}", Amount{margin, measure::temperature_change}, where, common_practice),
         fix,
         is_slush ? Severity::minor : Severity::serious,
         83,
         after});
  }

  /// Where only one wall parts a treated fluid from drinking water.
  void drinking_water(Circuit const& c) {
    std::vector<Words> where;
    for (int const p : c.pieces)
      if (p == in_.part(Part::plates)) where.push_back("the heat exchanger for hot water");
      else if (auto const& piece = in_.pieces[std::size_t(p)]; piece.kind->name == IndirectTank::kind)
        where.push_back("the coil of '" + piece.name + "'");
    if (where.empty()) return;
    auto const said = section_of<SafetySection>(job_.document, job_.catalog).double_wall;
    if (said == Statement::yes) {
      part_.sentences.push_back("A double-wall heat exchanger between glycol and drinking water is stated in the file.");
      return;
    }
    part_.find({"glycol.potable",
                c.name,
                said == Statement::no ? Severity::serious : Severity::minor,
                {},
                std::nullopt,
                "plumbing codes, edition not checked",
                say("glycol in {} meets drinking water at {}{}", c.name, listed(where),
                    said == Statement::no ? ", behind a single wall" : "; it is not stated how many walls separate them"),
                81},
               "Use a double-wall heat exchanger with a vented gap, or keep glycol behind a plate heat exchanger of its own. The "
               "local code decides.");
  }

  /// The same house with water in all its circuits, every zone calling.
  void effect() {
    ReviewTable fluids{"glycol",
                       "What glycol costs",
                       {"circuit", "fluid", "first ice", "no burst down to", "at", "heat carried", "of water"},
                       {}};
    for (auto const& c : circuits_) {
      Fluid const f = c.fluid->at(c.temperature), w = Water{}.at(c.temperature);
      fluids.rows.push_back({c.name,
                             c.fluid->describe(),
                             {c.fluid->coldest(), measure::fine_temperature},
                             {is_glycol(*c.fluid) ? burst_protection(share_of(*c.fluid)) : c.fluid->coldest(), measure::temperature},
                             {c.temperature, measure::temperature},
                             {f.density * f.heat_capacity, heat_factor},
                             {w.density * w.heat_capacity, heat_factor}});
    }
    part_.tables.push_back(std::move(fluids));
    auto with_water = in_;
    with_water.own_fluids.clear(), with_water.fluid = std::make_shared<Water>();
    FlowsOptions options;
    options.ground = job_.project.ground, options.unheated = job_.project.unheated;
    options.calls.emplace_back();
    for (auto const& z : in_.zones) options.calls.back().push_back(z.name);
    try {
      auto const glycol = study_flows(in_, options), water = study_flows(with_water, options);
      ReviewTable zones{"glycol_zones",
                        "Every zone calling, design day",
                        {"zone", "flow", "flow with water", "room (heat always on)", "room with water"},
                        {}};
      auto const &a = glycol.states.front().zones, &b = water.states.front().zones;
      for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i)
        zones.rows.push_back({a[i].name,
                              {a[i].got, measure::flow},
                              {b[i].got, measure::flow},
                              {a[i].room, measure::fine_temperature},
                              {b[i].room, measure::fine_temperature}});
      part_.tables.push_back(std::move(zones));
    } catch (Stopped const& stopped) { part_.not_covered.push_back(std::string{"the same house with water: "} + stopped.what()); }
  }

  Job const& job_;
  Installation const& in_;
  std::vector<Circuit> const circuits_;
  std::vector<std::pair<std::string, double>> colds_;  ///< circuit of each cold run, and its air
  ReviewPart part_;
};

}  // namespace

ReviewPart review_frost(Job const& job) { return FrostReview{job}.write(); }

}  // namespace steadyfire
