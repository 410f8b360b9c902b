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
    faults.add({"E233", zone ? zone->at : second->at,
                zone ? "the scenario has zones, but no boiler" : "the scenario has a second boiler, but no first",
                "a [boiler] table", "add [boiler]; a piping network has only pipes and joints"});
  if (boiler && !zone) faults.add({"E233", boiler->at, "the scenario has a boiler, but no zone", "at least one [[zone]]",
      "add a [[zone]]"});
  static std::map<std::string, std::string> const of_a_house{{"site", "a piping network has no heat loss; remove this table"},
                                                             {"near boiler",
                                                                 "a piping network has its own pipes and joints; remove this table"},
                                                             {"headers",
                                                                 "a piping network has its own pipes and joints; remove this table"},
                                                             {"controls", "in a piping network all circulators run; remove this table"},
                                                             {"run", "a piping network cannot run; remove this table"},
                                                             {"gas", "a piping network has no boiler; remove this table"},
                                                             {"vent", "a piping network has no boiler; remove this table"},
                                                             {"gas pipe", "a piping network has no boiler; remove this table"},
                                                             {"gas appliance", "a piping network has no boiler; remove this table"},
                                                             {"hot water", "hot water needs a boiler; add [boiler] and [[zone]]"},
                                                             {"tap", "a piping network has no hot water; remove this table"}};
  if (auto const* tap = document.find("tap"); tap && boiler && !document.find("hot water"))
    faults.add({"E233", tap->at, "the scenario has a tap, but no hot water", "a [hot_water] table", "add [hot_water]"});
  bool const of_house = is_house(document);
  for (auto const& t : document.tables) {
    if (t.kind->name == "joint" && of_house)
      faults.add({"E243", t.at, t.who + ": [[joint]] in a scenario with a boiler and zones", "no [[joint]]",
                  "remove it: heads and inflows belong in a piping network"});
    bool const of_any = t.kind->empty_batch || t.kind->name == "fluid" || t.kind->name == "joint";
    if (of_any || of_house) continue;
    auto const why = of_a_house.find(t.kind->name);
    faults.add({"E233", t.at, t.who + ": the scenario has no boiler and zones", "a [boiler] and at least one [[zone]], or no such table",
                why != of_a_house.end() ? why->second : "it is used only in the review of a house; remove this table"});
  }
  if (faults.empty()) gas_line_of(document.tables, faults);
}

}  // namespace steadyfire
