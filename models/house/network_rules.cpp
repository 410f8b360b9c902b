#include "models/house/network_rules.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "models/building/thermostats.hpp"
#include "sim/network/topology.hpp"

namespace steadyfire {
namespace {

std::string joint_name(Plan const& plan, int joint) { return plan.names[plan.first_joint + joint].substr(6); }  // after "joint "

/// An expansion tank ends its pipe, as it should.
bool is_inside_tank(Plan const& plan, int joint) {
  return std::any_of(plan.branches.begin(), plan.branches.end(), [&](auto const& run) {
    return run.outlet == plan.first_joint + joint && plan.pieces[run.piece].kind->role == Role::expansion;
  });
}

struct Island {
  bool has_head = false;
  double inflow = 0, gross = 0;
  int first = -1;
};
std::vector<Island> islands_of(Plan const& plan, Topology const& shape) {
  std::vector<Island> islands(shape.islands);
  for (int j = 0; j < plan.joints; ++j) {
    auto& island = islands[shape.island[j]];
    if (island.first < 0) island.first = j;
    island.has_head |= plan.joint_head[j].has_value();
    island.inflow += plan.joint_inflow[j], island.gross += std::abs(plan.joint_inflow[j]);
  }
  return islands;
}

}  // namespace

void check_network(Installation const& installation, Diagnostics& faults) {
  if (installation.pieces.empty()) {
    faults.add({"E239",
                {1, 1, 1},
                "there is nothing to solve",
                "[boiler] and [[zone]] for a house, or [[pipe]] and [[joint]] for a piping network",
                ""});
    return;
  }
  Plan const plan = lay_out(installation);
  std::map<std::string, int> met;
  std::vector<std::string> known;
  for (int j = 0; j < plan.joints; ++j) met[joint_name(plan, j)] = j, known.push_back(joint_name(plan, j));
  for (auto const& g : installation.joints)
    if (!met.count(g.name)) {
      auto const near = nearest(g.name, known);
      faults.add({"E238", g.at, "joint '" + g.name + "': no pipe connects to it", "a name used in a 'from' or 'to'",
                  near.empty() ? "" : "did you mean '" + near + "'?"});
    }
  for (auto const& island : islands_of(plan, study_topology(plan))) {
    if (island.has_head || std::abs(island.inflow) <= 1e-9 * island.gross) continue;
    Position at;
    for (auto const& g : installation.joints)
      if (g.inflow && met.count(g.name) && !at.line) at = g.at;
    faults.add({"E237", at,
                fmt::format("the inflows around joint '{}' add up to {}, and no joint has a head",
                            joint_name(plan, island.first), show(island.inflow, measure::flow, UnitSystem::us)),
                "inflows that add up to zero, or one joint with a head", "write an outflow as a negative inflow"});
  }
}

void check_added_pieces(Installation const& installation, std::vector<Entry> const& tables, Diagnostics& faults) {
  std::map<std::string, int> ends;
  for (auto const& piece : installation.pieces)
    for (auto const& joint : piece.ports) ++ends[joint];
  for (auto const& t : tables)
    for (std::size_t i = 0; i < t.ports.size(); ++i) {
      if (ends[t.ports[i]] != 1) continue;
      std::vector<std::string> others;
      for (auto const& [joint, count] : ends)
        if (count > 1) others.push_back(joint);
      auto const near = nearest(t.ports[i], others);
      faults.add({"E238", t.ports_at[i],
                  t.kind->name + " '" + t.name + "' connects to joint '" + t.ports[i] + "', which connects to nothing else",
                  fmt::format("one of these joints: {}", fmt::join(others, ", ")),
                  near.empty() ? "" : "did you mean '" + near + "'?"});
    }
}

void check_references(Installation const& installation, Diagnostics& faults) {
  std::map<std::string, std::vector<Role>> const roles{{"room", {Role::room}}, {"control", {Role::thermostat, Role::relay, Role::reset}}};
  for (auto const& piece : installation.pieces)
    for (std::size_t i = 0; i < piece.values.size(); ++i) {
      auto const& f = piece.kind->fields[i];
      auto const& v = piece.values[i];
      if (f.sort != Field::Sort::reference && f.sort != Field::Sort::references) continue;
      for (auto const& name : v.texts) {
        int const at = installation.find(name);
        if (at < 0) continue;  // told already
        Kind const& named = *installation.pieces[at].kind;
        auto const as_role = roles.find(f.refers_to);
        bool const calls = f.refers_to == "control" && (named.name == "zone valve" || named.calls_itself);  // by its end switch or control
        bool const asks = f.key == "sources" && named.family == "mixing";
        bool const fits =
            named.family == f.refers_to || calls || asks ||
            (as_role != roles.end() && std::find(as_role->second.begin(), as_role->second.end(), named.role) != as_role->second.end());
        if (fits) continue;
        faults.add({"E231", v.at.line ? v.at : piece.at,
                    piece.kind->name + " '" + piece.name + "': " + f.key + " is '" + name + "', which is a " + named.name,
                    "the name of a " + f.refers_to, ""});
      }
    }
}

std::vector<Finding> lonely_joints(Installation const& installation) {
  Plan const plan = lay_out(installation);
  auto const shape = study_topology(plan);
  std::vector<Finding> list;
  for (int j = 0; j < plan.joints; ++j) {
    if (!shape.lonely[j] || plan.joint_head[j] || plan.joint_inflow[j] != 0 || is_inside_tank(plan, j)) continue;
    std::vector<std::string> others;
    for (int k = 0; k < plan.joints; ++k)
      if (k != j) others.push_back(joint_name(plan, k));
    auto const near = nearest(joint_name(plan, j), others);
    list.push_back({.id = "network.lonely_joint",
                    .place = joint_name(plan, j),
                    .severity = Severity::minor,
                    .figures = {},
                    .limit = std::nullopt,
                    .whose = common_practice,
                    .words = say("joint '{}' has only one connection; nothing can flow through it.", joint_name(plan, j)),
                    .order = 30,
                    .fix = near.empty() ? Words("check the spelling of `from` and `to`.")
                                        : say("check the spelling of `from` and `to`; is '{}' meant?", near)});
  }
  return list;
}

std::vector<Finding> hurried_thermostats(Installation const& installation) {
  std::vector<Finding> list;
  for (auto const& zone : installation.zones) {
    if (zone.thermostat < 0 || zone.emitter < 0 || installation.pieces[zone.thermostat].kind->name != Thermostat::kind) continue;
    auto const& emitter = *installation.pieces[zone.emitter].kind;
    double const asked = *get<&Thermostat::cycles>(installation.pieces[zone.thermostat]);
    double const usual = emitter.usual ? emitter.usual->cycles / 3600 : asked;
    if (asked <= 2.01 * usual) continue;
    list.push_back({.id = "thermostat.too_fast",
                    .place = zone.name,
                    .severity = Severity::minor,
                    .figures = {{"cycles_per_hour", asked, measure::per_hour}},
                    .limit = Figure{"usual", usual, measure::per_hour},
                    .whose = common_practice,
                    .words = say("{} calls an hour, usual with this emitter ({}) {}. Calls of {} hardly reach the room and only start the "
                                 "burner.",
                                 Amount{asked * 3600, measure::count}, emitter.name, Amount{usual * 3600, measure::count},
                                 Amount{0.5 / asked, measure::minutes}),
                    .order = 25,
                    .fix = say("set cycles_per_hour to \"{} per hour\".", Amount{usual * 3600, measure::count})});
  }
  return list;
}

std::vector<std::string> assumed_references(Installation const& installation) {
  Plan const plan = lay_out(installation);
  std::vector<std::string> names;
  for (auto const& island : islands_of(plan, study_topology(plan)))
    if (!island.has_head) names.push_back(joint_name(plan, island.first));
  return names;
}

}  // namespace steadyfire
