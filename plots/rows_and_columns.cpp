#include "plots/rows_and_columns.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <numeric>
#include <set>

#include <Eigen/Dense>
#include <graphviz/gvc.h>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {
namespace {

constexpr double symbol_gap = 14, spot_room = 58, tee_distance = 68;
constexpr double row_words = 28;  // what words between two rows need beyond the room of their spots

struct Groups {  // union-find
  std::vector<int> parent;
  int add() {
    parent.push_back(int(parent.size()));
    return parent.back();
  }
  int find(int i) { return parent[i] == i ? i : parent[i] = find(parent[i]); }
  void unite(int a, int b) { parent[find(b)] = find(a); }
};

/// A row of limbs between two joints that is drawn as one straight line.
struct Chain {
  std::vector<int> limbs;
  int first, last;  // joints; the upper and the lower one if upright
  bool upright = false;
};

/// A point where a joint shows. A joint with many limbs has several, linked by plain pipe.
struct Node {
  int joint, column;
  int parent = -1;                                // spot that this one widens
  int up = -1, down = -1, left = -1, right = -1;  // chain, or stub past all chains
};

class Layout {
 public:
  explicit Layout(Drawing const& d) : drawing_{d} {}
  PipingLayout make() {
    index();
    find_sides();
    find_chains();
    stand_upright_chains();
    order_columns();
    join_level_chains();
    place();
    return finish();
  }

 private:
  Drawing const& drawing_;
  int joints_ = 0;
  std::vector<int> from_, to_;
  std::vector<std::vector<int>> at_;  // limbs at a joint
  std::vector<double> height_;        // of a joint: 1 at the boilers' outlets, 0 at their inlets
  std::vector<bool> upright_;
  std::vector<Chain> chains_;
  std::vector<std::pair<int, int>> chain_spots_;  // upper and lower, or left and right
  std::vector<Node> spots_;
  std::vector<std::vector<int>> spots_of_;  // joint → its spots, left to right
  Groups columns_;
  std::vector<int> order_;                  // column root → its place from the left
  std::vector<std::pair<int, int>> stubs_;  // spot, the one it widens into
  std::vector<Spot> spot_at_, limb_at_;
  /// Closely spaced tees, supply and return: where the boiler's row turns, the tee, where the zones' row turns.
  struct Tee {
    int corner, tee, beyond;
  };
  std::vector<std::pair<Tee, Tee>> close_tees_;

  std::string const& role(int limb) const { return drawing_.limbs[limb].role; }
  bool parts_water(int limb) const {
    auto const& r = role(limb);
    return r == "boiler" || r == "tank" || r == "tee gap" || r == "exchanger";
  }
  bool crosses(int limb) const {  // from the supply to the return
    auto const& r = role(limb);
    return r == "emitter" || parts_water(limb) || drawing_.limbs[limb].kind.find("bypass") != std::string::npos;
  }
  int other_end(int limb, int joint) const { return from_[limb] == joint ? to_[limb] : from_[limb]; }

  void index() {
    std::map<std::string, int> number;
    auto const of = [&](std::string const& name) { return number.try_emplace(name, int(number.size())).first->second; };
    for (auto const& j : drawing_.joints) of(j);
    for (auto const& l : drawing_.limbs) from_.push_back(of(l.from)), to_.push_back(of(l.to));
    joints_ = int(number.size());
    at_.resize(joints_);
    for (int l = 0; l < int(from_.size()); ++l) {
      at_[from_[l]].push_back(l);
      if (to_[l] != from_[l]) at_[to_[l]].push_back(l);
    }
  }

  /// Supply or return side of each joint: the sign of a potential driven by the boilers
  /// through pipes that conduct well and emitters that do not.
  void find_sides() {
    Groups parts;
    for (int j = 0; j < joints_; ++j) parts.add();
    for (int l = 0; l < int(from_.size()); ++l) parts.unite(from_[l], to_[l]);
    std::map<int, std::vector<int>> members;
    for (int l = 0; l < int(from_.size()); ++l) members[parts.find(from_[l])].push_back(l);
    Eigen::MatrixXd conductance = Eigen::MatrixXd::Identity(joints_, joints_) * 1e-9;  // a grounding too weak to matter
    Eigen::VectorXd drive = Eigen::VectorXd::Zero(joints_);
    for (auto const& [part, limbs] : members) {
      std::vector<int> sources;
      for (auto const* kind : {"boiler", "exchanger", "circulator"}) {
        if (sources.empty()) std::copy_if(limbs.begin(), limbs.end(), std::back_inserter(sources), [&](int l) { return role(l) == kind; });
      }
      if (sources.empty() || role(sources[0]) == "circulator") sources.assign(1, sources.empty() ? limbs[0] : sources[0]);
      for (int l : sources) drive[to_[l]] += 1, drive[from_[l]] -= 1;
      for (int l : limbs) {
        if (std::find(sources.begin(), sources.end(), l) != sources.end()) continue;
        double const g = crosses(l) ? 1e-4 : 1;
        conductance(from_[l], from_[l]) += g, conductance(to_[l], to_[l]) += g;
        conductance(from_[l], to_[l]) -= g, conductance(to_[l], from_[l]) -= g;
      }
    }
    Eigen::VectorXd const potential = conductance.ldlt().solve(drive);
    std::map<int, std::pair<double, double>> range;
    for (int j = 0; j < joints_; ++j) {
      auto& [low, high] = range.try_emplace(parts.find(j), potential[j], potential[j]).first->second;
      low = std::min(low, potential[j]), high = std::max(high, potential[j]);
    }
    height_.resize(joints_);
    for (int j = 0; j < joints_; ++j) {
      auto const [low, high] = range[parts.find(j)];
      height_[j] = high > low ? (potential[j] - low) / (high - low) : 0.5;
    }
  }

  bool supply(int joint) const { return height_[joint] > 0.5; }

  void find_chains() {
    int const n = int(from_.size());
    for (int l = 0; l < n; ++l) {
      upright_.push_back(!drawing_.limbs[l].zone.empty() || role(l) == "boiler" || supply(from_[l]) != supply(to_[l]));
    }
    auto const goes_on = [&](int joint, int limb) {  // the next limb of the same straight line, or -1
      if (at_[joint].size() != 2) return -1;
      int const next = at_[joint][0] == limb ? at_[joint][1] : at_[joint][0];
      bool const same = upright_[next] == upright_[limb] && drawing_.limbs[next].zone == drawing_.limbs[limb].zone;
      return same && !parts_water(limb) && !parts_water(next) ? next : -1;
    };
    std::vector<bool> seen(n);
    for (int seed = 0; seed < n; ++seed) {
      if (seen[seed]) continue;
      Chain c{{seed}, from_[seed], to_[seed], upright_[seed]};
      seen[seed] = true;
      for (bool at_end : {true, false}) {
        int& tip = at_end ? c.last : c.first;
        int limb = seed;
        for (int next; (next = goes_on(tip, limb)) >= 0 && !seen[next]; limb = next) {
          seen[next] = true;
          c.limbs.insert(at_end ? c.limbs.end() : c.limbs.begin(), next);
          tip = other_end(next, tip);
        }
      }
      chains_.push_back(std::move(c));
    }
    for (auto& c : chains_) {
      auto const within = [&](int joint) {  // a branch point inside one zone: part of a manifold
        return at_[joint].size() > 2 && std::all_of(at_[joint].begin(), at_[joint].end(),
                                                    [&](int l) { return drawing_.limbs[l].zone == drawing_.limbs[c.limbs[0]].zone; });
      };
      if (c.upright && supply(c.first) == supply(c.last) && within(c.first) && within(c.last)) c.upright = false;
      if (c.upright && height_[c.first] < height_[c.last]) turn(c);
    }
    // Boilers, tanks and tee gaps are the backbone: they stand straight under their joints, zones widen them.
    std::stable_partition(chains_.begin(), chains_.end(), [&](Chain const& c) { return c.upright && parts_water(c.limbs[0]); });
    chain_spots_.assign(chains_.size(), {-1, -1});
  }
  static void turn(Chain& c) {
    std::swap(c.first, c.last);
    std::reverse(c.limbs.begin(), c.limbs.end());
  }

  int add_spot(int joint, int column, int parent = -1) {
    spots_.push_back({.joint = joint, .column = column, .parent = parent});
    if (parent >= 0) stubs_.emplace_back(parent, int(spots_.size()) - 1);
    return int(spots_.size()) - 1;
  }
  int stub_mark() const { return int(chains_.size()) + int(stubs_.size()); }

  /// Widens a joint to the right, into a column.
  int widen(int joint, int column) {
    int const last = spots_of_[joint].back(), added = add_spot(joint, column, last);
    spots_[last].right = spots_[added].left = stub_mark();
    spots_of_[joint].push_back(added);
    return added;
  }

  void stand_upright_chains() {
    spots_of_.resize(joints_);
    std::vector<bool> inside(joints_, true);  // joints in the middle of a chain have no spot
    for (auto const& c : chains_) inside[c.first] = inside[c.last] = false;
    for (int j = 0; j < joints_; ++j) {
      if (!inside[j]) spots_of_[j] = {add_spot(j, columns_.add())};
    }
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const& c = chains_[k];
      if (stand_as_close_tees(k)) continue;
      if (c.upright || c.first == c.last) hang(k);
    }
  }

  /// Two tees close together are drawn so: the boiler's loop runs down past both, the zones' rows leave and
  /// return there. Only where a boiler's pipe and a zones' pipe meet the gap at either tee; else it is hung.
  bool stand_as_close_tees(int k) {
    auto const& c = chains_[k];
    if (!c.upright || role(c.limbs[0]) != "tee gap" || !supply(c.first) || supply(c.last)) return false;
    for (int const joint : {c.first, c.last}) {
      int boilers = 0;
      if (at_[joint].size() != 3) return false;
      for (int l : at_[joint]) {
        if (l == c.limbs[0]) continue;
        if (upright_[l]) return false;
        boilers += leads_to_boiler(other_end(l, joint), c);
      }
      if (boilers != 1) return false;
    }
    int const column = columns_.add(), next = columns_.add();
    auto const tee = [&](int joint, int Node::*out, int Node::*in) {
      int const corner = spots_of_[joint].front(), at = add_spot(joint, column, corner);
      columns_.unite(column, spots_[corner].column);
      spots_[corner].*in = spots_[at].*out = stub_mark();
      int const aside = add_spot(joint, next, at);
      spots_[at].right = spots_[aside].left = stub_mark();
      int const beyond = add_spot(joint, next, aside);
      spots_[aside].*out = spots_[beyond].*in = stub_mark();
      spots_of_[joint] = {corner, beyond};
      return Tee{corner, at, beyond};
    };
    close_tees_.emplace_back(tee(c.first, &Node::up, &Node::down), tee(c.last, &Node::down, &Node::up));
    auto const& [upper, lower] = close_tees_.back();
    spots_[upper.tee].down = spots_[lower.tee].up = k;
    chain_spots_[k] = {upper.tee, lower.tee};
    return true;
  }
  /// Whether a boiler is met from a joint without passing the tees.
  bool leads_to_boiler(int joint, Chain const& tees) const {
    std::set<int> seen{tees.first, tees.last, joint};
    for (std::vector<int> left{joint}; !left.empty();) {
      int const at = left.back();
      left.pop_back();
      for (int l : at_[at]) {
        if (role(l) == "boiler") return true;
        if (seen.insert(other_end(l, at)).second) left.push_back(other_end(l, at));
      }
    }
    return false;
  }

  /// Hangs a chain between its joints, in their column where it is free, else in one beside it.
  void hang(int k) {
    auto const& c = chains_[k];
    int top = spots_of_[c.first].back(), bottom = spots_of_[c.last].back();
    bool const same = columns_.find(spots_[top].column) == columns_.find(spots_[bottom].column);
    bool const widen_top = same || spots_[top].down >= 0, widen_bottom = same || spots_[bottom].up >= 0;
    int const own = widen_top && widen_bottom ? columns_.add() : -1;
    if (widen_top) top = widen(c.first, own >= 0 ? own : spots_[bottom].column);
    if (widen_bottom) bottom = widen(c.last, own >= 0 ? own : spots_[top].column);
    columns_.unite(spots_[top].column, spots_[bottom].column);
    spots_[top].down = spots_[bottom].up = k;
    chain_spots_[k] = {top, bottom};
  }

  /// Columns from left to right: depth first along the supply, so that what hangs on one
  /// branch stays together and outer rows pass around inner ones.
  void order_columns() {
    for (int k = 0; k < int(chains_.size()); ++k) {  // a level chain within one column cannot be level
      auto const& c = chains_[k];
      if (chain_spots_[k].first < 0 && column_of(spots_of_[c.first].back()) == column_of(spots_of_[c.last].front())) hang(k);
    }
    std::map<int, std::vector<std::pair<int, int>>> beside;  // column → (urgency, column)
    auto const link = [&](int a, int b, int urgency) { beside[a].emplace_back(urgency, b), beside[b].emplace_back(urgency, a); };
    for (auto const& [s, t] : stubs_) link(column_of(s), column_of(t), 0);
    for (int a = 0; a < int(from_.size()); ++a) {
      for (int b = 0; b < a && role(a) == "exchanger"; ++b) {
        if (drawing_.limbs[a].id == drawing_.limbs[b].id) link(column_of_limb(a), column_of_limb(b), 0);
      }
    }
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const& c = chains_[k];
      if (chain_spots_[k].first < 0)
        link(column_of(spots_of_[c.first].back()), column_of(spots_of_[c.last].front()), supply(c.first) ? 1 : 2);
    }
    order_.assign(columns_.parent.size(), -1);
    int next = 0;
    std::function<void(int)> const visit = [&](int column) {
      if (order_[column] >= 0) return;
      order_[column] = next++;
      auto& neighbours = beside[column];
      std::stable_sort(neighbours.begin(), neighbours.end(), [](auto const& a, auto const& b) { return a.first < b.first; });
      for (auto const& [urgency, to] : neighbours) visit(to);
    };
    for (bool boilers : {true, false}) {
      for (int k = 0; k < int(chains_.size()); ++k) {
        if (chain_spots_[k].first >= 0 && (!boilers || role(chains_[k].limbs[0]) == "boiler")) visit(column_of(chain_spots_[k].first));
      }
    }
    for (int s = 0; s < int(spots_.size()); ++s) visit(column_of(s));
  }
  int column_of(int spot) { return columns_.find(spots_[spot].column); }
  int column_of_limb(int limb) {
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const& l = chains_[k].limbs;
      if (std::find(l.begin(), l.end(), limb) != l.end())
        return column_of(chain_spots_[k].first >= 0 ? chain_spots_[k].first : spots_of_[chains_[k].first].back());
    }
    throw InternalError{"a limb stands in no chain"};
  }

  void join_level_chains() {
    std::vector<int> level;
    for (int k = 0; k < int(chains_.size()); ++k) {
      if (chain_spots_[k].first < 0) level.push_back(k);
    }
    auto const place = [&](int joint) { return order_[column_of(spots_of_[joint].front())]; };
    auto const span = [&](int k) { return std::abs(place(chains_[k].first) - place(chains_[k].last)); };
    std::stable_sort(level.begin(), level.end(), [&](int a, int b) { return span(a) < span(b); });  // inner rows before outer ones
    for (int k : level) {
      auto& c = chains_[k];
      if (place(c.first) > place(c.last)) turn(c);
      int const left = attach(rightmost(c), &Node::right, k), right = attach(spots_of_[c.last].front(), &Node::left, k);
      chain_spots_[k] = {left, right};
    }
  }
  /// Where a level chain leaves its first joint to the right. From close tees the boiler's pipes leave on its side, around the zones' row.
  int rightmost(Chain const& c) {
    for (auto const& [upper, lower] : close_tees_) {
      auto const& gap = chains_[spots_[upper.tee].down];
      for (auto const* tee : {&upper, &lower})
        if (spots_[tee->corner].joint == c.first && leads_to_boiler(c.last, gap)) return add_corner(tee->corner);
    }
    return spots_of_[c.first].back();
  }
  /// A spot further out: above a joint of the supply, below one of the return.
  int add_corner(int spot) {
    auto const outwards = supply(spots_[spot].joint) ? &Node::up : &Node::down, inwards = outwards == &Node::up ? &Node::down : &Node::up;
    int const corner = add_spot(spots_[spot].joint, spots_[spot].column, spot);
    spots_[spot].*outwards = spots_[corner].*inwards = stub_mark();
    return corner;
  }
  /// Joins a level chain to a spot, or around a corner above (supply) or below (return) it.
  int attach(int spot, int Node::*side, int chain) {
    auto const outwards = supply(spots_[spot].joint) ? &Node::up : &Node::down;
    while (spots_[spot].*side >= 0) {
      int const beyond = spots_[spot].*outwards;
      if (beyond >= 0 && beyond < int(chains_.size())) break;  // taken by a chain: drawn over what is there
      if (beyond >= 0) {
        spot = std::find_if(stubs_.begin(), stubs_.end(), [&](auto const& s) {
                 return s.first == spot && spots_[s.second].column == spots_[spot].column;
               })->second;
        continue;
      }
      spot = add_corner(spot);
    }
    spots_[spot].*side = chain;
    return spot;
  }

  Spot room_for(int limb, bool upright) const {  // width and height kept free, words included where they stand above
    auto const& r = role(limb);
    if (!upright) return {words_width, 112};
    if (r == "boiler") return {96, 124};
    if (r == "tank") return {64, 150};
    return {56, r == "tee gap" ? tee_distance - spot_room : 66.};
  }

  /// What Graphviz is asked: columns are its ranks, rows its straight edges.
  void place() {
    static std::mutex alone;
    std::lock_guard const lock{alone};
    std::unique_ptr<GVC_t, int (*)(GVC_t*)> const context{gvContext(), gvFreeContext};
    std::unique_ptr<Agraph_t, int (*)(Agraph_t*)> const graph{agopen(const_cast<char*>("piping"), Agdirected, nullptr), agclose};
    auto* const g = graph.get();
    auto const text = [](auto const& s) { return const_cast<char*>(static_cast<char const*>(s)); };
    auto const set = [&](void* object, char const* key, std::string const& value) {
      agsafeset(object, text(key), text(value.c_str()), text(""));
    };
    auto const node = [&](std::string const& name, Spot room) {
      auto* n = agnode(g, text(name.c_str()), 1);
      set(n, "width", std::to_string(room.x / 72)), set(n, "height", std::to_string(room.y / 72));
      return n;
    };
    auto const edge = [&](Agnode_t* a, Agnode_t* b, int weight, int least = 1) {
      auto* e = agedge(g, a, b, nullptr, 1);
      set(e, "weight", std::to_string(weight)), set(e, "minlen", std::to_string(least));
    };
    for (auto const& [key, value] : {std::pair{"rankdir", "LR"}, {"splines", "none"}, {"nodesep", "0.06"}, {"ranksep", "0.12"}})
      set(g, key, value);
    agattr(g, AGNODE, text("label"), text(""));
    agattr(g, AGNODE, text("fixedsize"), text("true"));
    agattr(g, AGNODE, text("shape"), text("box"));

    std::vector<Agnode_t*> spot_node, limb_node(from_.size());
    for (int s = 0; s < int(spots_.size()); ++s) spot_node.push_back(node("s" + std::to_string(s), {8, spot_room}));
    for (auto const& c : chains_) {
      for (int l : c.limbs) limb_node[l] = node("l" + std::to_string(l), room_for(l, c.upright));
    }
    // A ruler above everything holds the columns in their order and at least a word apart.
    int const columns = 1 + *std::max_element(order_.begin(), order_.end());
    std::vector<Agnode_t*> ruler;
    for (int i = 0; i < columns; ++i) {
      ruler.push_back(node("r" + std::to_string(i), {8, 4}));
      if (i == 0) continue;
      auto* spacer = node("x" + std::to_string(i), {words_width, 4});
      edge(ruler[i - 1], spacer, 1), edge(spacer, ruler[i], 1);
    }
    std::vector<std::vector<Agnode_t*>> stacked(columns);  // top to bottom
    stacks_.resize(columns);
    for (int s = 0; s < int(spots_.size()); ++s) {
      bool const top = spots_[s].up < 0;
      if (top) stack_below(s, stacks_[order_[column_of(s)]]);
    }
    for (int i = 0; i < columns; ++i) {
      auto* same = agsubg(g, text(("c" + std::to_string(i)).c_str()), 1);
      set(same, "rank", "same");
      agsubnode(same, ruler[i], 1);
      auto* above = ruler[i];
      for (int item : stacks_[i]) {
        auto* n = item >= 0 ? spot_node[item] : limb_node[~item];
        agsubnode(same, n, 1);
        edge(above, n, 1);
        above = n;
      }
    }
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const& c = chains_[k];
      if (spots_[chain_spots_[k].first].down == k) continue;
      auto* before = spot_node[chain_spots_[k].first];
      for (int l : c.limbs) edge(before, limb_node[l], 100), before = limb_node[l];
      edge(before, spot_node[chain_spots_[k].second], 100);
    }
    for (auto const& [a, b] : stubs_) {
      if (column_of(a) != column_of(b)) edge(spot_node[a], spot_node[b], 100, 2);
    }
    if (gvLayout(context.get(), g, "dot") != 0) throw InternalError{"Graphviz has no layout named dot"};
    auto const at = [](Agnode_t* n) { return Spot{ND_coord(n).x, -ND_coord(n).y}; };
    for (auto* n : spot_node) spot_at_.push_back(at(n));
    for (auto* n : limb_node) limb_at_.push_back(at(n));
    gvFreeLayout(context.get(), g);
    straighten();
  }
  std::vector<std::vector<int>> stacks_;  // column → spots (≥ 0) and limbs (~limb), top to bottom

  void stack_below(int spot, std::vector<int>& stack) const {
    while (true) {
      stack.push_back(spot);
      int const down = spots_[spot].down;
      if (down < 0) return;
      if (down < int(chains_.size())) {
        for (int l : chains_[down].limbs) stack.push_back(~l);
        spot = chain_spots_[down].second;
      } else {
        auto const stub = std::find_if(stubs_.begin(), stubs_.end(), [&](auto const& s) {
          int const other = s.first == spot ? s.second : s.second == spot ? s.first : -1;
          return other >= 0 && spots_[other].up == down;
        });
        spot = stub->first == spot ? stub->second : stub->first;
      }
    }
  }

  /// Snaps rows and columns, and spreads what hangs freely between two rows.
  void straighten() {
    int const n_spots = int(spots_.size()), n = n_spots + int(from_.size());
    Groups rows;
    for (int i = 0; i < n; ++i) rows.add();
    std::vector<bool> level(n);
    auto const bind = [&](int a, int b) { rows.unite(a, b), level[a] = level[b] = true; };
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const [s, t] = chain_spots_[k];
      if (spots_[s].down == k) continue;
      bind(s, t);
      for (int l : chains_[k].limbs) bind(s, n_spots + l);
    }
    for (auto const& [a, b] : stubs_) {
      if (column_of(a) != column_of(b)) bind(a, b);
    }
    for (auto const& [upper, lower] : close_tees_) bind(upper.corner, upper.beyond), bind(lower.corner, lower.beyond);
    auto const at = [&](int i) -> Spot& { return i < n_spots ? spot_at_[i] : limb_at_[i - n_spots]; };
    std::vector<double> sum(n), count(n), y(n);
    for (int i = 0; i < n; ++i) sum[rows.find(i)] += at(i).y, count[rows.find(i)] += 1;
    for (int i = 0; i < n; ++i) y[i] = sum[rows.find(i)] / count[rows.find(i)];
    auto const half = [&](int item) { return (item >= 0 ? spot_room : room_for(~item, true).y) / 2; };
    auto const number = [&](int item) { return item >= 0 ? item : n_spots + ~item; };
    // Where rows had to move, everything below keeps its distance again.
    bool moved = true;
    for (int pass = 0; moved && pass < n; ++pass) {
      moved = false;
      for (auto const& stack : stacks_) {
        for (size_t i = 1; i < stack.size(); ++i) {
          double& below = y[rows.find(number(stack[i]))];
          double const words = stack[i - 1] >= 0 && stack[i] >= 0 ? row_words : 0;
          double const least = y[rows.find(number(stack[i - 1]))] + half(stack[i - 1]) + half(stack[i]) + words;
          if (below < least - 0.5 && spots_linked(stack, i)) below = least, moved = true;
        }
      }
    }
    for (auto const& [upper, lower] : close_tees_) {
      double const middle = (y[rows.find(upper.corner)] + y[rows.find(lower.corner)]) / 2;
      y[rows.find(upper.tee)] = middle - tee_distance / 2, y[rows.find(lower.tee)] = middle + tee_distance / 2;
    }
    for (int i = 0; i < n; ++i) at(i).y = std::round(y[rows.find(i)]);
    for (auto const& stack : stacks_) {
      if (stack.empty()) continue;
      double x = 0;
      for (int item : stack) x += at(number(item)).x / double(stack.size());
      for (int item : stack) at(number(item)).x = std::round(x);
      for (size_t fixed = 0, i = 1; i < stack.size(); ++i) {
        if (!level[number(stack[i])]) continue;
        spread(stack, fixed, i, at, number, half);
        fixed = i;
      }
    }
    for (int l = 0; l < int(from_.size()); ++l) limb_at_[l].x = std::round(limb_at_[l].x);
    space_level_limbs();
  }
  /// Whether an item of a stack hangs on the one above it.
  bool spots_linked(std::vector<int> const& stack, size_t i) const {
    return !(stack[i] >= 0 && stack[i - 1] >= 0 && spots_[stack[i]].up < 0);
  }
  template <class At, class Number, class Half>
  void spread(std::vector<int> const& stack, size_t first, size_t last, At const& at, Number const& number, Half const& half) {
    double room = at(number(stack[last])).y - at(number(stack[first])).y - half(stack[first]) - half(stack[last]);
    for (size_t i = first + 1; i < last; ++i) room -= 2 * half(stack[i]);
    double const gap = room / double(last - first);
    double y = at(number(stack[first])).y + half(stack[first]);
    for (size_t i = first + 1; i < last; ++i) {
      at(number(stack[i])).y = std::round(y + gap + half(stack[i]));
      y += gap + 2 * half(stack[i]);
    }
  }
  /// Limbs of a level chain at equal distances, which also keeps rows of one kind aligned.
  void space_level_limbs() {
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const [s, t] = chain_spots_[k];
      if (spots_[s].down == k) continue;
      double const a = spot_at_[s].x, b = spot_at_[t].x, count = double(chains_[k].limbs.size());
      for (int i = 0; i < int(count); ++i) limb_at_[chains_[k].limbs[i]].x = std::round(a + (b - a) * (i + 0.5) / count);
    }
  }

  PipingLayout finish() {
    PipingLayout out;
    out.limbs.resize(from_.size());
    for (int k = 0; k < int(chains_.size()); ++k) {
      auto const& c = chains_[k];
      auto const [first, last] = chain_spots_[k];
      Spot before = spot_at_[first];
      int joint = c.first;
      for (size_t i = 0; i < c.limbs.size(); ++i) {
        int const l = c.limbs[i];
        Spot const here = limb_at_[l], next = i + 1 < c.limbs.size() ? limb_at_[c.limbs[i + 1]] : spot_at_[last];
        Spot const after = i + 1 < c.limbs.size() ? Spot{(here.x + next.x) / 2, (here.y + next.y) / 2} : next;
        bool const along = from_[l] == joint;
        out.limbs[l] = {along ? before : after, here, along ? after : before, spots_[first].down == k};
        before = after;
        joint = other_end(l, joint);
      }
    }
    for (auto const& [near, far] : stubs_) {
      JointPipe pipe{spots_[near].joint, spot_at_[near], spot_at_[far], {}, {}};
      for (int k = 0; k < int(chains_.size()); ++k) {
        for (bool at_first : {true, false}) {
          int s = at_first ? chain_spots_[k].first : chain_spots_[k].second;
          while (s >= 0 && s != far) s = spots_[s].parent;
          if (s < 0) continue;
          int const limb = at_first ? chains_[k].limbs.front() : chains_[k].limbs.back();
          pipe.beyond.push_back(limb);
          pipe.leaving.push_back(from_[limb] == pipe.joint);
        }
      }
      out.joint_pipes.push_back(std::move(pipe));
    }
    for (auto const& s : spots_) {
      int const met = (s.up >= 0) + (s.down >= 0) + (s.left >= 0) + (s.right >= 0);
      if (met >= 3) out.tees.push_back(spot_at_[&s - spots_.data()]);
    }
    frame(out);
    return out;
  }

  /// Zones' boxes; then everything is moved to start at the margin.
  void frame(PipingLayout& out) const {
    double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
    auto const widen = [&](Spot a, Spot b) {
      left = std::min(left, a.x), top = std::min(top, a.y), right = std::max(right, b.x), bottom = std::max(bottom, b.y);
    };
    std::map<std::string, size_t> zone_at;
    for (size_t l = 0; l < out.limbs.size(); ++l) {
      auto const& p = out.limbs[l];
      Spot const room = room_for(int(l), p.upright);
      Spot const low{p.symbol.x - room.x / 2, p.symbol.y - room.y / 2};
      Spot const high{p.symbol.x + room.x / 2 + (p.upright ? words_width - symbol_gap : 0), p.symbol.y + room.y / 2};
      widen(low, high);
      auto const& name = drawing_.limbs[l].zone;
      if (name.empty()) continue;
      auto const [it, fresh] = zone_at.try_emplace(name, out.zones.size());
      if (fresh) out.zones.push_back({name, low, high});
      auto& z = out.zones[it->second];
      z.top_left = {std::min(z.top_left.x, low.x), std::min(z.top_left.y, low.y)};
      z.bottom_right = {std::max(z.bottom_right.x, high.x), std::max(z.bottom_right.y, high.y)};
    }
    for (auto const& s : spot_at_) widen(s, s);
    shift(out, {margin - left, margin - top});
    out.width = right - left + 2 * margin, out.height = bottom - top + 2 * margin;
  }
};

}  // namespace

void shift(PipingLayout& out, Spot by) {
  auto const move = [&](Spot& s) { s.x += by.x, s.y += by.y; };
  for (auto& p : out.limbs) move(p.start), move(p.symbol), move(p.end);
  for (auto& p : out.joint_pipes) move(p.near), move(p.far);
  for (auto& t : out.tees) move(t);
  for (auto& z : out.zones) move(z.top_left), move(z.bottom_right);
}

PipingLayout in_rows_and_columns(Drawing const& drawing) { return Layout{drawing}.make(); }

}  // namespace steadyfire
