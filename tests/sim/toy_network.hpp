#pragma once
/// Kinds of the simplest law each, and a way to put them together, for tests of the engine.

#include <array>

#include "sim/component/batch_of.hpp"
#include "sim/network/plan.hpp"

namespace steadyfire::toy {

/// A liquid with the same properties at every temperature but for its density.
struct Liquid final : FluidLaw {
  double rho;
  explicit Liquid(double rho) : rho{rho} {}
  Fluid at(double kelvin) const override { return {rho - 0.5 * (kelvin - 293.15), 5e-4, 4180, 0.65}; }
  double vapour_pressure(double) const override { return 0; }
  double coldest() const override { return 273.15; }
  double hottest() const override { return 373.15; }
  std::string describe() const override { return "toy"; }
};

/// r·|q|^(n−1)·q
struct Throttle {
  double r, n;
  static constexpr std::string_view kind = "throttle", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Throttle::r>("r", 0, 1e20, ""), number<&Throttle::n>("n", 1, 3, "").otherwise(2)}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const {
    double const size = std::pow(std::abs(q.value), n - 1);
    return Flow::chain(r * size * q.value, r * n * size, q);
  }
};

/// 2·r·q with two cells of 1 L.
struct Cooler {
  double r;
  static constexpr std::string_view kind = "cooler", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Cooler::r>("r", 0, 1e20, "")}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return 2.0 * r * q; }
  Cells cells(int, Fluid const&) const { return {2, 2e-3, 0}; }
};

/// No loss at all.
struct Link {
  double unused;
  static constexpr std::string_view kind = "link", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Link::unused>("unused", 0, 1, "").otherwise(0)}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return 0.0 * q; }
};

/// Lets water through in mode 1.
struct ZoneValve {
  double r;
  static constexpr std::string_view kind = "zone valve", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&ZoneValve::r>("r", 0, 1e20, "")}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return r * q * abs(q); }
  Way way(int, Site const& s) const { return s.mode() == 1 ? Way::open : Way::shut; }
};

/// opening + r·q·|q|, forward only.
struct Check {
  double opening, r;
  static constexpr std::string_view kind = "check", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Check::opening>("opening", 0, 1e20, ""), number<&Check::r>("r", 0, 1e20, "")}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return opening + r * q * abs(q); }
  Way way(int, Site const&) const { return Way::forward; }
};

/// Gain of pressure in mode 1, regulated or not; a·q·|q| is lost at rest.
///   quadratic  p₀ − a·q²                     (p₀ + a·q² against reverse flow)
///   constant   min(setting, p₀ − a·q²)
///   rising     min(setting·(1 + q/q_set)/2, p₀ − a·q²)
///   fixed      p₀ − a·q² up to the setting [kg/s], then falling 200·p₀ a setting of flow
struct Pump {
  double p0, a, setting, q_set;
  int regulation;
  bool check;
  enum { quadratic, constant, rising, fixed };
  static constexpr std::string_view kind = "pump", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() {
    return {number<&Pump::p0>("p0", 0, 1e20, ""),
            number<&Pump::a>("a", 0, 1e20, ""),
            choice<&Pump::regulation>("regulation", {"quadratic", "constant", "rising", "fixed"}, "").otherwise(0),
            number<&Pump::setting>("setting", 0, 1e20, "").otherwise(0),
            number<&Pump::q_set>("q_set", 0, 1e20, "").otherwise(1),
            flag<&Pump::check>("check", "").otherwise(0)};
  }
  template <class Flow>
  Flow gain(Flow q) const {
    Flow const full = p0 - a * q * q;
    if (regulation == constant) return lesser(Flow(setting), full);
    if (regulation == rising) return lesser(setting / 2 * (1.0 + q / q_set), full);
    if (regulation == fixed && q > Flow(setting)) return lesser(full, p0 - a * setting * setting - 200 * p0 / setting * (q - setting));
    return full;
  }
  template <class Flow>
  Flow loss(int, Flow q, Site const& s) const {
    if (s.mode() == 0) return a * q * abs(q);
    return q < Flow(0) ? -(gain(Flow(0)) + a * q * q) : -gain(q);
  }
  Way way(int, Site const&) const { return check ? Way::forward : Way::open; }
};

template <class K>
Kind const* kind_of() {
  static Kind const k = kind<K>();
  return &k;
}

/// Grows an installation of toys.
class Network {
 public:
  /// `density` [kg/m³] at the installation's fluid temperature.
  explicit Network(double density = 1000) {
    installation.fluid = std::make_shared<Liquid>(density + 0.5 * (installation.fluid_temperature - 293.15));
  }
  /// A piece from joint to joint with values in the order of its schema; the rest by default. Returns its number.
  template <class K>
  int add(std::string from, std::string to, std::vector<double> numbers) {
    Piece piece;
    piece.name = std::string(K::kind) + " " + std::to_string(installation.pieces.size());
    piece.kind = kind_of<K>();
    for (std::size_t i = 0; i < piece.kind->fields.size(); ++i) {
      Value v;
      v.numbers = {i < numbers.size() ? numbers[i] : piece.kind->fields[i].standard};
      piece.values.push_back(v);
    }
    piece.ports = {std::move(from), std::move(to)};
    installation.pieces.push_back(std::move(piece));
    return int(installation.pieces.size()) - 1;
  }
  void head(std::string joint, double metres) { installation.joints.push_back({std::move(joint), metres, {}, {}}); }
  void inflow(std::string joint, double m3_per_s) { installation.joints.push_back({std::move(joint), {}, m3_per_s, {}}); }
  Plan plan() const { return lay_out(installation); }

  Installation installation;
};

/// By name of a joint, its number from 0.
inline int joint(Plan const& plan, std::string const& name) {
  for (int j = 0; j < plan.joints; ++j)
    if (plan.names[plan.first_joint + j] == "joint " + name) return j;
  throw InternalError("no joint " + name);
}

}  // namespace steadyfire::toy
