#include "models/house/water_rules.hpp"

#include <algorithm>

namespace steadyfire {
namespace {

void check_name(Value const& v, std::string const& who, std::string const& what, std::vector<std::string> const& known,
                Diagnostics& faults) {
  if (!v.given || std::find(known.begin(), known.end(), v.text) != known.end()) return;
  auto const near = nearest(v.text, known);
  faults.add({"E296", v.at, who + ": no " + what + " is named '" + v.text + "'", "the name of a " + what,
              near.empty() ? "" : "did you mean '" + near + "'?"});
}

}  // namespace

void check_water_names(Installation const& in, Document const& document, Diagnostics& faults) {
  std::vector<std::string> joints, pipes;
  for (auto const& piece : in.pieces) {
    joints.insert(joints.end(), piece.ports.begin(), piece.ports.end());
    if (piece.kind->role == Role::pipe && piece.kind->name == "pipe") pipes.push_back(piece.name);
  }
  for (auto const& t : document.tables) {  // by key: these tables belong to the review, which this layer does not know
    if (t.kind->name == "safety") check_name(value_under(t, "relief_joint"), t.who, "joint", joints, faults);
    if (t.kind->name == "cold run") check_name(value_under(t, "pipe"), t.who, "pipe", pipes, faults);
  }
}

}  // namespace steadyfire
