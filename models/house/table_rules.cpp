#include "models/house/table_rules.hpp"

#include <algorithm>
#include <map>

#include "models/gas/gas_line.hpp"

namespace steadyfire {

bool is_house(Document const& document) { return document.find("boiler") || document.find("lag boiler") || document.find("zone"); }

void check_tables(Document const& document, Diagnostics& faults) {
  auto const& told = faults.list();
  if (std::any_of(told.begin(), told.end(), [](auto const& d) { return d.code == "E202"; }))
    return;  // a misspelt [boiler] is no missing one
  auto const *boiler = document.find("boiler"), *zone = document.find("zone");
  auto const* second = document.find("lag boiler");
  if (is_house(document) && !boiler)
    faults.add({"E233", zone ? zone->at : second->at, zone ? "zones, but no boiler" : "a second boiler, but no first", "a [boiler] table",
                "or pipes and joints alone for a bare network"});
  if (boiler && !zone) faults.add({"E233", boiler->at, "a boiler, but no zone", "at least one [[zone]]", ""});
  static std::map<std::string, std::string> const of_a_house{{"site", "a bare network loses no heat: site and weather do nothing in it"},
                                                             {"near boiler", "a bare network's piping is its own pipes and joints"},
                                                             {"headers", "a bare network's piping is its own pipes and joints"},
                                                             {"controls", "nothing calls in a bare network: its circulators run"},
                                                             {"run", "a bare network has no boiler and no rooms to run through time"},
                                                             {"gas", "a bare network burns nothing"},
                                                             {"vent", "a bare network burns nothing"},
                                                             {"gas pipe", "a bare network burns nothing"},
                                                             {"gas appliance", "a bare network burns nothing"},
                                                             {"hot water", "hot water is made by a boiler"},
                                                             {"tap", "a bare network makes no hot water"}};
  if (auto const* tap = document.find("tap"); tap && boiler && !document.find("hot water"))
    faults.add({"E233", tap->at, "a tap, but nothing makes hot water", "a [hot_water] table", ""});
  for (auto const& t : document.tables) {
    if (t.kind->name == "joint" && is_house(document))
      faults.add({"E243", t.at, t.who + " is given in a house", "no [[joint]]",
                  "heads and inflows are for bare networks, without [boiler] and [[zone]]"});
    bool const of_any = t.kind->empty_batch || t.kind->name == "fluid" || t.kind->name == "joint";
    if (of_any || is_house(document)) continue;
    auto const why = of_a_house.find(t.kind->name);
    faults.add({"E233", t.at, t.who + " without a boiler and zones", "[boiler] and [[zone]], or no such table",
                why != of_a_house.end() ? why->second : "it is side data for the review of a house"});
  }
  if (faults.empty()) gas_line_of(document.tables, faults);
}

}  // namespace steadyfire
