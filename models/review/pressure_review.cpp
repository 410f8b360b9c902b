#include "models/review/pressure_review.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/boiler.hpp"
#include "models/expansion_tank.hpp"
#include "models/house/section_of.hpp"
#include "models/pressure/expansion.hpp"
#include "models/pressure/fill.hpp"
#include "models/pressure/relief.hpp"
#include "models/review/circuits.hpp"
#include "models/review/water_sections.hpp"
#include "sim/core/finding.hpp"

namespace steadyfire {
namespace {

double constexpr air_pressure = 101325, freezing = 273.15;
Measure constexpr tank_volume{unit::gallon, unit::litre, 2, 2};
char const* const boiler_code = "state boiler codes following ASME BPVC section IV",
                  *const handbook = "ASHRAE Handbook, HVAC Systems and Equipment (edition from memory)",
                  *const european = "EN 12828 (formula from memory)";

double or_else(double si, double other) { return is_stated(si) ? si : other; }

class PressureReview {
public:
  explicit PressureReview(Job const& job)
      : job_{job}, in_{job.project.installation}, safety_{section_of<SafetySection>(job.document, job.catalog)},
        circuits_{circuits_of(in_)}, hottest_{hottest_water(job)} {
    part_.id = "pressure", part_.title = "Expansion, fill, relief and safety devices";
  }

  ReviewPart write() {
    water_.columns = {"circuit", "part", "water"};
    tanks_.columns = {"circuit",        "water",
                      "cold",           "hottest",
                      "expansion",      "filled",
                      "when hot",       "tank, diaphragm formula",
                      "tank, EN 12828", "tank, formula of closed air",
                      "stated"};
    fills_.columns = {"circuit", "highest", "its column", "fill at least", "usual fill", "stated"};
    for (auto const& c : circuits_) circuit(c);
    relief_valve(), statements();
    part_.tables = {water_, fills_, tanks_};
    part_.not_covered = {"more than one expansion tank in a circuit; altitude: the air is that of sea level",
                         "water in fittings, valves and circulators (state system_volume where it was metered)",
                         "the pressure of the cold water main, and its own expansion tank for domestic hot water",
                         "the relief valve's discharge pipe, and every device that the local code wants beside those named here"};
    part_.cautions = {
        "A closed system without a working relief valve can burst, and its water scald: nothing may close off or plug a "
        "relief valve, and its pipe must end where nobody is hit."};
    return std::move(part_);
  }

private:
  std::string tell(double si, Measure const& m) const { return show(si, m, job_.units); }
  std::string gauge(double si) const { return tell(si, measure::pressure); }
  void missing(std::string text) { part_.missing.push_back(std::move(text)); }
  double height_of(std::string const& joint) const {
    auto const at = in_.heights.find(joint);
    return at == in_.heights.end() ? 0 : at->second;
  }
  std::string relief_joint() const { return safety_.relief_joint.empty() ? "boiler outlet" : safety_.relief_joint; }

  void circuit(Circuit const& c) {
    for (auto const& [zone, water] : c.parts)
      if (water > 0) water_.rows.push_back({c.name, zone.empty() ? "near the boiler" : zone, {water, tank_volume}});
    ExpansionTank tank = fill<ExpansionTank>(blank_tank());
    std::string place = c.name;
    double tank_height = 0;
    if (c.tank >= 0) {
      auto const& piece = in_.pieces[c.tank];
      tank = fill<ExpansionTank>(piece.values), place = piece.name, tank_height = height_of(piece.ports.front());
    }
    double const cold = *tank.fill_temperature, hot = or_else(*tank.hottest_water, hottest_);
    double const cold_density = c.fluid->at(std::max(cold, c.fluid->coldest())).density, hot_density = c.fluid->at(hot).density;

    // fill
    double const lift = c.height - tank_height, weight = column(c.fluid->at(freezing + 20).density, lift);
    double const least = weight + least_at_top, usual = weight + usual_at_top;
    bool const fill_is_stated = c.tank >= 0 && is_given(c.tank, "fill_pressure");
    double const filled = c.tank >= 0 ? *tank.fill_pressure : usual;
    fills_.rows.push_back({c.name,
                           c.height > 0 ? c.top : "",
                           {weight, measure::pressure},
                           {least, measure::pressure},
                           {usual, measure::pressure},
                           fill_is_stated ? ReviewCell{filled, measure::pressure} : ReviewCell{""}});
    part_.sentences.push_back(fmt::format("{}: {} of fill at the tank leave {} at the top, {} above it.", c.name, gauge(usual),
                                          gauge(usual_at_top), tell(lift, measure::head)));
    if (c.height == 0)
      missing(fmt::format("{}: no height stands in any [[zone]], so the fill is judged for emitters as high as the boiler", c.name));
    if (c.tank < 0)
      missing(fmt::format("no [[expansion_tank]] joins {}: its size and pressures are worked out for a fill of {}", c.name, gauge(filled)));
    else if (!fill_is_stated) missing(fmt::format("fill_pressure of the expansion tank '{}': {} is taken", place, gauge(filled)));
    if (c.tank >= 0)
      judge({"fill.low",
             place,
             "fill pressure for the height of the system",
             {"fill", filled, measure::pressure},
             {"least", least, measure::pressure},
             Judgement::at_least,
             "the column to the top and 4 psi: common practice, no source",
             fmt::format("fill to {}, and set the tank's cushion to the same before", gauge(usual)),
             filled < weight ? Severity::serious : Severity::minor,
             60});
    double const precharge = tank.cushion == ExpansionTank::open_air ? 0 : or_else(*tank.precharge, filled);
    if (c.tank >= 0 && tank.cushion == ExpansionTank::diaphragm) {
      double constexpr slack = 0.5 * unit::psi.scale, wasted = 5 * unit::psi.scale;
      if (!is_stated(*tank.precharge)) missing(fmt::format("precharge of '{}': taken as the fill pressure", place));
      else {
        judge({"expansion.precharge_high",
               place,
               "precharge of the cushion against the fill",
               {"precharge", precharge, measure::pressure},
               {"fill", filled + slack, measure::pressure},
               Judgement::at_most,
               "the fill pressure where the tank joins, and half a psi: common practice, no source",
               fmt::format("let air out of the cushion to {} while its water side is open, or fill to {}", gauge(filled), gauge(precharge)),
               Severity::minor,
               20});
        judge({"expansion.precharge_low",
               place,
               "precharge of the cushion against the fill",
               {"precharge", precharge, measure::pressure},
               {"fill", std::max(0.0, filled - wasted), measure::pressure},
               Judgement::at_least,
               "the fill pressure less 5 psi: common practice, no source",
               fmt::format("pump the cushion to {} while its water side is open: the tank is partly full before anything warms",
                           gauge(filled)),
               Severity::minor,
               20});
      }
    }

    // what the tank must take
    if (hot > cold && cold_density == hot_density)
      return missing(fmt::format("density of {} by temperature, in {}: its expansion is not worked out", c.fluid->describe(), c.name));
    double const water = or_else(*tank.system_volume, c.water()), warming = hot - cold;
    double const lengthening = tank.pipes == 0 ? 0 : tank.pipes == 1 ? steel_lengthening : copper_lengthening;
    double const expansion = std::max(0.0, expansion_volume(water, cold_density, hot_density, lengthening, warming));
    bool const own_relief = is_stated(*tank.relief_setting);
    double const setting = own_relief ? *tank.relief_setting : relief_setting();
    bool const relief_in_circuit = !own_relief && c.holds(relief_joint());
    if (!own_relief && !relief_in_circuit)
      missing(fmt::format("relief_setting of {}: {} is taken, as of the boiler's relief valve", c.name, gauge(setting)));
    double const column_to_relief = relief_in_circuit ? column(hot_density, height_of(relief_joint()) - tank_height) : 0;
    double const allowed = or_else(*tank.hot_pressure, relief_share * setting + column_to_relief);
    double const first = std::max(precharge, filled) + air_pressure, last = allowed + air_pressure;
    bool const open = tank.cushion == ExpansionTank::open_air;
    double const by_handbook = open ? closed_air_tank(expansion, filled + air_pressure, last) : diaphragm_tank(expansion, first, last);
    double const by_standard =
        european_tank(std::max(0.0, water * (cold_density / hot_density - 1)), water, std::max(precharge, 0.0), allowed);
    tanks_.rows.push_back({c.name,
                           {water, tank_volume},
                           {cold, measure::temperature},
                           {hot, measure::temperature},
                           {expansion, tank_volume},
                           {filled, measure::pressure},
                           {allowed, measure::pressure},
                           open ? ReviewCell{""} : room(by_handbook),
                           open ? ReviewCell{""} : room(by_standard),
                           open ? room(by_handbook) : ReviewCell{""},
                           is_stated(*tank.volume) ? ReviewCell{*tank.volume, tank_volume} : ReviewCell{"not stated"}});
    if (last <= first) {
      part_.find({"expansion.no_room",
                  place,
                  Severity::serious,
                  {{"filled", filled, measure::pressure}},
                  Figure{"allowed", allowed, measure::pressure},
                  common_practice,
                  fmt::format("between the fill of {} and the {} allowed when hot nothing is left: no tank is large enough", gauge(filled),
                              gauge(allowed)),
                  85},
                 "fill lower, set the cushion lower, or take a boiler and a relief valve for more pressure");
      return;
    }
    part_.sentences.push_back(fmt::format("{}: {} of {} expand by {} from {} to {}, which asks for a tank of {}{}.", c.name,
                                          tell(water, tank_volume), c.fluid->describe(), tell(expansion, tank_volume),
                                          tell(cold, measure::temperature), tell(hot, measure::temperature), tell(by_handbook, tank_volume),
                                          open ? "" : fmt::format(", {} by EN 12828 with its reserve", tell(by_standard, tank_volume))));
    if (!is_stated(*tank.volume)) {
      if (c.tank >= 0) missing(fmt::format("volume of the expansion tank '{}'", place));
      return;
    }
    struct Size {
      char const *id, *by;
      double wanted;
      char const* whose;
      Severity severity;
      double order;
    };
    std::vector<Size> sizes{
        {"expansion.small", open ? "the formula of closed air tanks" : "the diaphragm formula", by_handbook, handbook, Severity::serious, 80}};
    if (!open)
      sizes.push_back({"expansion.small_reserve", "the European standard with its reserve of water", by_standard, european, Severity::minor, 30});
    for (auto const& z : sizes)
      judge({z.id,
             place,
             fmt::format("size of the tank, by {}", z.by),
             {"volume", *tank.volume, tank_volume},
             {"least", z.wanted, tank_volume},
             Judgement::at_least,
             z.whose,
             fmt::format("a tank of at least {}", tell(z.wanted, tank_volume)),
             z.severity,
             z.order});
    double const before = *tank.volume * (1 - (precharge + air_pressure) / first);  // water in it as filled
    if (is_stated(*tank.acceptance))
      judge({"expansion.acceptance",
             place,
             "water that the diaphragm has to let in",
             {"water", before + expansion, tank_volume},
             {"acceptance", *tank.acceptance, tank_volume},
             Judgement::at_most,
             "the tank's maker (your input)",
             "a tank that accepts more",
             Severity::serious,
             78});
    double const hot_cushion = cushion_when_hot(*tank.volume, precharge + air_pressure, filled + air_pressure, expansion) - air_pressure;
    if (!std::isfinite(hot_cushion)) return;  // the size is told as too small
    double const at_relief = hot_cushion - column_to_relief + (relief_in_circuit ? rise_at_relief(c) : 0);
    judge({"relief.near_setting",
           relief_in_circuit ? relief_joint() : place,
           "pressure at the relief valve when hottest",
           {"pressure", at_relief, measure::pressure},
           {"nine_tenths", relief_share * setting, measure::pressure},
           Judgement::at_most,
           "nine tenths of its setting: common practice, no source",
           "a larger expansion tank, a lower fill, or a valve set higher if the boiler allows it",
           at_relief > setting ? Severity::serious : Severity::minor,
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
    if (!is_stated(*safety_.relief_setting)) missing("relief_setting in [safety]: 30 psi is taken, as is usual");
    if (is_stated(*safety_.allowable_pressure))
      judge({"relief.set_high",
             place,
             "setting of the relief valve",
             {"setting", setting, measure::pressure},
             {"allowable", *safety_.allowable_pressure, measure::pressure},
             Judgement::at_most,
             std::string{"the boiler's plate (your input); "} + boiler_code,
             fmt::format("a relief valve set to at most {}", gauge(*safety_.allowable_pressure)),
             Severity::serious,
             95});
    else missing("allowable_pressure in [safety], from the boiler's plate");

    double const output = boiler_output();
    double const lets_off = is_stated(*safety_.relief_capacity) ? *safety_.relief_capacity
                            : is_stated(*safety_.relief_steam)  ? relief_output(*safety_.relief_steam)
                                                                : Field::none;
    part_.sentences.push_back(fmt::format("The relief valve has to let off {}, as steam {}, through an inlet of at least {}.",
                                          tell(output, measure::power), tell(relief_steam(output), measure::mass_flow),
                                          tell(least_relief_size(output), measure::diameter)));
    if (is_stated(lets_off))
      judge({"relief.small",
             place,
             "capacity of the relief valve",
             {"capacity", lets_off, measure::power},
             {"output", output, measure::power},
             Judgement::at_least,
             boiler_code,
             fmt::format("a relief valve for at least {}", tell(output, measure::power)),
             Severity::serious,
             94});
    else missing("relief_capacity or relief_steam in [safety], from the relief valve's plate");
    if (is_stated(*safety_.relief_size))
      judge({"relief.narrow",
             place,
             "inlet of the relief valve",
             {"size", *safety_.relief_size, measure::diameter},
             {"least", least_relief_size(output), measure::diameter},
             Judgement::at_least,
             boiler_code,
             "a larger relief valve",
             Severity::serious,
             90});
    else missing("relief_size in [safety]");
  }

  /// The most that the burner can give its water [W]: its larger input, less what leaves by the flue where that is coldest.
  double boiler_output() const {
    double most = 0;
    for (int const piece : {in_.boiler, in_.lag_boiler}) {
      if (piece < 0) continue;
      auto boiler = fill<Boiler>(in_.pieces[piece].values);
      boiler.prepare();
      double constexpr coldest_flue = freezing + 30;
      most = std::max(most, boiler.full * boiler.chemistry.efficiency(coldest_flue));
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
    Device const devices[]{
        {"safety.low_water_cut_off", s.low_water_cut_off, "low_water_cut_off", "low-water cut-off", Severity::serious,
         "a cut-off by probe or by flow, as the code and the manual want it", boiler_code, 88},
        {"safety.backflow", s.backflow_preventer, "backflow_preventer", "backflow preventer in the fill", Severity::serious,
         "a backflow preventer of the kind that the plumbing code names for boilers", "plumbing codes (from memory)", 86},
        {"safety.fill_valve", s.fill_valve, "fill_valve", "pressure-reducing fill valve", Severity::minor,
         "a fill valve set to the fill pressure, or a gauge that someone looks at", common_practice, 25},
        {"safety.hot_water_relief", s.hot_water_relief, "hot_water_relief",
         "relief valve of the hot water on the heater's side of its isolation valve", Severity::serious,
         "a relief valve between heater and isolation valve, so that none can be closed off", "plumbing codes (from memory)", 87},
        {"safety.air_vent", s.air_vent, "air_vent", "air vent", Severity::minor, "a vent at the air separator or at the top", common_practice, 15}};
    std::string seen;
    for (auto const& d : devices) {
      if (d.said == Statement::yes) seen += (seen.empty() ? "" : ", ") + std::string(d.words);
      else if (d.said == Statement::unknown) missing(fmt::format("{} in [safety]: {}", d.key, d.words));
      else part_.find({d.id, "boiler", d.severity, {}, std::nullopt, d.whose, fmt::format("there is no {}", d.words), d.order}, d.fix);
    }
    if (!seen.empty()) part_.sentences.push_back("Stated as there: " + seen + ".");
    part_.reminders = {"lift the relief valve's lever once the system is full, and see that it seats again",
                       "check the cushion of the expansion tank with its water side open, before the system is filled"};
  }

  void judge(Judgement j) { part_.judge(std::move(j)); }
  ReviewCell room(double volume) const { return std::isfinite(volume) ? ReviewCell{volume, tank_volume} : ReviewCell{"no size is enough"}; }
  double relief_setting() const { return or_else(*safety_.relief_setting, 30 * unit::psi.scale); }
  bool is_given(int piece, char const* key) const {
    auto const& v = value_under(*in_.pieces[piece].kind, in_.pieces[piece].values, key);
    return v.given && !v.unknown;
  }
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
