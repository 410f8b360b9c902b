#include "tools/review/vent_review.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "models/house/boiler_of.hpp"
#include "models/boiler.hpp"
#include "models/fluid/saturation.hpp"
#include "models/gas/gas_line.hpp"
#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/deliverable.hpp"
#include "models/hot_water/hot_water_control.hpp"
#include "models/house/section_of.hpp"
#include "models/pressure/fill.hpp"
#include "models/venting/atmosphere.hpp"
#include "models/venting/room_air.hpp"
#include "models/venting/vent_sections.hpp"

namespace steadyfire {
namespace {

constexpr char const* fuel_gas_code = "NFPA 54 and IFGC, edition not checked; the local code decides";

class VentReview {
 public:
  explicit VentReview(Job const& job)
      : job_{job}, stated_{job.document.find(VentSection::kind)}, boiler_{boiler_of(job.project.installation)} {}

  ReviewPart part() {
    part_.id = "vent", part_.title = "Vent and intake";
    say_what_is_left();
    if (!stated_) {
      part_.missing.push_back("no [vent]: vent and intake were not checked");
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
  static bool is_stated(Value const& v) { return v.given && !v.unknown; }

  // --- lengths ---------------------------------------------------------------
  void judge_lengths() {
    part_.tables.push_back({"vent_runs",
                            "Vent and intake",
                            {"run", "straight", "fittings", "equivalent length", "minimum by its manual", "limit by its manual"},
                            {}});
    judge_run("exhaust", vent_.exhaust);
    if (vent_.intake) judge_run("intake", vent_.intake);
    else if (vent_.system == VentSection::two_pipes)
      part_.missing.push_back("intake in [vent], though air and flue gas have two pipes");
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
                       .subject = "equivalent length",
                       .actual = {"equivalent_length", length, measure::vent_length},
                       .limit = {"longest", *run.longest, measure::vent_length},
                       .whose = users_manual,
                       .fix = "Use a shorter route, fewer or long-sweep elbows, or the next diameter if the manual lists it.",
                       .order = 70,
                       .consequence = say("That is {} straight and {} of fittings.", Amount{*run.length, measure::vent_length},
                                          Amount{length - *run.length, measure::vent_length})};
    if (std::isnan(*run.longest))
      part_.missing.push_back(say("{}: not checked against a limit. 'longest' from its manual is not in the file; it has {}. Manuals "
                                  "differ widely, for orientation only: {}",
                                  name, Amount{length, measure::vent_length}, orientation()));
    else part_.judge(too_long);
    if (std::isnan(*run.shortest)) {
      part_.missing.push_back(say("'shortest' of the {}: some manuals ask for a minimum length", name));
      return;
    }
    part_.judge({.id = "vent.too_short",
                 .place = name,
                 .subject = "equivalent length",
                 .actual = {"equivalent_length", length, measure::vent_length},
                 .limit = {"shortest", *run.shortest, measure::vent_length},
                 .sense = Judgement::at_least,
                 .whose = users_manual,
                 .fix = "Add pipe or elbows as the manual says.",
                 .order = 65});
  }

  /// "2 in 30 to 100 ft, 3 in …".
  static Words orientation() {
    std::vector<Words> pairs;
    for (auto const& v : usual_vent_limits)
      pairs.push_back(say("{} {} to {}", InEach{fmt::format("{:.0f} in", v.diameter), fmt::format("{:.0f} mm", v.diameter * 25)},
                          InEach{fmt::format("{:.0f}", v.least), fmt::format("{:.0f}", v.least * unit::foot.scale)},
                          InEach{fmt::format("{:.0f} ft", v.most), fmt::format("{:.0f} m", v.most * unit::foot.scale)}));
    return listed(pairs, ", ");
  }

  /// Of fittings that are there, and whose lengths nobody stated.
  void tell_equivalents() {
    tell_equivalent<&VentSection::elbow, &VentRun::elbows>();
    tell_equivalent<&VentSection::short_elbow, &VentRun::short_elbows>();
    tell_equivalent<&VentSection::long_elbow, &VentRun::long_elbows>();
    tell_equivalent<&VentSection::elbow_45, &VentRun::elbows_45>();
    tell_equivalent<&VentSection::termination, &VentRun::terminations>();
  }
  template <auto Each, auto Count>
  void tell_equivalent() {
    auto const has_some = [](Entry const& run) { return run && get<Count>(run) > 0; };
    auto const& v = value_of<Each>(*stated_);
    if (is_stated(v) || (!has_some(vent_.exhaust) && !has_some(vent_.intake))) return;
    auto const& f = field_of<Each>(*stated_->kind);
    part_.missing.push_back(say("{}: assumed {} each, usual {} to {} ({})", f.key, Amount{v.numbers.at(0), measure::vent_length},
                                Amount{f.unit.to_si(f.low), measure::vent_length}, Amount{f.unit.to_si(f.high), measure::vent_length},
                                f.typical_source));
  }

  // --- material --------------------------------------------------------------
  /// Return water and firing rate of one moment.
  struct FlueMoment {
    double water = 0, fire = 0;  ///< [K], share of the largest input
    Words when, calling;
  };

  void judge_material() {
    auto const& material = vent_materials.at(vent_.material);
    bool const by_maker = !std::isnan(*vent_.material_limit);
    double const limit = by_maker ? *vent_.material_limit : material.most;
    ReviewTable table{"vent_flue_gas", "Flue gas at the boiler, firing rate and return water of one moment",
                      {"when", "return water", "firing rate", "flue gas"}, {}};
    auto const& boiler = *job_.document.find("boiler");
    if (!is_stated(value_of<&Boiler::approach_full>(boiler)))
      part_.missing.push_back(say("approach_full_fire in [boiler]: assumed flue gas {} above the return water at full fire",
                                  Amount{*boiler_.approach_full, measure::temperature_change}));
    if (limit <= 0) part_.missing.push_back("material_limit in [vent], from the vent maker");
    double order = 93;
    for (auto const& moment : {at_design(), in_run(), at_full_hot_water()}) {
      --order;
      if (!moment) continue;
      double const above = boiler_.approach(moment->fire), flue = moment->water + above;
      table.rows.push_back({moment->when,
                            {moment->water, measure::temperature},
                            {moment->fire, measure::share},
                            {flue, measure::temperature}});
      if (limit <= 0) continue;
      part_.judge({.id = "vent.too_hot",
                   .place = "exhaust",
                   .subject = say("flue gas in {} {}", material.name, moment->when),
                   .actual = {"flue_gas", flue, measure::temperature},
                   .limit = {"material_limit", limit, measure::temperature},
                   .whose = by_maker ? Words("vent maker, your input") : Words(material.whose),
                   .fix = cooler(flue, limit - above),
                   .order = order,
                   .consequence = say("Return water {}, firing rate {}{}.", Amount{moment->water, measure::temperature},
                                      Amount{moment->fire, measure::share}, moment->calling)});
    }
    part_.tables.push_back(std::move(table));
  }

  /// The combination of calls with the hottest flue gas on the design day: the burner gives what the zones take, or its minimum.
  std::optional<FlueMoment> at_design() const {
    std::optional<FlueMoment> hottest;
    for (auto const& s : job_.flows.states) {
      if (s.calls.empty() || s.boiler_flow <= 0) continue;
      double const fire = fire_for(s.boiler_heat, s.boiler_return);
      if (hottest && s.boiler_return + boiler_.approach(fire) <= hottest->water + boiler_.approach(hottest->fire)) continue;
      hottest = FlueMoment{s.boiler_return, fire, "on the design day", say(", {} calling", s.calling)};
    }
    return hottest;
  }
  /// Firing rate whose output is that heat [W]; efficiency falls slowly with it, so a few passes settle it.
  double fire_for(double heat, double water) const {
    double fire = boiler_.least;
    for (int pass = 0; pass < 8; ++pass)
      fire = std::clamp(heat / (boiler_.full * boiler_.efficiency(fire, water)), boiler_.least, boiler_.most);
    return fire;
  }

  /// Of the run: the hottest that return and fire of one bin of time make. Without its track the hottest return at full fire, which is
  /// the most that it can have been.
  std::optional<FlueMoment> in_run() {
    if (!(job_.run.burner.time_firing > 0)) {
      part_.missing.push_back("flue gas in the run: the burner never fired, so it is judged on the design day and for hot water only");
      return {};
    }
    auto const channel = [&](std::string_view id) -> Channel const* {
      auto const& all = job_.run.whole.channels;
      auto const at = std::find_if(all.begin(), all.end(), [&](auto const& c) { return c.id == id; });
      return at == all.end() ? nullptr : &*at;
    };
    auto const *water = channel("boiler/return"), *fire = channel("boiler/fire");
    FlueMoment hottest{job_.run.return_max, boiler_.lowest(), "in the run", ""};
    if (!water || !fire) {
      hottest.fire = 1;
      return hottest;
    }
    double most = 0;
    for (std::size_t i = 0; i < std::min(water->most.size(), fire->most.size()); ++i) {
      if (!(fire->most[i] > 0)) continue;
      double const flue = double(water->most[i]) + boiler_.approach(double(fire->most[i]));
      if (flue > most) most = flue, hottest.water = double(water->most[i]), hottest.fire = double(fire->most[i]);
    }
    return hottest;
  }

  /// A combi at full fire for hot water and in balance, whether taps are stated or not: boiler water leaves the plates as warm as they
  /// must have it to give the whole output to water that leaves at the setpoint.
  std::optional<FlueMoment> at_full_hot_water() {
    auto const& in = job_.project.installation;
    int const plates_at = in.part(Part::plates), main_at = in.part(Part::cold_main), control_at = in.part(Part::hot_water_control);
    if (plates_at < 0 || main_at < 0 || control_at < 0) {
      if (is_stated(value_of<&Boiler::dhw_input>(*job_.document.find("boiler"))))
        part_.missing.push_back("flue gas while making hot water: no [hot_water], so the return from its heat exchanger is unknown");
      return {};
    }
    auto const plates = fill<PlateExchanger>(in.pieces[std::size_t(plates_at)].values);
    auto const& main = in.pieces[std::size_t(main_at)];
    double const warmest_cold = *get<&ColdMain::mean>(main) + *get<&ColdMain::swing>(main),
                 set_point = *get<&HotWaterControl::set_point>(in.pieces[std::size_t(control_at)]);
    double const measured = job_.run.hot_water ? job_.run.hot_water->plates_flow : 0, flow = measured > 0 ? measured : *plates.rated_flow;
    PlatesAtHand const at_hand{plates, flow, *boiler_.high_limit, in.fluid->at(in.fluid_temperature)};
    double const rate = flow * at_hand.boiler_water.density * at_hand.boiler_water.heat_capacity;
    FlueMoment moment{set_point, boiler_.dhw_most, "making hot water at full fire", ""};
    for (int pass = 0; pass < 8; ++pass) {
      double const heat = boiler_.full * moment.fire * boiler_.efficiency(moment.fire, moment.water),
                   drawn = flow_for(heat, warmest_cold, set_point),
                   per_kelvin = heat_of_plates(at_hand, drawn, warmest_cold) / (at_hand.hottest - warmest_cold);
      double const supply = per_kelvin > 0 ? std::min(at_hand.hottest, warmest_cold + heat / per_kelvin) : at_hand.hottest;
      moment.water = std::max(warmest_cold, supply - heat / rate);
    }
    return moment;
  }

  /// What would bear flue gas of that temperature, or water cool enough for what is there.
  static Words cooler(double flue, double water) {
    std::vector<Words> names;
    for (auto const& m : vent_materials)
      if (m.most >= flue || m.most == 0) names.push_back(m.name);
    return say("Use a vent of {} if the boiler manual lists it, or emitters that return water below {}.",
               listed(names, " or "), Amount{water, measure::temperature});
  }

  // --- altitude --------------------------------------------------------------
  void judge_site() {
    double const altitude = *boiler_.altitude;  // [boiler]'s own, else that of [vent]
    if (std::isnan(altitude)) {
      part_.missing.push_back("altitude in [vent]: assumed sea level for input, air and boiling point");
      return;
    }
    auto const air = standard_air(altitude), sea = standard_air(0);
    double const boils = saturation_temperature(air.pressure);
    bool const knows_derate = !std::isnan(*boiler_.derate);
    double const derated = knows_derate ? *boiler_.heating_input : Field::none;
    part_.tables.push_back({"site_air",
                            "Air and water at the site, on a standard day",
                            {"altitude", "air pressure", "air density", "of that at sea level", "water boils without pressure at",
                             "usual fill (gauge)", "water boils then at", "full input there"},
                            {{{altitude, measure::length},
                              {air.pressure, measure::air_pressure},
                              {air.density, measure::air_density},
                              {air.density / sea.density, measure::fine_share},
                              {boils, measure::fine_temperature},
                              {least_usual_fill, measure::pressure},
                              {saturation_temperature(air.pressure + least_usual_fill), measure::fine_temperature},
                              {derated, measure::power}}}});
    part_.judge({.id = "vent.high_limit_boils",
                 .place = "boiler",
                 .subject = "high limit",
                 .actual = {"high_limit", *boiler_.high_limit, measure::temperature},
                 .limit = {"boiling", boils, measure::temperature},
                 .whose = say("water boils there without pressure at {} altitude; IAPWS R7-97 and ISO 2533",
                              Amount{altitude, measure::length}),
                 .fix = "Lower the high limit.",
                 .severity = Severity::minor,
                 .order = 30,
                 .consequence = "If the system loses its pressure, this water flashes to steam."});
    if (!knows_derate) {
      part_.missing.push_back("derate_per_1000_ft in [vent], from the manual: output at that altitude is unknown");
      return;
    }
    double load = 0;
    for (auto const& z : job_.project.installation.zones) load += z.design_load;
    if (job_.run.energy.fuel <= 0) return;
    double const efficiency = efficiency_of_run();
    part_.judge({.id = "vent.altitude_short",
                 .place = "boiler",
                 .subject = say("output at {} altitude", Amount{altitude, measure::length}),
                 .actual = {"output", derated * efficiency, measure::power},
                 .limit = {"design_load", load, measure::power},
                 .sense = Judgement::at_least,
                 .whose = "your design load",
                 .fix = "Choose a larger boiler, or lower the heat loss.",
                 .order = 75,
                 .consequence = say("Input {} by the manual's derate, efficiency {} as in the run.", Amount{derated, measure::power},
                                    Amount{efficiency, measure::share})});
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
      part_.missing.push_back(say("room_volume in [vent]: {} of input needs {}, or openings", Amount{input, measure::power},
                                  Amount{room_volume_wanted(input), measure::room_volume}));
      return;
    }
    bool const room_suffices = has_volume && *vent_.room_volume >= room_volume_wanted(input);
    double const wanted = opening_wanted(input, OpeningWay(vent_.opening_way));
    if (has_openings && !room_suffices) {
      part_.judge({.id = "vent.openings_small",
                   .place = "room",
                   .subject = "free area of each opening",
                   .actual = {"opening", *vent_.opening, measure::opening},
                   .limit = {"opening_wanted", wanted, measure::opening},
                   .sense = Judgement::at_least,
                   .whose = say("for {} of input; {}", Amount{input, measure::power}, fuel_gas_code),
                   .fix = "Use larger openings (count louvers by free area), or a combustion air pipe.",
                   .order = 97});
      return;
    }
    part_.judge({.id = "vent.room_small",
                 .place = "room",
                 .subject = "room volume",
                 .actual = {"room_volume", *vent_.room_volume, measure::room_volume},
                 .limit = {"room_volume_wanted", room_volume_wanted(input), measure::room_volume},
                 .sense = Judgement::at_least,
                 .whose = say("for {} of input; {}", Amount{input, measure::power}, fuel_gas_code),
                 .fix = say("Add two openings to outdoors of {} each, or an intake pipe.",
                            Amount{opening_wanted(input, OpeningWay::vertical), measure::opening}),
                 .order = 97});
  }

  double room_input() {
    if (!std::isnan(*vent_.room_input)) return *vent_.room_input;
    Diagnostics ignored;  // told when the file was read
    auto const line = gas_line_of(job_.document.tables, ignored);
    double input = 0;
    for (auto const& b : line.burners) input += b.input;
    bool const line_is_empty = line.burners.empty();
    if (input == 0) input = most_input(*job_.document.find("boiler"));
    part_.missing.push_back(say("room_input in [vent]: assumed {}, {}", Amount{input, measure::power},
                                line_is_empty ? "the boiler alone" : "all gas appliances"));
    return input;
  }

  // --- where they end --------------------------------------------------------
  void judge_ends() {
    bool const direct = vent_.system != VentSection::room_air;
    double const input = most_input(*job_.document.find("boiler")) / unit::kBtu_per_hour.scale;
    double const inches = !direct ? 48 : input > 50 ? 12 : input > 10 ? 9 : 6;
    if (std::isnan(*vent_.opening_distance)) part_.missing.push_back("window_distance in [vent]: measure it on site");
    else
      part_.judge({.id = "vent.near_opening",
                   .place = "exhaust",
                   .subject = "termination to the nearest opening",
                   .actual = {"distance", *vent_.opening_distance, measure::gap},
                   .limit = {"least_distance", unit::inch.to_si(inches), measure::gap},
                   .sense = Judgement::at_least,
                   .whose = fuel_gas_code,
                   .fix = "Move the termination. The manual may ask for more.",
                   .order = 96});
    if (std::isnan(*vent_.height) || std::isnan(*vent_.snow)) {
      part_.missing.push_back("height and snow in [vent]: terminations must stay above the snow");
      return;
    }
    part_.judge({.id = "vent.in_snow",
                 .place = "exhaust",
                 .subject = "terminations above ground",
                 .actual = {"height", *vent_.height, measure::gap},
                 .limit = {"least_height", *vent_.snow + unit::inch.to_si(12), measure::gap},
                 .sense = Judgement::at_least,
                 .whose = say("snow plus {}; {}", Amount{unit::inch.to_si(12), measure::gap}, common_practice),
                 .fix = "Raise the terminations, or go through the roof.",
                 .order = 68});
  }

  void say_what_is_left() {
    part_.cautions = {"Carbon monoxide kills and has no smell. Have a licensed contractor install and test the vent. The appliance manual, "
                      "the vent maker's manual and the local code decide."};
    part_.not_covered = {"draft, fan pressure, and how the boiler reacts to a long vent beyond its equivalent length",
                         "vents shared by several appliances, and vents of other appliances",
                         "the vent of a second boiler",
                         "condensation and freezing inside the vent and at its termination",
                         "listing of the vent with this appliance; primer, cement and gaskets",
                         "exhaust fans, dryers and fireplaces that draw room air"};
    part_.reminders = {"Clearances of the terminations to doors, windows, corners, gas meters, walks and the neighbor, by manual and code.",
                       "Both terminations above the deepest snow, and apart as the manual asks, so that flue gas is not drawn back in.",
                       "Intake away from dryer vents, laundry, paint and pool chemicals: chlorine corrodes heat exchangers.",
                       "A screen against birds and rodents, if the manual allows one.",
                       "Slope back to the boiler as the manual asks, without a sag that holds condensate.",
                       "Condensate drain: trap filled, fall, neutralizer, frost.",
                       "Support as the manual asks, and room for the vent to grow when hot.",
                       "Carbon monoxide alarms near the bedrooms and on each floor."};
  }

  Job const& job_;
  Entry const* stated_;
  Boiler const boiler_;  ///< after its derate
  VentSection vent_{};
  ReviewPart part_;
};

}  // namespace

ReviewPart review_vent(Job const& job) { return VentReview{job}.part(); }

}  // namespace steadyfire
