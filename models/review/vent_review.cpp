#include "models/review/vent_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "models/fluid/saturation.hpp"
#include "models/gas/gas_line.hpp"
#include "models/house/section_of.hpp"
#include "models/venting/atmosphere.hpp"
#include "models/venting/room_air.hpp"
#include "models/venting/vent_sections.hpp"

namespace steadyfire {
namespace {

constexpr char const* fuel_gas_code = "NFPA 54 and IFGC, from memory; the local code decides";

class VentReview {
 public:
  explicit VentReview(Job const& job) : job_{job}, stated_{job.document.find(VentSection::kind)} {}

  ReviewPart part() {
    part_.id = "vent", part_.title = "Vent and intake";
    say_what_is_left();
    if (!stated_) {
      part_.missing.push_back("no [vent] is stated: nothing of vent and intake was checked");
      return std::move(part_);
    }
    vent_ = fill<VentSection>(stated_->values);
    judge_lengths();
    judge_material();
    judge_site();
    judge_room_air();
    judge_ends();
    return std::move(part_);
  }

 private:
  std::string tell(double si, Measure const& m) const { return show(si, m, job_.units); }
  static bool is_stated(Value const& v) { return v.given && !v.unknown; }

  // --- lengths ---------------------------------------------------------------
  void judge_lengths() {
    part_.tables.push_back({"vent_runs",
                            "Vent and intake",
                            {"run", "straight", "fittings", "equivalent length", "least by its manual", "most by its manual"},
                            {}});
    judge_run("exhaust", vent_.exhaust);
    if (vent_.intake) judge_run("intake", vent_.intake);
    else if (vent_.system == VentSection::two_pipes)
      part_.missing.push_back("the intake of [vent] is not stated, though air and flue gas have two pipes");
    tell_equivalents();
  }

  void judge_run(char const* name, Entry const& entry) {
    auto const run = fill<VentRun>(entry.values);
    VentFittings const n{run.elbows, run.short_elbows, run.long_elbows, run.elbows_45, run.terminations};
    double const length = vent_equivalent_length(
        *run.length, n, {*vent_.elbow, *vent_.short_elbow, *vent_.long_elbow, *vent_.elbow_45, *vent_.termination});
    part_.tables[0].rows.push_back({name,
                                    {*run.length, measure::vent_length},
                                    {length - *run.length, measure::vent_length},
                                    {length, measure::vent_length},
                                    {*run.shortest, measure::vent_length},
                                    {*run.longest, measure::vent_length}});
    Judgement too_long{.id = "vent.too_long",
                       .place = name,
                       .subject = fmt::format("equivalent length of the {}, {} straight and {} for its fittings", name,
                                              tell(*run.length, measure::vent_length), tell(length - *run.length, measure::vent_length)),
                       .actual = {"equivalent_length", length, measure::vent_length},
                       .limit = {"longest", *run.longest, measure::vent_length},
                       .whose = users_manual,
                       .fix = "a shorter way, fewer or wider elbows, or the next diameter if the manual has one",
                       .order = 70};
    if (std::isnan(*run.longest)) {
      double const usual = usual_longest_vent(*vent_.diameter);
      part_.missing.push_back(fmt::format("'longest' of the {} is not stated: {}", name,
                                          usual > 0 ? "held against trade practice for its diameter instead" : "its manual has it"));
      too_long.limit.value = usual, too_long.whose = common_practice, too_long.severity = Severity::minor;
      too_long.fix = "look the most length up in the manual, which governs; else a shorter way or the next diameter";
      if (usual > 0) part_.judge(too_long);
    } else {
      part_.judge(too_long);
    }
    if (std::isnan(*run.shortest)) {
      part_.missing.push_back(fmt::format("'shortest' of the {} is not stated: some manuals ask for a least length", name));
      return;
    }
    part_.judge({.id = "vent.too_short",
                 .place = name,
                 .subject = fmt::format("equivalent length of the {}", name),
                 .actual = {"equivalent_length", length, measure::vent_length},
                 .limit = {"shortest", *run.shortest, measure::vent_length},
                 .sense = Judgement::at_least,
                 .whose = users_manual,
                 .fix = "more pipe or elbows, as the manual has it",
                 .order = 65});
  }

  /// Of fittings that are there, and whose lengths nobody stated.
  void tell_equivalents() {
    for (auto const& [key, counted] : {std::pair{"elbow_length", "elbows"}, {"short_elbow_length", "short_elbows"},
                                       {"long_elbow_length", "long_elbows"}, {"elbow_45_length", "elbows_45"},
                                       {"termination_length", "terminations"}}) {
      auto const has_some = [&, counted = counted](Entry const& run) { return run && value_under(run, counted).numbers.at(0) > 0; };
      auto const& v = value_under(*stated_, key);
      if (is_stated(v) || (!has_some(vent_.exhaust) && !has_some(vent_.intake))) continue;
      auto const& fields = stated_->kind->fields;
      auto const field = std::find_if(fields.begin(), fields.end(), [key = key](auto const& f) { return f.key == key; });
      part_.missing.push_back(fmt::format("{} is not stated: {} is taken for each, usual are {} to {} ft ({})", key,
                                          tell(v.numbers.at(0), measure::vent_length), field->low, field->high, field->typical_source));
    }
  }

  // --- material --------------------------------------------------------------
  void judge_material() {
    auto const& boiler = *job_.document.find("boiler");
    double const approach = value_under(boiler, "approach_full_fire").numbers.at(0);
    double const least = value_under(boiler, "approach_low_fire").numbers.at(0);
    auto const& material = vent_materials.at(vent_.material);
    bool const by_maker = !std::isnan(*vent_.material_limit);
    double const limit = by_maker ? *vent_.material_limit : material.most;
    ReviewTable table{"vent_flue_gas",
                      "Flue gas at the boiler",
                      {"when", "water entering the boiler", "flue gas at its lowest fire", "flue gas at full fire"},
                      {}};
    if (!is_stated(value_under(boiler, "approach_full_fire")))
      part_.missing.push_back(fmt::format("approach_full_fire of [boiler] is not stated: flue gas is taken {} above the water that enters",
                                          tell(approach, measure::temperature_change)));
    if (limit <= 0) part_.missing.push_back("material_limit of [vent] is not stated: the maker of the vent has it");
    auto const judge = [&](std::string const& when, std::string const& of_when, double water, double order) {
      table.rows.push_back(
          {when, {water, measure::temperature}, {water + least, measure::temperature}, {water + approach, measure::temperature}});
      if (limit <= 0) return;
      part_.judge({.id = "vent.too_hot",
                   .place = "exhaust",
                   .subject = fmt::format("flue gas in {} {}, water entering at {} and full fire", material.name, of_when,
                                          tell(water, measure::temperature)),
                   .actual = {"flue_gas", water + approach, measure::temperature},
                   .limit = {"material_limit", limit, measure::temperature},
                   .whose = by_maker ? "the vent's maker (your input)" : std::string(material.whose),
                   .fix = cooler(water + approach, limit - approach),
                   .order = order});
    };
    FlowState const* hottest = nullptr;
    for (auto const& s : job_.flows.states)
      if (!s.calls.empty() && s.boiler_flow > 0 && (!hottest || s.boiler_return > hottest->boiler_return)) hottest = &s;
    if (hottest) {
      auto const calls = fmt::format("{}", fmt::join(hottest->calls, ", "));
      judge("at design, " + calls + " calling", "at design with " + calls + " calling", hottest->boiler_return, 92);
    }
    if (job_.run.burner.time_firing > 0) judge("in the run, at most", "in the run, at most", job_.run.return_max, 91);
    else part_.missing.push_back("the burner never fired in the run: flue gas is judged at design only");
    part_.tables.push_back(std::move(table));
  }

  /// What would bear flue gas of that temperature, or water cool enough for what is there.
  std::string cooler(double flue, double water) const {
    std::vector<std::string_view> names;
    for (auto const& m : vent_materials)
      if (m.most >= flue || m.most == 0) names.push_back(m.name);
    return fmt::format("a vent of {}, if the boiler's manual lists it, or emitters that send back water below {}", fmt::join(names, ", "),
                       tell(water, measure::temperature));
  }

  // --- altitude --------------------------------------------------------------
  void judge_site() {
    if (std::isnan(*vent_.altitude)) {
      part_.missing.push_back("altitude of [vent] is not stated: input, air and boiling point are as at the sea");
      return;
    }
    auto const& boiler = *job_.document.find("boiler");
    auto const air = standard_air(*vent_.altitude), sea = standard_air(0);
    double const boils = saturation_temperature(air.pressure), input = value_under(boiler, "heating_input").numbers.at(0);
    double constexpr usual_fill = 12 * 6894.757293168;  // gauge, common practice
    double const steps = std::max(0.0, (*vent_.altitude - *vent_.derate_above) / (1000 * unit::foot.scale));
    double const derated = std::isnan(*vent_.derate) ? Field::none : input * std::max(0.0, 1 - steps * *vent_.derate);
    part_.tables.push_back({"site_air",
                            "Air and water at the site, on a standard day",
                            {"altitude", "air pressure", "air density", "of that at the sea", "open water boils at",
                             "water boils at 12 psi gauge", "most input there"},
                            {{{*vent_.altitude, measure::length},
                              {air.pressure, measure::air_pressure},
                              {air.density, measure::air_density},
                              {air.density / sea.density, measure::fine_share},
                              {boils, measure::fine_temperature},
                              {saturation_temperature(air.pressure + usual_fill), measure::fine_temperature},
                              {derated, measure::power}}}});
    part_.judge({.id = "vent.high_limit_boils",
                 .place = "boiler",
                 .subject =
                     fmt::format("high limit of the boiler against open water's boiling at {}", tell(*vent_.altitude, measure::length)),
                 .actual = {"high_limit", value_under(boiler, "high_limit").numbers.at(0), measure::temperature},
                 .limit = {"boiling", boils, measure::temperature},
                 .whose = "IAPWS R7-97 for the boiling point, standard atmosphere ISO 2533",
                 .fix = "a lower high limit: where the installation loses its pressure, this water turns to steam",
                 .severity = Severity::minor,
                 .order = 30});
    if (std::isnan(derated)) {
      part_.missing.push_back("derate_per_1000_ft of [vent] is not stated: what the boiler gives at that altitude is not known");
      return;
    }
    double load = 0;
    for (auto const& z : job_.project.installation.zones) load += z.design_load;
    if (job_.run.energy.fuel <= 0) return;
    double const efficiency = efficiency_of_run();
    part_.judge({.id = "vent.altitude_short",
                 .place = "boiler",
                 .subject = fmt::format("heat that it gives at {} with {} of input, at the run's efficiency of {}",
                                        tell(*vent_.altitude, measure::length), tell(derated, measure::power),
                                        tell(efficiency, measure::share)),
                 .actual = {"output", derated * efficiency, measure::power},
                 .limit = {"design_load", load, measure::power},
                 .sense = Judgement::at_least,
                 .whose = "the design loads; the derate is the manual's (your input)",
                 .fix = "a larger heating size, or a smaller heat loss",
                 .order = 75});
  }
  /// Of the burner: what does not leave by the flue.
  double efficiency_of_run() const {
    auto const flue = job_.run.energy.losses.find("flue");
    return 1 - (flue == job_.run.energy.losses.end() ? 0 : flue->second) / job_.run.energy.fuel;
  }

  // --- air from the room -----------------------------------------------------
  void judge_room_air() {
    if (vent_.system != VentSection::room_air) return;
    double const input = room_input();
    bool const has_openings = !std::isnan(*vent_.opening), has_volume = !std::isnan(*vent_.room_volume);
    if (!has_openings && !has_volume) {
      part_.missing.push_back(fmt::format("room_volume of [vent] is not stated: {} of input want {}, or openings",
                                          tell(input, measure::power), tell(room_volume_wanted(input), measure::room_volume)));
      return;
    }
    bool const room_suffices = has_volume && *vent_.room_volume >= room_volume_wanted(input);
    double const wanted = opening_wanted(input, OpeningWay(vent_.opening_way));
    if (has_openings && !room_suffices) {
      part_.judge({.id = "vent.openings_small",
                   .place = "room",
                   .subject = fmt::format("free area of each opening that brings air for {} of input", tell(input, measure::power)),
                   .actual = {"opening", *vent_.opening, measure::opening},
                   .limit = {"opening_wanted", wanted, measure::opening},
                   .sense = Judgement::at_least,
                   .whose = fuel_gas_code,
                   .fix = "larger openings (louvers count by their free area), or air by a pipe of its own",
                   .order = 97});
      return;
    }
    part_.judge({.id = "vent.room_small",
                 .place = "room",
                 .subject = fmt::format("volume of the room that gives the air for {} of input", tell(input, measure::power)),
                 .actual = {"room_volume", *vent_.room_volume, measure::room_volume},
                 .limit = {"room_volume_wanted", room_volume_wanted(input), measure::room_volume},
                 .sense = Judgement::at_least,
                 .whose = std::string("50 ft3 per 1000 Btu/h, ") + fuel_gas_code,
                 .fix = fmt::format("two openings outdoors of {} each, or an intake pipe",
                                       tell(opening_wanted(input, OpeningWay::vertical), measure::opening)),
                 .order = 97});
  }

  double room_input() {
    if (!std::isnan(*vent_.room_input)) return *vent_.room_input;
    Diagnostics ignored;  // told when the file was read
    auto const line = gas_line_of(job_.document.tables, ignored);
    double input = 0;
    for (auto const& b : line.burners) input += b.input;
    if (input == 0) input = most_input(*job_.document.find("boiler"));
    part_.missing.push_back(fmt::format("room_input of [vent] is not stated: {} is taken, {}", tell(input, measure::power),
                                        line.burners.empty() ? "the boiler's alone" : "that of all gas appliances"));
    return input;
  }

  // --- where they end --------------------------------------------------------
  void judge_ends() {
    bool const direct = vent_.system != VentSection::room_air;
    double const input = most_input(*job_.document.find("boiler")) / unit::kBtu_per_hour.scale;
    double const inches = !direct ? 48 : input > 50 ? 12 : input > 10 ? 9 : 6;
    if (std::isnan(*vent_.opening_distance)) part_.missing.push_back("window_distance of [vent] is not stated: measure it on site");
    else
      part_.judge({.id = "vent.near_opening",
                   .place = "exhaust",
                   .subject = "distance from the exhaust's end to the nearest door, window or opening",
                   .actual = {"distance", *vent_.opening_distance, measure::gap},
                   .limit = {"least_distance", unit::inch.to_si(inches), measure::gap},
                   .sense = Judgement::at_least,
                   .whose = fuel_gas_code,
                   .fix = "another place for the end; the manual may ask for more",
                   .order = 96});
    if (std::isnan(*vent_.height) || std::isnan(*vent_.snow)) {
      part_.missing.push_back("height and snow of [vent] are not both stated: the ends must stay clear of snow");
      return;
    }
    part_.judge({.id = "vent.in_snow",
                 .place = "exhaust",
                 .subject = "height of the ends above the ground, where they must clear the snow by a foot",
                 .actual = {"height", *vent_.height, measure::gap},
                 .limit = {"least_height", *vent_.snow + unit::inch.to_si(12), measure::gap},
                 .sense = Judgement::at_least,
                 .whose = common_practice,
                 .fix = "ends higher on the wall, or through the roof",
                 .order = 68});
  }

  void say_what_is_left() {
    part_.cautions = {"Carbon monoxide kills, without smell. A vent is laid and tried by those licensed to; the appliance's manual, the "
                      "vent maker's and the local code decide, not this program."};
    part_.not_covered = {"draft, fan pressure and the boiler's own reaction to a long vent beyond its equivalent length",
                         "vents that several appliances share, and vents of other appliances than the boiler",
                         "the vent of a second boiler",
                         "condensation and freezing inside the vent and at its end",
                         "listing of the vent with this appliance, its primer, cement and gaskets",
                         "exhaust fans, dryers and fireplaces that draw the room's air"};
    part_.reminders = {"clearances of the ends to doors, windows, corners, gas meters, walks and the neighbor, by manual and code",
                       "both ends above the deepest snow, and apart as the manual asks, so that flue gas is not drawn in again",
                       "the intake away from a dryer vent, from laundry, paint and pool chemicals: chlorine eats heat exchangers",
                       "a screen against birds and rodents, if the manual allows one",
                       "slope back to the boiler, usually 1/4 in a foot, without a sag where condensate stands",
                       "the condensate drain: trap filled, fall, neutralizer, frost",
                       "support every few feet, and room for the vent to grow when hot",
                       "carbon-monoxide alarms near the bedrooms and on each floor"};
  }

  Job const& job_;
  Entry const* stated_;
  VentSection vent_{};
  ReviewPart part_;
};

}  // namespace

ReviewPart review_vent(Job const& job) { return VentReview{job}.part(); }

}  // namespace steadyfire
