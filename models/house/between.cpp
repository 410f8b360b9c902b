#include "models/house/between.hpp"

#include <algorithm>

#include "models/building/room.hpp"

namespace steadyfire {

std::vector<Field> BetweenSection::schema() {
  using namespace unit;
  return {reference<&BetweenSection::zones>("zones", "zone", "the two zones, by name"),
          field<&BetweenSection::area>("area", square_foot, 1, 1e5, "area of the wall or floor between them"),
          field<&BetweenSection::resistance>("r_value", R_value, 0.3, 100, "R-value with the air films of both faces")
              .typical(2, 3.2, 5, "framed partition, ASHRAE Handbook Fundamentals, edition not checked")};
}

void add_partitions(Document const& document, Builder& builder, Diagnostics& faults) {
  builder.zone = "";
  std::vector<std::string> known;
  for (auto const& z : builder.installation.zones)
    if (z.room >= 0) known.push_back(z.name);
  for (auto const& table : document.tables) {
    if (table.kind->name != BetweenSection::kind) continue;
    auto const& zones = value_of<&BetweenSection::zones>(table);
    if (zones.texts.size() != 2 || zones.texts[0] == zones.texts[1]) {
      faults.add({"E293", zones.at, "between: a wall or a floor has two sides", "two different zones: zones = [\"bath\", \"hall\"]",
                  "write one [[between]] for each pair of zones"});
      continue;
    }
    bool stands = true;
    for (auto const& name : zones.texts) {
      if (std::find(known.begin(), known.end(), name) != known.end()) continue;
      auto const near = nearest(name, known);
      faults.add({"E293", zones.at, "between: no zone '" + name + "' with a room", "the name of a zone that has a room",
                  near.empty() ? "" : "did you mean '" + near + "'?"});
      stands = false;
    }
    if (!stands) continue;
    std::string const name = zones.texts[0] + " to " + zones.texts[1];
    std::string unique = name;
    for (int n = 2; builder.installation.find(unique) >= 0; ++n) unique = name + " " + std::to_string(n);
    std::vector<Setting> made{{"one", zones.texts[0] + "/room"}, {"other", zones.texts[1] + "/room"},
                              {"area", *get<&BetweenSection::area>(table)}};
    auto const& r = value_of<&BetweenSection::resistance>(table);
    if (r.given && !r.unknown) made.push_back({"r_value", r.numbers.at(0)});
    builder.add(Partition::kind, unique, {}, made);
  }
}

}  // namespace steadyfire
