#include "sim/network/topology.hpp"

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <boost/graph/connected_components.hpp>

namespace steadyfire {

// Each branch is a vertex between its two joints: two branches side by side are then no
// parallel edges, of which Boost's search for bridges would see one only.
Topology study_topology(Plan const& plan, std::vector<bool> const& open) {
  using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                      boost::property<boost::edge_index_t, int>>;
  int const branches = int(plan.branches.size());
  auto const is_open = [&](int b) { return open.empty() || open[b]; };

  Topology t;
  t.dead_leg.assign(branches, true), t.lonely.assign(plan.joints, false);
  Graph joints(plan.joints), halves(plan.joints + branches);
  std::vector<int> ends(plan.joints), first_half(branches, -1);
  int edges = 0;
  for (int b = 0; b < branches; ++b) {
    if (!is_open(b)) continue;
    int const i = plan.branches[b].inlet - plan.first_joint, o = plan.branches[b].outlet - plan.first_joint;
    ++ends[i], ++ends[o], ++t.loops;
    if (i == o) { t.dead_leg[b] = false; continue; }  // a loop of its own
    boost::add_edge(i, o, joints);
    first_half[b] = edges;
    boost::add_edge(i, plan.joints + b, edges++, halves);
    boost::add_edge(plan.joints + b, o, edges++, halves);
  }
  for (int j = 0; j < plan.joints; ++j) t.lonely[j] = ends[j] == 1;

  t.island.resize(plan.joints);
  t.islands = plan.joints ? boost::connected_components(joints, t.island.data()) : 0;
  t.loops += t.islands - plan.joints;  // the cycle rank: branches − joints + islands

  std::vector<std::size_t> block(edges);
  auto const count =
      boost::biconnected_components(halves, boost::make_iterator_property_map(block.begin(), get(boost::edge_index, halves)));
  std::vector<int> size(count);
  for (auto k : block) ++size[k];
  for (int b = 0; b < branches; ++b)
    if (first_half[b] >= 0) t.dead_leg[b] = size[block[first_half[b]]] == 1;
  return t;
}

std::string network_text(Plan const& plan) {
  auto const joint = [&](int place) { return plan.names[place].substr(std::string_view{"joint "}.size()); };
  std::string text;
  for (auto const& b : plan.branches) {
    auto const& piece = plan.pieces[b.piece];
    auto const& limbs = piece.kind->branches;
    text += piece.name;
    if (limbs.size() > 1) text += " [" + std::string(limbs[b.limb].inlet) + " to " + std::string(limbs[b.limb].outlet) + "]";
    text += " (" + piece.kind->name + "): " + joint(b.inlet) + " -> " + joint(b.outlet);
    if (b.cells > 0) text += ", " + std::to_string(b.cells) + (b.cells == 1 ? " cell" : " cells");
    text += "\n";
  }
  return text;
}

}  // namespace steadyfire
