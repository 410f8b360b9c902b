#include "sim/study/network_picture.hpp"

#include <algorithm>

namespace steadyfire {
namespace {

std::string drawn_as(Plan const& plan, int number) {
  auto const& piece = plan.pieces[number];
  if (plan.plays(number, Part::gap)) return "tee gap";
  if (plan.plays(number, Part::storage)) return "other";  // lies in a line: only tanks between supply and return stand upright
  switch (piece.kind->role) {
    case Role::pipe: return "pipe";
    case Role::circulator: return "circulator";
    case Role::valve: return "valve";
    case Role::check: return "check";
    case Role::emitter: return "emitter";
    case Role::boiler: return "boiler";
    case Role::tank: return "tank";
    case Role::exchanger: return "exchanger";
    case Role::tap: return "tap";
    case Role::cold_main: return "cold main";
    default: return "other";
  }
}

}  // namespace

std::string label_of(std::string name) {
  std::replace(name.begin(), name.end(), '/', ' ');
  return name;
}

bool is_drawn(Plan const& plan, Plan::Run const& run) {
  bool const is_second = run.limb == 1;
  auto const& piece = plan.pieces[run.piece];
  if (plan.plays(run.piece, Part::charger)) return false;
  if (!is_second || (piece.kind->role != Role::tap && piece.kind->role != Role::valve)) return true;
  return std::none_of(plan.branches.begin(), plan.branches.end(), [&](auto const& other) {
    return plan.pieces[other.piece].kind->role == Role::cold_main && other.outlet == run.inlet;
  });
}

Drawing drawing_of(Plan const& plan) {
  Drawing d;
  auto const joint = [&](int place) { return d.joints[place - plan.first_joint]; };
  for (int j = 0; j < plan.joints; ++j) d.joints.push_back(plan.names[plan.first_joint + j].substr(6));  // "joint …"
  for (auto const& run : plan.branches) {
    if (!is_drawn(plan, run)) continue;
    auto const& piece = plan.pieces[run.piece];
    d.limbs.push_back(
        {piece.name, piece.kind->name, label_of(piece.name), piece.zone, joint(run.inlet), joint(run.outlet), run.limb,
         drawn_as(plan, run.piece)});
  }
  return d;
}

}  // namespace steadyfire
