#include "sim/study/network_picture.hpp"

#include <algorithm>

namespace steadyfire {
namespace {

std::string spaced(std::string name) {
  std::replace(name.begin(), name.end(), '/', ' ');
  return name;
}

std::string drawn_as(Piece const& piece) {
  if (piece.name == "tees/gap") return "tee gap";
  switch (piece.kind->role) {
    case Role::pipe: return "pipe";
    case Role::circulator: return "circulator";
    case Role::valve: return "valve";
    case Role::check: return "check";
    case Role::emitter: return "emitter";
    case Role::boiler: return "boiler";
    case Role::tank: return "tank";
    case Role::exchanger: return "exchanger";
    default: return "other";
  }
}

}  // namespace

Drawing drawing_of(Plan const& plan) {
  Drawing d;
  auto const joint = [&](int place) { return d.joints[place - plan.first_joint]; };
  for (int j = 0; j < plan.joints; ++j) d.joints.push_back(plan.names[plan.first_joint + j].substr(6));  // "joint …"
  for (auto const& run : plan.branches) {
    auto const& piece = plan.pieces[run.piece];
    d.limbs.push_back(
        {piece.name, piece.kind->name, spaced(piece.name), piece.zone, joint(run.inlet), joint(run.outlet), run.limb, drawn_as(piece)});
  }
  return d;
}

}  // namespace steadyfire
