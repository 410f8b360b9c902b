#include "models/house/mixed_zones.hpp"

#include <algorithm>

#include "models/arrangements/mixing.hpp"
#include "models/arrangements/names.hpp"
#include "models/controls.hpp"
#include "models/boiler_data.hpp"
#include "models/house/section_of.hpp"
#include "models/mixing/thermostatic_mixing_valve.hpp"

namespace steadyfire {
namespace {

bool has(Kind const& kind, std::string_view key) {
  return std::any_of(kind.fields.begin(), kind.fields.end(), [&](Field const& f) { return f.key == key; });
}
std::string tell(double kelvin) { return show(kelvin, measure::temperature, UnitSystem::us); }

/// The warmest water that a zone's curve asks for.
double warmest(Piece const& reset) {
  auto const curve = fill<OutdoorReset>(reset.values);
  return std::fmin(std::fmax(*curve.cold_supply, *curve.mild_supply), *curve.highest);  // the last may be none
}

}  // namespace

std::vector<Setting> mixing_settings(Entry const& mixing, ZoneParts const& zone, Builder& builder, std::string const& call) {
  auto& in = builder.installation;
  std::string const reset = in.pieces[zone.reset].name;
  std::vector<Setting> wired{{"call", call}};
  auto const unstated = [&](char const* key) { return has(*mixing.kind, key) && !value_under(mixing, key).given; };
  if (unstated("reset")) wired.push_back({"reset", reset});
  else if (unstated("setting")) wired.push_back({"setting", warmest(in.pieces[zone.reset])});
  if (has(*mixing.kind, "least_return") && value_under(mixing, "least_return").given && unstated("return_sensor"))
    wired.push_back({"return_sensor", named::return_sensor});
  if (unstated("greatest_flow")) {  // enough where the boiler gives no more than it is asked for, and half as much again
    double const margin = value_under(mixing, "margin").numbers.at(0);
    double const flow = zone.wanted_flow * 1.5 * zone.design_drop / (zone.design_drop + margin);
    wired.push_back({"greatest_flow",
                     builder.assume({mixing_name(zone.name), "greatest_flow", flow, 0.5 * flow, 2 * flow, measure::flow,
                                     "1.5 × design load ÷ (temperature drop + margin); common practice, no published source"})});
  }
  return wired;
}

std::optional<double> held_by_wax(Entry const& zone, Diagnostics& faults) {
  auto const& mixing = value_of<&ZoneSection::mixing>(zone);
  if (!mixing.entry || mixing.entry->kind->name != ThermostaticMixingValve::kind) return {};
  auto const &curve = value_of<&ZoneSection::reset>(zone), &supply = value_of<&ZoneSection::supply_temperature>(zone),
             &setting = value_of<&ThermostaticMixingValve::setting>(*mixing.entry);
  if (curve.given)
    faults.add({"E262", mixing.at, "zone '" + zone.name + "': a thermostatic mixing valve cannot follow a reset curve",
                "mixing = { kind = \"motorised mixing valve\" }, or no reset", "change the valve, or remove 'reset'", curve.at});
  bool const both = is_stated(supply) && setting.given;
  if (both && std::abs(supply.numbers[0] - setting.numbers[0]) > 0.01)
    faults.add({"E222", setting.at,
                "zone '" + zone.name + "': its mixing valve is set to " + tell(setting.numbers[0]) + " and its supply_temperature is " +
                    tell(supply.numbers[0]),
                "one of them", "", supply.at});
  if (setting.given) return setting.numbers[0];
  return is_stated(supply) ? supply.numbers.at(0) : Field::none;
}

void refuse_radiator_valve(Entry const& zone, Diagnostics& faults) {
  auto const &valve = value_of<&ZoneSection::radiator_valve>(zone), &emitter = value_of<&ZoneSection::emitter>(zone);
  if (emitter.entry && !has(*emitter.entry->kind, "room"))
    faults.add({"E263", valve.at,
                "zone '" + zone.name + "': a radiator valve needs a room, and a " + emitter.entry->kind->name + " heats none",
                "an emitter that heats the room, or no radiator_valve", "remove 'radiator_valve'", emitter.at});
}

void refuse_mixed_above_boiler(std::vector<Entry const*> const& zones, Installation const& in, Diagnostics& faults) {
  Piece const& boiler = in.pieces[in.boiler];
  auto const &target = value_of<&BoilerData::fixed_target>(boiler), &limit = value_of<&BoilerData::high_limit>(boiler);
  for (std::size_t i = 0; i < zones.size(); ++i) {
    auto const& mixing = value_of<&ZoneSection::mixing>(*zones[i]);
    if (!mixing.entry || limit.numbers.empty()) continue;
    double const mixed = warmest(in.pieces[in.zones.at(i).reset]), asked = mixed + value_under(*mixing.entry, "margin").numbers.at(0);
    std::string const who = "zone '" + zones[i]->name + "': ";
    if (target.given && mixed >= target.numbers.at(0))
      faults.add({"E260", mixing.at, who + "mixed water is " + tell(mixed) + ", above the boiler's target of " + tell(target.numbers[0]),
                  "mixed water below the boiler's target", "remove the boiler's 'target': then it follows the zones", target.at});
    else if (!target.given && asked > limit.numbers[0])
      faults.add({"E260", mixing.at,
                  who + "needs " + tell(asked) + " from the boiler (mixed water plus margin), above its high limit of " +
                      tell(limit.numbers[0]),
                  "mixed water plus margin below the high limit", "lower the mixed water temperature or the margin",
                  limit.given ? limit.at : boiler.at});
  }
}

}  // namespace steadyfire
