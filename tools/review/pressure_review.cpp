#include "tools/review/pressure_review.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/expansion_tank.hpp"
#include "models/house/boiler_of.hpp"
#include "models/house/section_of.hpp"
#include "models/pressure/expansion.hpp"
#include "models/pressure/fill.hpp"
#include "models/pressure/relief.hpp"
#include "tools/review/circuits.hpp"
#include "tools/review/water_sections.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {
namespace {

double constexpr air_pressure = 101325, freezing = 273.15;
Measure constexpr tank_volume{unit::gallon, unit::litre, 2, 2}, nominal{unit::inch, unit::millimetre, 2, 0};
char const* const boiler_code = "state boiler codes following ASME BPVC section IV",
                  *const handbook = "ASHRAE Handbook, HVAC Systems and Equipment, edition not checked",
                  *const european = "EN 12828, edition not checked";

/// "3/4 in": the name of a size, which is no length; 20 mm where lengths are metric.
Words nominal_size(double si) {
  return InEach{si < 0.7 * unit::inch.scale ? "1/2 in" : "3/4 in", si < 0.7 * unit::inch.scale ? "15 mm" : "20 mm"};
}

double or_else(double si, double other) { return is_stated(si) ? si : other; }

class PressureReview {
public:
  explicit PressureReview(Job const& job)
      : job_{job}, in_{job.project.installation}, safety_{section_of<SafetySection>(job.document, job.catalog)},
        circuits_{circuits_of(in_)}, hottest_{hottest_water(job)} {
    part_.id = "pressure", part_.title = "Expansion, fill, relief and safety devices";
    for (auto const& t : job.document.tables) knows_heights_ |= t.kind->name == "zone" && value_of<&ZoneSection::height>(t).given;
  }

  ReviewPart write() {
    water_.columns = {"circuit", "part", "water"};
    tanks_.columns = {"circuit",           "water",     "cold",          "hottest",       "expansion", "fill",
                      "limit when hot",    "tank by diaphragm formula",  "tank by EN 12828",
                      "tank by open-air formula", "tank stated"};
    fills_.columns = {"circuit", "highest point", "pressure of its height", "minimum fill", "usual fill", "fill stated"};
    if (!knows_heights_) missing("fill pressure: unknown (no `height` in any [[zone]])");
    for (auto const& c : circuits_) circuit(c);
    relief_valve(), statements();
    part_.tables = {water_, fills_, tanks_};
    part_.not_covered = {"more than one expansion tank in a circuit; altitude: the air is that of sea level",
                         "water in fittings, valves and circulators (state system_volume if it was metered)",
                         "the pressure of the cold water main, and its own expansion tank for hot water",
                         "the relief valve's discharge pipe, and devices that the local code requires beyond those named here"};
    part_.cautions = {
        "A closed system can burst without a working relief valve. Never plug or close off a relief valve; end its pipe where it "
        "cannot hit anyone. The code decides its size."};
    return std::move(part_);
  }

private:
  /// A circuit with its tank, cold and hot. SI, gauge.
  struct Closed {
    Circuit const& circuit;
    ExpansionTank tank;
    std::string place;
    double tank_height, cold, hot, cold_density, hot_density;
    double filled = 0, precharge = 0;
    bool is_open() const { return tank.cushion == ExpansionTank::open_air; }
    bool has_tank() const { return circuit.tank >= 0; }
  };
  /// What a tank must take up.
  struct Growth {
    double water, expansion, setting, column_to_relief, allowed, first, last;
    bool relief_in_circuit;
  };

  static Amount gauge(double si) { return {si, measure::pressure}; }
  static Amount volume(double si) { return {si, tank_volume}; }
  static Amount temperature(double si) { return {si, measure::temperature}; }
  void missing(Words words) { part_.missing.push_back(std::move(words)); }
  double height_of(std::string const& joint) const {
    auto const at = in_.heights.find(joint);
    return at == in_.heights.end() ? 0 : at->second;
  }
  std::string relief_joint() const { return safety_.relief_joint.empty() ? "boiler outlet" : safety_.relief_joint; }

  void circuit(Circuit const& c) {
    for (auto const& [zone, water] : c.parts)
      if (water > 0) water_.rows.push_back({c.name, zone.empty() ? "near the boiler" : zone, {water, tank_volume}});
    auto closed = closed_of(c);
    fill_pressure(closed);
    air_charge(closed);
    if (closed.hot > closed.cold && closed.cold_density == closed.hot_density)
      return missing(say("density of {} by temperature, in {}: its expansion is not computed", c.fluid->describe(), c.name));
    auto const growth = growth_of(closed);
    if (tank_size(closed, growth)) tank_in_use(closed, growth);
  }

  Closed closed_of(Circuit const& c) const {
    ExpansionTank tank = fill<ExpansionTank>(blank_tank());
    std::string place = c.name;
    double height = 0;
    if (c.tank >= 0) {
      auto const& piece = in_.pieces[c.tank];
      tank = fill<ExpansionTank>(piece.values), place = piece.name, height = height_of(piece.ports.front());
    }
    double const cold = *tank.fill_temperature, hot = or_else(*tank.hottest_water, hottest_);
    return {c, tank, place, height, cold, hot, c.fluid->at(std::max(cold, c.fluid->coldest())).density, c.fluid->at(hot).density};
  }

  /// The fill against the column up to the highest joint; unknown where no height is stated.
  void fill_pressure(Closed& s) {
    auto const& c = s.circuit;
    double const lift = c.height - s.tank_height, weight = column(c.fluid->at(freezing + 20).density, lift);
    double const least = weight + least_at_top, usual = std::max(weight + usual_at_top, least_usual_fill);
    bool const is_told = s.has_tank() && is_given(value_of<&ExpansionTank::fill_pressure>(in_.pieces[c.tank]));
    s.filled = s.has_tank() || !knows_heights_ ? *s.tank.fill_pressure : usual;
    if (!s.has_tank()) missing(say("no [[expansion_tank]] in {}: its size is computed for a fill of {}", c.name, gauge(s.filled)));
    else if (!is_told) missing(say("fill_pressure of '{}': assumed {}", s.place, gauge(s.filled)));
    if (!knows_heights_) return;
    fills_.rows.push_back({c.name,
                           c.height > 0 ? c.top : "",
                           {weight, measure::pressure},
                           {least, measure::pressure},
                           {usual, measure::pressure},
                           is_told ? ReviewCell{s.filled, measure::pressure} : ReviewCell{""}});
    part_.sentences.push_back(say("{}: {} at the tank gives {} at the top, {} higher.", c.name, gauge(usual), gauge(usual - weight),
                                  Amount{lift, measure::head}));
    if (s.has_tank())
      judge({"fill.low",
             s.place,
             "fill pressure",
             {"fill", s.filled, measure::pressure},
             {"least", least, measure::pressure},
             Judgement::at_least,
             say("height plus {}; {}", gauge(least_at_top), common_practice),
             say("Set the air charge to {}, then fill to {}.", gauge(usual), gauge(usual)),
             s.filled < weight ? Severity::serious : Severity::minor,
             60});
  }

  /// Behind a diaphragm it should equal the fill: more, and no water is in the tank; less, and the tank is partly full when cold.
  void air_charge(Closed& s) {
    s.precharge = s.is_open() ? 0 : or_else(*s.tank.precharge, s.filled);
    if (!s.has_tank() || s.is_open()) return;
    if (!is_stated(*s.tank.precharge)) return missing(say("precharge of '{}': assumed equal to the fill pressure", s.place));
    double constexpr tolerance = 1 * unit::psi.scale;  // as close as a tire gauge reads
    auto const whose = say("should equal the fill pressure of {}, within {}; {}", gauge(s.filled), gauge(tolerance), common_practice);
    auto const fix = say("With no water pressure on the tank, set the air charge to {}.", gauge(s.filled));
    Figure const charge{"precharge", s.precharge, measure::pressure};
    judge({"expansion.precharge_high", s.place, "air charge", charge, {"fill", s.filled + tolerance, measure::pressure},
           Judgement::at_most, whose, fix, Severity::minor, 20, "The tank takes no water until the pressure reaches its air charge."});
    judge({"expansion.precharge_low", s.place, "air charge", charge, {"fill", std::max(0.0, s.filled - tolerance), measure::pressure},
           Judgement::at_least, whose, fix, Severity::minor, 20, "The tank is partly full before anything warms."});
  }

  Growth growth_of(Closed const& s) {
    auto const& c = s.circuit;
    auto const& tank = s.tank;
    Growth g{};
    g.water = or_else(*tank.system_volume, c.water());
    double const lengthening = tank.pipes == 0 ? 0 : tank.pipes == 1 ? steel_lengthening : copper_lengthening;
    g.expansion = std::max(0.0, expansion_volume(g.water, s.cold_density, s.hot_density, lengthening, s.hot - s.cold));
    bool const own_relief = is_stated(*tank.relief_setting);
    g.setting = own_relief ? *tank.relief_setting : relief_setting();
    g.relief_in_circuit = !own_relief && c.holds(relief_joint());
    if (!own_relief && !g.relief_in_circuit)
      missing(say("relief_setting of {}: assumed {}, as for the boiler's relief valve", c.name, gauge(g.setting)));
    g.column_to_relief = g.relief_in_circuit ? column(s.hot_density, height_of(relief_joint()) - s.tank_height) : 0;
    g.allowed = or_else(*tank.hot_pressure, relief_share * g.setting + g.column_to_relief);
    g.first = std::max(s.precharge, s.filled) + air_pressure, g.last = g.allowed + air_pressure;
    return g;
  }

  /// What size it takes, by two formulas. Whether a tank's size is stated that may do.
  bool tank_size(Closed const& s, Growth const& g) {
    auto const& c = s.circuit;
    double const by_handbook = s.is_open() ? closed_air_tank(g.expansion, s.filled + air_pressure, g.last)
                                           : diaphragm_tank(g.expansion, g.first, g.last);
    double const by_standard = european_tank(std::max(0.0, g.water * (s.cold_density / s.hot_density - 1)), g.water,
                                             std::max(s.precharge, 0.0), g.allowed);
    tanks_.rows.push_back({c.name,
                           {g.water, tank_volume},
                           {s.cold, measure::temperature},
                           {s.hot, measure::temperature},
                           {g.expansion, tank_volume},
                           {s.filled, measure::pressure},
                           {g.allowed, measure::pressure},
                           s.is_open() ? ReviewCell{""} : room(by_handbook),
                           s.is_open() ? ReviewCell{""} : room(by_standard),
                           s.is_open() ? room(by_handbook) : ReviewCell{""},
                           is_stated(*s.tank.volume) ? ReviewCell{*s.tank.volume, tank_volume} : ReviewCell{"not stated"}});
    if (g.last <= g.first) {
      part_.find({"expansion.no_room",
                  s.place,
                  Severity::serious,
                  {{"filled", s.filled, measure::pressure}},
                  Figure{"allowed", g.allowed, measure::pressure},
                  common_practice,
                  say("fill pressure {}, limit when hot {} ({}). No tank is large enough.", gauge(s.filled), gauge(g.allowed),
                      common_practice),
                  85},
                 "Lower the fill pressure and the air charge, or choose a boiler and relief valve for more pressure.");
      return false;
    }
    part_.sentences.push_back(say("{}: {} of {} expands {} from {} to {}; tank needed {}{}.", c.name, volume(g.water), c.fluid->describe(),
                                  volume(g.expansion), temperature(s.cold), temperature(s.hot), volume(by_handbook),
                                  s.is_open() ? Words() : say(", {} by EN 12828 with its reserve", volume(by_standard))));
    if (!is_stated(*s.tank.volume)) {
      if (s.has_tank()) missing(say("volume of '{}'", s.place));
      return false;
    }
    auto const judge_size = [&](char const* id, Words by, double wanted, char const* whose, Severity severity, double order) {
      judge({id, s.place, "tank", {"volume", *s.tank.volume, tank_volume}, {"least", wanted, tank_volume}, Judgement::at_least,
             say("{}; {}", by, whose), say("Use a tank of at least {}.", volume(wanted)), severity, order});
    };
    judge_size("expansion.small", s.is_open() ? "open-air formula" : "diaphragm formula", by_handbook, handbook, Severity::serious, 80);
    if (!s.is_open()) judge_size("expansion.small_reserve", "with a reserve of water", by_standard, european, Severity::minor, 30);
    return true;
  }

  /// What the stated tank lets in, and the pressure at the relief valve when hot.
  void tank_in_use(Closed const& s, Growth const& g) {
    double const before = *s.tank.volume * (1 - (s.precharge + air_pressure) / g.first);  // water in it as filled
    if (is_stated(*s.tank.acceptance))
      judge({"expansion.acceptance",
             s.place,
             "water that the tank must accept",
             {"water", before + g.expansion, tank_volume},
             {"acceptance", *s.tank.acceptance, tank_volume},
             Judgement::at_most,
             "tank maker, your input",
             "Use a tank that accepts more.",
             Severity::serious,
             78});
    double const hot_cushion =
        cushion_when_hot(*s.tank.volume, s.precharge + air_pressure, s.filled + air_pressure, g.expansion) - air_pressure;
    if (!std::isfinite(hot_cushion)) return;  // the size is told as too small
    double const at_relief = hot_cushion - g.column_to_relief + (g.relief_in_circuit ? rise_at_relief(s.circuit) : 0);
    judge({"relief.near_setting",
           g.relief_in_circuit ? relief_joint() : s.place,
           "hot pressure at the relief valve",
           {"pressure", at_relief, measure::pressure},
           {"nine_tenths", relief_share * g.setting, measure::pressure},
           Judgement::at_most,
           say("{} of its setting; {}", Amount{relief_share, measure::share}, common_practice),
           "Use a larger tank, a lower fill, or a higher setting if the boiler allows it.",
           at_relief > g.setting ? Severity::serious : Severity::minor,
           70});
  }

  /// What running circulators add where the relief valve stands [Pa], at most over the combinations of calls.
  double rise_at_relief(Circuit const& c) const {
    double most = 0;
    if (c.tank < 0) return most;
    auto const& joint = in_.pieces[c.tank].ports.front();
    double const weight = column(c.fluid->at(c.temperature).density, height_of(relief_joint()) - height_of(joint));
    for (auto const& s : job_.flows.states) {
      auto const here = s.pressures.find(relief_joint()), there = s.pressures.find(joint);
      if (here != s.pressures.end() && there != s.pressures.end()) most = std::max(most, here->second - there->second + weight);
    }
    return most;
  }

  void relief_valve() {
    auto const place = relief_joint();
    double const setting = relief_setting();
    if (!is_stated(*safety_.relief_setting)) missing(say("relief_setting in [safety]: assumed {}", gauge(setting)));
    if (is_stated(*safety_.allowable_pressure))
      judge({"relief.set_high",
             place,
             "setting",
             {"setting", setting, measure::pressure},
             {"allowable", *safety_.allowable_pressure, measure::pressure},
             Judgement::at_most,
             say("boiler plate, your input; {}", boiler_code),
             say("Use a relief valve set to at most {}.", gauge(*safety_.allowable_pressure)),
             Severity::serious,
             95});
    else missing("allowable_pressure in [safety], from the boiler plate");

    double const output = boiler_output();
    double const lets_off = is_stated(*safety_.relief_capacity) ? *safety_.relief_capacity
                            : is_stated(*safety_.relief_steam)  ? relief_output(*safety_.relief_steam)
                                                                : Field::none;
    part_.sentences.push_back(say("Relief valve needed: {} ({} of steam), inlet {} or larger.", Amount{output, measure::power},
                                  Amount{relief_steam(output), measure::mass_flow}, nominal_size(least_relief_size(output))));
    if (is_stated(lets_off))
      judge({"relief.small",
             place,
             "capacity",
             {"capacity", lets_off, measure::power},
             {"output", output, measure::power},
             Judgement::at_least,
             boiler_code,
             say("Use a relief valve for at least {}.", Amount{output, measure::power}),
             Severity::serious,
             94});
    else missing("relief_capacity or relief_steam in [safety], from the relief valve plate");
    if (is_stated(*safety_.relief_size))
      judge({"relief.narrow",
             place,
             "inlet",
             {"size", *safety_.relief_size, nominal},
             {"least", least_relief_size(output), nominal},
             Judgement::at_least,
             boiler_code,
             say("Use a relief valve with an inlet of {} or larger.", nominal_size(least_relief_size(output))),
             Severity::serious,
             90});
    else missing("relief_size in [safety]");
  }

  /// The most that the burner can give its water [W]: its larger input, less what leaves by the flue where that is coldest.
  double boiler_output() const {
    double most = 0;
    for (int const piece : {in_.boiler, in_.lag_boiler}) {
      if (piece < 0) continue;
      auto const boiler = boiler_of(in_.pieces[piece]);
      double constexpr coldest_flue = freezing + 30;
      double const left = std::isnan(*boiler.derate) ? 1 : 1 - *boiler.derate;  // its plate is not derated
      most = std::max(most, boiler.full / left * boiler.chemistry.efficiency(coldest_flue));
    }
    return most;
  }

  struct Device {
    char const* id;
    Statement said;
    char const *key, *words;
    Severity severity;
    char const *fix, *whose;
    double order;
  };
  void statements() {
    auto const& s = safety_;
    char const* const plumbing = "plumbing codes, edition not checked";
    Device const devices[]{
        {"safety.low_water_cut_off", s.low_water_cut_off, "low_water_cut_off", "low-water cutoff", Severity::serious,
         "Add a low-water cutoff, probe or flow type, as the code and the manual require.", boiler_code, 88},
        {"safety.backflow", s.backflow_preventer, "backflow_preventer", "backflow preventer on the fill", Severity::serious,
         "Add a backflow preventer of the kind that the plumbing code names for boilers.", plumbing, 86},
        {"safety.fill_valve", s.fill_valve, "fill_valve", "pressure-reducing fill valve", Severity::minor,
         "Add a fill valve set to the fill pressure, or have someone read a gauge.", common_practice, 25},
        {"safety.hot_water_relief", s.hot_water_relief, "hot_water_relief", "relief valve between heater and isolation valve",
         Severity::serious, "Add a relief valve on the heater side of the isolation valve, so that it cannot be closed off.", plumbing, 87},
        {"safety.air_vent", s.air_vent, "air_vent", "air vent", Severity::minor, "Add an air vent at the air separator or at the top.",
         common_practice, 15}};
    bool const glycol = is_glycol(*circuits_.front().fluid);
    if (glycol) fill_of_glycol();
    std::vector<Words> seen;
    for (auto const& d : devices) {
      bool const is_fill = d.key == std::string_view("fill_valve");
      if (glycol && is_fill) continue;  // judged above: glycol wants none
      if (d.said == Statement::yes) seen.push_back(d.words);
      else if (d.said == Statement::unknown) missing(say("{} in [safety]: {}", d.key, d.words));
      else
        part_.find({d.id, "boiler", d.severity, {}, std::nullopt, d.whose, say("no {} ({})", d.words, d.whose), d.order}, d.fix);
    }
    if (!seen.empty()) part_.sentences.push_back(say("Stated in the file: {}.", listed(seen)));
    part_.reminders = {"Lift the relief valve's lever once the system is full. See that it seats again.",
                       "Check the air charge of the expansion tank with no water pressure on it, before you fill."};
  }

  /// Street water that makes up a leak thins the glycol unseen, and glycol must not reach the street's.
  void fill_of_glycol() {
    char const* const feed = "Close and cap the automatic fill. Use a glycol feed tank with a low-level alarm.";
    if (safety_.fill_valve == Statement::yes)
      part_.find({"glycol.automatic_fill", "boiler", Severity::serious, {}, std::nullopt, common_practice,
                  "an automatic fill valve on glycol: each leak is made up with plain water, which thins the glycol until it freezes", 84},
                 feed);
    else if (safety_.fill_valve == Statement::unknown)
      missing("fill_valve in [safety]: glycol must have no automatic fill; use a glycol feed tank");
  }

  void judge(Judgement j) { part_.judge(std::move(j)); }
  ReviewCell room(double volume) const {
    return std::isfinite(volume) ? ReviewCell{volume, tank_volume} : ReviewCell{"none is large enough"};
  }
  double relief_setting() const { return or_else(*safety_.relief_setting, 30 * unit::psi.scale); }
  static bool is_given(Value const& v) { return v.given && !v.unknown; }
  /// A tank of which nothing is stated.
  std::vector<Value> blank_tank() const {
    std::vector<Value> values;
    for (auto const& f : ExpansionTank::schema()) {
      values.emplace_back();
      if (!std::isnan(f.standard)) values.back().numbers = {f.unit.to_si(f.standard)};
    }
    return values;
  }

  Job const& job_;
  Installation const& in_;
  SafetySection const safety_;
  std::vector<Circuit> const circuits_;
  double const hottest_;
  bool knows_heights_ = false;  ///< of emitters: some [[zone]] states its own
  ReviewPart part_;
  ReviewTable water_{"water", "Water in the system", {}, {}}, tanks_{"expansion", "Expansion", {}, {}},
      fills_{"fill", "Fill pressure at the tank, gauge", {}, {}};
};

}  // namespace

double hottest_water(Job const& job) {
  double hottest = std::max(job.project.installation.design_supply, job.run.supply_max);
  for (auto const& s : job.flows.states) hottest = std::max(hottest, s.boiler_supply);
  return hottest;
}

ReviewPart review_pressure(Job const& job) { return PressureReview{job}.write(); }

}  // namespace steadyfire
