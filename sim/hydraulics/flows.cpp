// Flows by Newton on the content of the network, Σ ∫loss dq: where every loss rises with
// flow the content is convex and its least value under continuity is the solution.
//
// Each step linearises the losses, loss ≈ loss₀ + s·(q' − q), and solves
//     Σ q' into each joint = its outflow,    q' = q + (p_inlet − p_outlet − loss₀)/s,    q' ≥ 0 in a check
// by eliminating the flows, which leaves a symmetric matrix in the joint pressures. Which
// checks are held is found within the step, so flows between two steps never break a check
// and the search along q' − q may use that the content falls along it.

#include "sim/hydraulics/flows.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <limits>
#include <numeric>

#include "sim/core/gravity.hpp"

namespace steadyfire {
namespace {

// The least slope of a step. What has a loss of its own keeps it exactly; a link without any
// gets this one, so that such links share a flow evenly and need no special case.
constexpr double least_slope = 0.01;  // [Pa·s/kg]

// Ties each island without a given head to zero pressure. Any value does: what flows into
// an island flows out of it, so nothing flows through the tie and the joint stays at zero.
constexpr double tie = 1e-3;  // [kg/(s·Pa)]

constexpr double rounding = 16 * std::numeric_limits<double>::epsilon();
constexpr double flow_tolerance = 1e-9;      // of the largest flow
constexpr double pressure_tolerance = 1e-9;  // of the largest pressure, or
constexpr double least_pressure = 1e-3;      // [Pa]
constexpr int most_steps = 100, most_rounds = 200, most_trials = 30;

/// Sets of joints that meet, by union and find.
struct Meeting {
  std::vector<int> parent;
  void reset(int n) { parent.resize(n), std::iota(parent.begin(), parent.end(), 0); }
  int of(int j) {
    while (parent[j] != j) j = parent[j] = parent[parent[j]];
    return j;
  }
  /// False if they met already. The lower number stands for the set.
  bool join(int a, int b) {
    a = of(a), b = of(b);
    parent[std::max(a, b)] = std::min(a, b);
    return a != b;
  }
};

struct Edge {
  int inlet, outlet;  // joints
  int diagonal_in = -1, diagonal_out = -1, between = -1;  // places in the matrix; −1 at a given head
};

}  // namespace

struct FlowSolver::Parts {
  using Matrix = Eigen::SparseMatrix<double>;

  Plan const& plan;
  int joints, branches, outside;  // outside: one more vertex, all joints of given head taken together
  std::vector<Edge> edges;
  std::vector<int> row, diagonal;         // by joint
  std::vector<double> given, source;      // by joint: pressure [Pa] if there is a head, mass inflow [kg/s]
  double most_source = 0;
  Matrix matrix;
  Eigen::SimplicialLDLT<Matrix, Eigen::Upper, Eigen::NaturalOrdering<int>> factor;  // of joints numbered in a good order
  Eigen::VectorXd rhs, by_row;

  std::vector<Way> ways;
  std::vector<int> checks;          // branches that are checks at this moment
  std::vector<char> held;           // by branch: shut, or a check held shut
  std::vector<int> reference;       // by joint: the joint that is zero in its island, −1 under a given head
  std::vector<double> flow, next, trial, pressure, spare;
  std::vector<WithSlope> loss, other;
  std::vector<double> conductance;  // by branch: 1/slope as used in the step
  std::vector<double> lift;         // by branch: weight of its column of water beyond that at reference density [Pa]
  Meeting meeting;
  double most_flow = 0, most_pressure = 0;  // of the last linear solution

  // For the exact continuity at the end.
  std::vector<int> degree, tree_edge, leaves;
  std::vector<double> surplus;

  explicit Parts(Plan const& plan);
  int vertex(int joint) const { return row[joint] < 0 ? outside : joint; }
  bool takes_part(int b) const { return ways[b] != Way::shut; }
  double fall(int b) const { return pressure[edges[b].inlet] - pressure[edges[b].outlet]; }
  /// A flow that means nothing: what rounding of the pressures moves through the least slope.
  double negligible() const { return std::max(1e-8 * std::max(1.0, most_flow), rounding * most_pressure / least_slope); }

  void begin(State const&);
  bool is_bridge(int branch);
  void evaluate(Now& now, std::vector<double> const& at, std::vector<WithSlope>& result) const;
  void guess(Now& now);
  bool factorise();
  bool linear_step();
  bool step_with_checks();
  double content_slope(std::vector<WithSlope> const& at) const;
  bool search(Now& now);
  bool is_feasible();
  bool is_converged() const;
  bool awakens() const;
  enum class Start { cold, warm, near };
  int newton(State const&, Start);
  bool is_near() const;
  int solve(State&, Start);
  void make_exact();
  void balance();
  [[noreturn]] void give_up(State const&);
};

FlowSolver::Parts::Parts(Plan const& p)
    : plan{p}, joints{p.joints}, branches{int(p.branches.size())}, outside{p.joints}, row(joints, -1), diagonal(joints, -1),
      given(joints), source(joints), ways(branches), held(branches), reference(joints, -1), flow(branches), next(branches), trial(branches),
      pressure(joints), spare(branches), loss(branches), other(branches), conductance(branches), lift(branches) {
  double const density = plan.fluid.density;
  int unknowns = 0;
  for (int j = 0; j < joints; ++j) {
    source[j] = density * plan.joint_inflow[j];
    most_source = std::max(most_source, std::abs(source[j]));
    if (auto const head = plan.joint_head[j]) given[j] = *head * density * gravity;
    else row[j] = unknowns++;
  }
  for (auto const& b : plan.branches) edges.push_back({b.inlet - plan.first_joint, b.outlet - plan.first_joint});

  // Joints are renumbered once for little fill, over all branches: one that is shut later
  // puts a zero in the matrix and the symbolic factorisation stands for the whole run.
  std::vector<Eigen::Triplet<double>> entries;
  auto const list_entries = [&](bool both) {
    entries.clear();
    for (int r = 0; r < unknowns; ++r) entries.emplace_back(r, r, 1);
    for (auto const& e : edges) {
      int const i = row[e.inlet], o = row[e.outlet];
      if (i < 0 || o < 0 || i == o) continue;
      entries.emplace_back(std::min(i, o), std::max(i, o), 1);
      if (both) entries.emplace_back(std::max(i, o), std::min(i, o), 1);
    }
  };
  list_entries(true);
  Matrix both(unknowns, unknowns);
  both.setFromTriplets(entries.begin(), entries.end());
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
  if (unknowns > 0) Eigen::AMDOrdering<int>{}(both, order);
  std::vector<int> place(unknowns);
  for (int k = 0; k < unknowns; ++k) place[order.indices()[k]] = k;
  for (auto& r : row)
    if (r >= 0) r = place[r];

  list_entries(false);
  matrix.resize(unknowns, unknowns);
  matrix.setFromTriplets(entries.begin(), entries.end());
  matrix.makeCompressed();
  auto const slot = [&](int r, int c) { return int(&matrix.coeffRef(std::min(r, c), std::max(r, c)) - matrix.valuePtr()); };
  for (int j = 0; j < joints; ++j)
    if (row[j] >= 0) diagonal[j] = slot(row[j], row[j]);
  for (auto& e : edges) {
    if (e.inlet == e.outlet) continue;
    e.diagonal_in = diagonal[e.inlet], e.diagonal_out = diagonal[e.outlet];
    if (e.diagonal_in >= 0 && e.diagonal_out >= 0) e.between = slot(row[e.inlet], row[e.outlet]);
  }
  rhs.resize(unknowns), by_row.resize(unknowns);
  if (unknowns > 0) factor.analyzePattern(matrix);
}

/// Asks which ways are open, and gives each island its reference.
void FlowSolver::Parts::begin(State const& state) {
  auto const now = state.now(plan);
  for (auto const& batch : plan.batches) batch->ways(now, ways.data());
  for (int b = 0; b < branches; ++b)
    lift[b] = (state.local[b].density - plan.fluids[b].density) * gravity * plan.rise(plan.branches[b]);
  meeting.reset(joints + 1);
  for (int b = 0; b < branches; ++b)
    if (takes_part(b)) meeting.join(vertex(edges[b].inlet), vertex(edges[b].outlet));
  int const under_head = meeting.of(outside);
  surplus.assign(joints + 1, 0);
  for (int j = 0; j < joints; ++j) {
    reference[j] = row[j] < 0 || meeting.of(j) == under_head ? -1 : meeting.of(j);
    if (reference[j] >= 0) surplus[reference[j]] += source[j];
  }
  for (int j = 0; j < joints; ++j)
    if (reference[j] == j && std::abs(surplus[j]) > 1e-9 * most_source)
      throw Stopped("E410", state.time, "no hydraulic solution", plan.names[plan.first_joint + j],
                    "inflow and outflow of this part of the network differ",
                    "give one of its joints a head, or make its inflows add up to zero");
}

/// Whether the graph of what is open falls apart without a branch. A check on a bridge is
/// never held: no flow can reverse it, and its island keeps its pressures.
bool FlowSolver::Parts::is_bridge(int branch) {
  meeting.reset(joints + 1);
  for (int b = 0; b < branches; ++b)
    if (b != branch && takes_part(b) && !held[b]) meeting.join(vertex(edges[b].inlet), vertex(edges[b].outlet));
  return meeting.of(vertex(edges[branch].inlet)) != meeting.of(vertex(edges[branch].outlet));
}

void FlowSolver::Parts::evaluate(Now& now, std::vector<double> const& at, std::vector<WithSlope>& result) const {
  now.flow = at.data();
  for (auto const& batch : plan.batches) batch->losses(now, result.data());
  for (int b = 0; b < branches; ++b) {
    if (result[b].value == 0) result[b] = {least_slope * at[b], least_slope};
    result[b].value += lift[b];
  }
}

/// Losses to start from. Where nothing flows yet the slope there says little (none at all
/// for a square law): a secant through a usual flow both ways is taken instead.
void FlowSolver::Parts::guess(Now& now) {
  double usual = 0;
  for (double q : flow) usual = std::max(usual, std::abs(q));
  usual = usual > 0 ? 0.5 * usual : most_source > 0 ? most_source : 0.1;
  for (int b = 0; b < branches; ++b) trial[b] = flow[b] == 0 ? usual : flow[b], spare[b] = flow[b] == 0 ? -usual : flow[b];
  evaluate(now, trial, loss), evaluate(now, spare, other);
  for (int b = 0; b < branches; ++b)
    if (flow[b] == 0) loss[b] = {(loss[b].value + other[b].value) / 2, (loss[b].value - other[b].value) / (2 * usual)};
}

/// The matrix of the joints from the slopes. Where a loss falls with flow (a pump whose head
/// rises with it) the step still leads down if the matrix has as many negative pivots as there
/// are such branches: that is when the content curves upward under continuity. If not, the
/// sizes of the slopes are taken.
bool FlowSolver::Parts::factorise() {
  int falling = 0;
  for (int b = 0; b < branches; ++b) {
    double s = loss[b].slope;
    if (std::abs(s) < least_slope) s = least_slope;
    conductance[b] = takes_part(b) && !held[b] ? 1 / s : 0;
    falling += conductance[b] < 0 && edges[b].inlet != edges[b].outlet;
  }
  auto const assemble_and_factorise = [&] {
    double* const values = matrix.valuePtr();
    std::fill(values, values + matrix.nonZeros(), 0);
    for (int b = 0; b < branches; ++b) {
      auto const& e = edges[b];
      double const g = conductance[b];
      if (e.diagonal_in >= 0) values[e.diagonal_in] += g;
      if (e.diagonal_out >= 0) values[e.diagonal_out] += g;
      if (e.between >= 0) values[e.between] -= g;
    }
    for (int j = 0; j < joints; ++j)
      if (reference[j] == j) values[diagonal[j]] += tie;
    if (rhs.size() > 0) factor.factorize(matrix);
    return rhs.size() == 0 || factor.info() == Eigen::Success;
  };
  bool const done = assemble_and_factorise();
  if (falling == 0) return done;
  if (done && (factor.vectorD().array() < 0).count() == falling) return true;
  for (double& g : conductance) g = std::abs(g);
  return assemble_and_factorise();
}

/// Pressures and next flows of the linearised network with the checks as they are held. Only
/// the change of the pressures is solved for, so that its rounding shrinks with it.
bool FlowSolver::Parts::linear_step() {
  if (!factorise()) return false;
  if (rhs.size() > 0) {
    for (int j = 0; j < joints; ++j)
      if (row[j] >= 0) rhs[row[j]] = source[j];
    for (int b = 0; b < branches; ++b) {
      auto const& e = edges[b];
      if (conductance[b] == 0) continue;
      double const there = flow[b] + conductance[b] * (fall(b) - loss[b].value);
      if (e.diagonal_in >= 0) rhs[row[e.inlet]] -= there;
      if (e.diagonal_out >= 0) rhs[row[e.outlet]] += there;
    }
    by_row = factor.solve(rhs);
  }
  most_pressure = most_flow = 0;
  for (int j = 0; j < joints; ++j) {
    if (row[j] >= 0) pressure[j] += by_row[row[j]];
    most_pressure = std::max(most_pressure, std::abs(pressure[j]));
  }
  for (int b = 0; b < branches; ++b) {
    next[b] = conductance[b] == 0 ? 0 : flow[b] + conductance[b] * (fall(b) - loss[b].value);
    most_flow = std::max(most_flow, std::abs(next[b]));
  }
  return std::isfinite(most_pressure) && std::isfinite(most_flow);
}

/// The linearised network with its checks: those of reversed flow are held, those pushed
/// open released, all at once; after some rounds only the first of the list a round, which
/// ends for certain where losses rise with flow (K. G. Murty 1974, least-index rule).
bool FlowSolver::Parts::step_with_checks() {
  for (int round = 0; round < most_rounds; ++round) {
    if (!linear_step()) return false;
    bool changed = false;
    for (int c : checks) {
      if (held[c]) {
        if (fall(c) - (loss[c].value - loss[c].slope * flow[c]) <= rounding * most_pressure) continue;
        held[c] = false, changed = true;
      } else {
        if (next[c] >= -negligible() || is_bridge(c)) continue;
        held[c] = true, changed = true;
      }
      if (round >= 10) break;
    }
    if (!changed) return true;
  }
  return false;
}

/// d(content)/dt along flow + t·(next − flow), given the losses there [Pa·kg/s]. Pressures
/// drop out but for given heads, as continuity holds all along.
double FlowSolver::Parts::content_slope(std::vector<WithSlope> const& at) const {
  double sum = 0;
  for (int b = 0; b < branches; ++b)
    if (takes_part(b)) sum += (at[b].value - fall(b)) * (next[b] - flow[b]);
  return sum;
}

/// Goes along the step to where the content is nearly least: all the way, unless it rises
/// there again more than half as steeply as it fell.
bool FlowSolver::Parts::search(Now& now) {
  double change = 0;
  for (int b = 0; b < branches; ++b) change = std::max(change, std::abs(next[b] - flow[b]));
  double const start = content_slope(loss);
  // Not leading down, the step only mends continuity that rounding of larger flows had left.
  bool const is_noise = change < negligible() || !(start < 0);
  double const noise = rounding * (most_pressure + least_pressure) * most_flow * branches;
  double low = 0, fell = -start, high = 1, t = 1;
  for (int i = 0; i < most_trials; ++i) {
    for (int b = 0; b < branches; ++b) trial[b] = t == 1 ? next[b] : flow[b] + t * (next[b] - flow[b]);
    evaluate(now, trial, other);
    double const slope = content_slope(other);
    if (is_noise || (slope <= std::max(-0.5 * start, noise) && (t == 1 || slope >= 0.5 * start))) break;
    if (slope < 0) low = t, fell = -slope;
    else high = t;
    // Right for square laws; halving where it gets nowhere.
    double const share = i < 8 && slope > 0 ? std::sqrt(fell / (fell + slope)) : 0.5;
    t = low + (high - low) * (share > 0 && share < 1 ? share : 0.5);
  }
  flow.swap(trial), loss.swap(other);
  return std::all_of(loss.begin(), loss.end(), [](auto const& l) { return std::isfinite(l.value) && std::isfinite(l.slope); });
}

void FlowSolver::Parts::balance() {
  std::copy(source.begin(), source.end(), surplus.begin());
  surplus[outside] = 0;
  for (int b = 0; b < branches; ++b) surplus[edges[b].inlet] -= flow[b], surplus[edges[b].outlet] += flow[b];
}

bool FlowSolver::Parts::is_feasible() {
  balance();
  double most = most_source;
  for (double q : flow) most = std::max(most, std::abs(q));
  for (int j = 0; j < joints; ++j)
    if (row[j] >= 0 && std::abs(surplus[j]) > 1e-9 * most) return false;
  return true;
}

bool FlowSolver::Parts::is_converged() const {
  double const far = flow_tolerance * std::max(most_flow, 0.1), noise = rounding * most_pressure;
  double const off = std::max(least_pressure, pressure_tolerance * most_pressure);
  for (int b = 0; b < branches; ++b) {
    if (!takes_part(b)) continue;
    double const change = std::abs(next[b] - flow[b]), rest = std::abs(loss[b].value - fall(b));
    if (held[b] ? change > negligible() : rest > off || (change > far && rest > noise)) return false;
  }
  return true;
}

/// Whether water begins to move where none did.
bool FlowSolver::Parts::awakens() const {
  for (int b = 0; b < branches; ++b)
    if (flow[b] == 0 && std::abs(next[b]) > negligible()) return true;
  return false;
}

/// Whether the step changes so little that what it leaves out can stay out.
bool FlowSolver::Parts::is_near() const {
  double constexpr little = 0.02;
  for (int b = 0; b < branches; ++b)
    if (std::abs(next[b] - flow[b]) > little * most_flow) return false;
  return true;
}

/// Steps taken, or 0 if they lead nowhere. From near by, one step is enough.
int FlowSolver::Parts::newton(State const& state, Start start) {
  bool const cold = start == Start::cold;
  auto now = state.now(plan);
  checks.clear();
  for (int b = 0; b < branches; ++b) {
    if (ways[b] == Way::forward) checks.push_back(b);
    flow[b] = cold || ways[b] == Way::shut || (ways[b] == Way::forward && state.flow[b] < 0) ? 0 : state.flow[b];
    // Whoever was held last time probably still is.
    spare[b] = !cold && held[b] && ways[b] == Way::forward && flow[b] == 0;
    held[b] = false;
  }
  for (int c : checks)
    if (spare[c] != 0 && !is_bridge(c)) held[c] = true;

  for (int j = 0; j < joints; ++j) pressure[j] = row[j] < 0 ? given[j] : cold ? 0 : state.pressure[j];
  auto const held_before = start == Start::near ? held : std::vector<char>{};
  bool tangent = !cold;
  if (tangent) evaluate(now, flow, loss);
  else guess(now);
  bool descends = tangent && is_feasible();
  for (int step = 1; step <= most_steps; ++step) {
    if (!step_with_checks()) return 0;
    if (tangent && (is_converged() || (start == Start::near && step == 1 && held == held_before && is_near() && !awakens()))) {
      flow.swap(next);
      return step;
    }
    if (step == 1 && tangent && awakens()) {
      guess(now);
      tangent = descends = false;
    } else if (descends) {
      if (!search(now)) return 0;
    } else {
      flow.swap(next);
      evaluate(now, flow, loss);
      tangent = descends = true;
    }
  }
  return 0;
}

/// Sets flows that are nothing but noise to exactly 0 and the rest so that what meets in each
/// joint sums to zero within rounding: along a tree, which takes branches of real flow first,
/// each joint's surplus is handed towards the root.
void FlowSolver::Parts::make_exact() {
  most_flow = 0;
  for (double q : flow) most_flow = std::max(most_flow, std::abs(q));
  double const small = negligible();
  meeting.reset(joints + 1);
  degree.assign(joints + 1, 0), tree_edge.assign(joints + 1, 0), leaves.clear();
  for (bool real : {true, false})
    for (int b = 0; b < branches; ++b) {
      if (!takes_part(b) || held[b]) { flow[b] = 0; continue; }
      if ((std::abs(flow[b]) > small) != real) continue;
      if (!real) flow[b] = 0;
      int const ends[]{vertex(edges[b].inlet), vertex(edges[b].outlet)};
      if (!meeting.join(ends[0], ends[1])) continue;
      for (int v : ends) ++degree[v], tree_edge[v] ^= b;  // of a leaf the one edge left
    }
  balance();
  for (int j = 0; j < joints; ++j)
    if (degree[j] == 1) leaves.push_back(j);
  for (std::size_t k = 0; k < leaves.size(); ++k) {
    int const j = leaves[k], b = tree_edge[j];
    if (degree[j] != 1) continue;  // the last of its island
    bool const is_inlet = vertex(edges[b].inlet) == j;
    int const to = vertex(is_inlet ? edges[b].outlet : edges[b].inlet);
    double const moved = flow[b] + (is_inlet ? surplus[j] : -surplus[j]);
    bool const is_noise = std::abs(moved) < 1e-3 * small && flow[b] == 0;
    if (!is_noise) flow[b] = moved;
    surplus[to] += surplus[j], surplus[j] = 0;
    tree_edge[to] ^= b, --degree[j];
    if (--degree[to] == 1 && to != outside) leaves.push_back(to);
  }
  for (int j = 0; j < joints; ++j)
    if (reference[j] >= 0 && reference[j] != j) pressure[j] -= pressure[reference[j]];
  for (int j = 0; j < joints; ++j)
    if (reference[j] == j) pressure[j] = 0;
}

void FlowSolver::Parts::give_up(State const& state) {
  auto now = state.now(plan);
  evaluate(now, flow, loss);
  int worst = 0;
  double most = -1;
  for (int b = 0; b < branches; ++b) {
    double const rest = takes_part(b) && !held[b] ? std::abs(loss[b].value - fall(b)) : 0;
    if (rest > most || std::isnan(rest)) most = rest, worst = b;
  }
  auto const& piece = plan.pieces[plan.branches[worst].piece];
  throw Stopped("E410", state.time, "no hydraulic solution",
                piece.kind->name + " '" + piece.name + "'; residual " + std::to_string(most) + " Pa",
                "a curve whose head rises with flow, or flow against a flow check", "check the curve and the connections of this part");
}

FlowSolver::FlowSolver(Plan const& plan) : parts_{std::make_unique<Parts>(plan)} {}
FlowSolver::~FlowSolver() = default;

int FlowSolver::Parts::solve(State& state, Start start) {
  begin(state);
  int steps = newton(state, start);
  if (steps == 0) steps = newton(state, Start::cold);
  if (steps == 0) give_up(state);
  make_exact();
  for (int c : checks)
    if (flow[c] < 0) give_up(state);
  state.flow = flow;
  state.pressure = pressure;
  return steps;
}
int FlowSolver::solve(State& state) { return parts_->solve(state, Parts::Start::warm); }
int FlowSolver::follow(State& state) { return parts_->solve(state, Parts::Start::near); }

void refresh_local_fluid(Plan const& plan, State& state) {
  for (std::size_t b = 0; b < plan.branches.size(); ++b) {
    auto const& law = *plan.fluid_laws[b];
    auto const& run = plan.branches[b];
    double sum = state.x[run.inlet] + state.x[run.outlet];
    int count = 2;
    if (run.cells > 0) {
      auto const first = state.x.begin() + run.first_cell;
      sum = std::accumulate(first, first + run.cells, 0.0), count = run.cells;
    }
    state.local[b] = law.at(std::clamp(sum / count, law.coldest(), law.hottest()));
  }
}

}  // namespace steadyfire
