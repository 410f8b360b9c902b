#include "tools/counter/answers.hpp"

#include <algorithm>

#include "models/arrangements/names.hpp"
#include "models/hot_water/deliverable.hpp"
#include "models/house/sections.hpp"
#include "sim/component/batch_of.hpp"
#include "tools/counter/answer_sections.hpp"

namespace steadyfire {

void ZoneAnswer::check(Entry const& e, Diagnostics& faults) {
  if (std::find(named::groups.begin(), named::groups.end(), e.name) != named::groups.end())
    faults.add({"E215", e.at, "zone: the name '" + e.name + "' is used by the piping arrangement", "another name", "rename this zone"});
}

void FixturesAnswer::check(Entry const& e, Diagnostics& faults) {
  using A = FixturesAnswer;
  auto const &input = value_of<&A::maker_input>(e), &flow = value_of<&A::maker_flow>(e), &rise = value_of<&A::maker_rise>(e);
  if (is_stated(flow) != is_stated(rise)) {
    bool const lacks_rise = is_stated(flow);
    faults.add({"E205", lacks_rise ? flow.at : rise.at,
                e.who + (lacks_rise ? ": maker_flow needs 'maker_rise'" : ": maker_rise needs 'maker_flow'"),
                lacks_rise ? "maker_rise = \"70 °F\"" : "maker_flow = \"4.5 gpm\"", "both stand together in the data sheet"});
    return;
  }
  if (!is_stated(flow)) return;
  double const cold = unit::degF.to_si(50), heat = heat_for(flow.numbers.at(0), cold, cold + rise.numbers.at(0));
  auto const told = [](double watts) { return show(watts, measure::power, UnitSystem::us); };
  if (!is_stated(input)) {
    double const least = unit::kBtu_per_hour.to_si(5), most = unit::kBtu_per_hour.to_si(4000);  // as far as a boiler's input goes
    if (heat < least || heat > most)
      faults.add({"E204", flow.at, e.who + ": maker_flow at this rise is " + told(heat) + " of heat", told(least) + " to " + told(most),
                  "check flow and rise", rise.at});
    return;
  }
  double const most = input.numbers.at(0), least = most / 2;  // less than half of it is a slip of the pen
  if (heat > most || heat < least)
    faults.add({"E259", flow.at, e.who + ": maker_flow at this rise is " + told(heat) + " of heat, and maker_input is " + told(most),
                told(least) + " to " + told(most), "check flow, rise and input: all three for hot water at full fire", input.at});
}

Catalog answers_catalog() {
  static Kind const kinds[]{section<Opening>(),        section<HouseAnswer>(),     section<ZoneAnswer>(),
                            section<FixturesAnswer>(), section<ColdWaterAnswer>(), section<GasRunAnswer>(),
                            section<VentRunAnswer>()};
  return kinds;
}

void check_answers(Document const& answers, Diagnostics& faults) {
  if (!answers.find(HouseAnswer::kind) && faults.empty())
    faults.add({"E205", answers.root.at, "[house] is missing", "[house] with floor_area = \"1800 ft²\"", "add [house]"});
}

std::vector<UnknownAnswer> unknowns_of(Document const& answers, UnitSystem units) {
  std::vector<UnknownAnswer> list;
  auto const add = [&](std::string const& whose, Field const& f) {
    std::string key = f.key;
    std::replace(key.begin(), key.end(), '_', ' ');
    list.push_back({whose, key, f.help.in(units)});
  };
  for (auto const& k : answers_catalog()) {
    if (k.name == Opening::kind) continue;
    bool told = false;
    for (auto const& t : answers.tables) {
      if (t.kind->name != k.name) continue;
      told = true;
      for (std::size_t i = 0; i < k.fields.size(); ++i)
        if (!is_stated(t.values[i])) add(t.name.empty() ? k.name : t.name, k.fields[i]);
    }
    if (told) continue;
    if (k.home == Home::repeated) list.push_back({"zones", "", ""});
    else
      for (auto const& f : k.fields) add(k.name, f);
  }
  return list;
}

}  // namespace steadyfire
