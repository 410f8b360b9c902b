#pragma once
/// A test stand: a few pieces with set flows and held temperatures, solved for the
/// steady state or through time by means of their own, independent of the march.

#include <Eigen/Dense>

#include "models/fluid/water.hpp"
#include "sim/component/batch_of.hpp"
#include "sim/heat/balance.hpp"
#include "sim/network/builder.hpp"

namespace steadyfire {

inline double celsius(double c) { return c + 273.15; }
inline double fahrenheit(double f) { return unit::degF.to_si(f); }

class Stand {
 public:
   explicit Stand(Installation installation)
       : installation_{std::move(installation)}, plan{lay_out(installation_)}, balance{plan}, state{plan}, held_(plan.places()) {
     for (int p = 0; p < plan.places(); ++p) held_[p] = p < first_free_place || plan.capacity[p] == 0;
     for (auto& local : state.local) local = plan.fluid;
   }

  int number(std::string const& piece) const {
    int const at = installation_.find(piece);
    if (at < 0) throw InternalError("no piece " + piece);
    return at;
  }
  Place own(std::string const& piece, int i = 0) const { return plan.own[number(piece)] + i; }
  Place joint(std::string const& name) const {
    auto const at = std::find(plan.names.begin(), plan.names.end(), "joint " + name);
    if (at == plan.names.end()) throw InternalError("no joint " + name);
    return int(at - plan.names.begin());
  }
  Place cell(std::string const& piece, int i) const { return plan.seat(number(piece)).first_cell[0] + i; }
  double& operator[](Place p) { return state.x[p]; }
  void hold(Place p, double kelvin) { state.x[p] = kelvin, held_[p] = true; }
  void release(Place p) { held_[p] = false; }
  int mode(std::string const& piece) const { return state.mode[number(piece)]; }
  void flow(std::string const& piece, double kg_per_s) { state.flow[plan.first_branch[number(piece)]] = kg_per_s; }
  void mode(std::string const& piece, int mode) { state.mode[number(piece)] = mode; }
  void settle() { balance.settle(state.now(plan)); }

  std::vector<double> rates() const {
    std::vector<double> f(plan.places());
    balance.rates(state.now(plan), f.data());
    return f;
  }
  double into(Place account) const { return rates()[account]; }  ///< [W]
  std::vector<Finding> findings() const {
    std::vector<Finding> list;
    for (auto const& b : plan.batches) b->findings(state.now(plan), list);
    return list;
  }

  /// Brings everything that is not held to rest. Newton's steps fall until below 1e-9 K.
  void steady() {
    settle();
    for (int i = 0; i < 60; ++i)
      if (newton(0, state.x, {}) < 1e-9) return;
    throw InternalError("no steady state");
  }
  /// Goes on in time by L-stable SDIRK of second order.
  void advance(double seconds, int steps) {
    settle();
    double const gamma = 1 - std::sqrt(0.5), h = seconds / steps;
    for (int n = 0; n < steps; ++n) {
      auto const start = state.x;
      stage(gamma * h, start);
      auto const f1 = rates();
      auto base = start;
      for (int p = 0; p < plan.places(); ++p)
        if (!held_[p]) base[p] += (1 - gamma) * h * f1[p];
      stage(gamma * h, base);
      auto const f2 = rates();
      for (int p = 0; p < account::count; ++p) state.x[p] = start[p] + h * ((1 - gamma) * f1[p] + gamma * f2[p]);
      state.time += h;
    }
  }

 private:
  Installation installation_;

 public:
  Plan plan;
  Balance balance;
  State state;

 private:
  /// x = base + h·f(x)
  void stage(double h, std::vector<double> const& base) {
    for (int i = 0; i < 60; ++i)
      if (newton(h, base, {}) < 1e-10) return;
    throw InternalError("a stage does not converge");
  }
  /// One step towards f(x) = 0 (h = 0) or x − base − h·f(x) = 0; returns its largest change.
  double newton(double h, std::vector<double> const& base, std::vector<double> slopes) {
    std::vector<int> free;
    std::vector<int> row(plan.places(), -1);
    for (int p = 0; p < plan.places(); ++p)
      if (!held_[p]) row[p] = int(free.size()), free.push_back(p);
    auto const f = rates();
    balance.slopes(state.now(plan), slopes);
    int const n = int(free.size());
    Eigen::MatrixXd J = Eigen::MatrixXd::Zero(n, n);
    Eigen::VectorXd r(n);
    auto const& A = balance.pattern();
    for (int i = 0; i < n; ++i) {
      int const p = free[i];
      r[i] = h > 0 ? state.x[p] - base[p] - h * f[p] : -f[p];
      for (int k = A.row_start[p]; k < A.row_start[p + 1]; ++k)
        if (row[A.column[k]] >= 0) J(i, row[A.column[k]]) -= (h > 0 ? h : 1) * slopes[k];
      if (h > 0) J(i, i) += 1;
    }
    Eigen::VectorXd const d = J.partialPivLu().solve(r);
    for (int i = 0; i < n; ++i) state.x[free[i]] -= d[i];
    return d.cwiseAbs().maxCoeff();
  }
  std::vector<bool> held_;
};

/// Pieces of the given kinds, joined by name.
class StandBuilder {
 public:
  explicit StandBuilder(Catalog catalog) : builder_{catalog} {
    builder_.installation.fluid = std::make_shared<Water>();
    builder_.installation.fluid_temperature = celsius(40);
  }
  StandBuilder& water_at(double kelvin) { builder_.installation.fluid_temperature = kelvin; return *this; }
  StandBuilder& add(std::string_view kind, std::string name, std::vector<std::string> ports, std::vector<Setting> settings) {
    builder_.add(kind, std::move(name), std::move(ports), std::move(settings));
    return *this;
  }
  /// Numbers of a list, which a Setting cannot carry.
  StandBuilder& list(std::string_view key, std::vector<double> numbers) {
    auto& piece = builder_.installation.pieces.back();
    for (std::size_t i = 0; i < piece.values.size(); ++i)
      if (piece.kind->fields[i].key == key) piece.values[i].numbers = numbers, piece.values[i].given = true;
    return *this;
  }
  Stand build() {
    Diagnostics faults;
    auto installation = builder_.finish(faults);
    if (!faults.empty()) throw InternalError(faults.list()[0].message);
    return Stand{std::move(installation)};
  }

 private:
  Builder builder_;
};

}  // namespace steadyfire
