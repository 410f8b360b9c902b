#include <gtest/gtest.h>

#include <Eigen/SparseLU>
#include <cmath>
#include <optional>
#include <random>

#include "sim/march/march.hpp"
#include "sim/march/static_lu.hpp"
#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

using namespace toy;

double constexpr celsius = 273.15;

/// C·T' = gain − UA·(T − outdoors)
struct Lump {
  double capacity, start, UA, gain;
  static constexpr std::string_view kind = "lump", family = "toy", summary = "";
  static std::vector<Field> schema() {
    return {number<&Lump::capacity>("capacity", 0, 1e20, ""), number<&Lump::start>("start", 0, 1e20, ""),
            number<&Lump::UA>("UA", 0, 1e20, "").otherwise(0), number<&Lump::gain>("gain", -1e20, 1e20, "").otherwise(0)};
  }
  std::vector<OwnState> states() const { return {{"heat", capacity, start}}; }
  void links(Links& book, Site const& s) const {
    book.link(s.own(), account::envelope, UA, s.own(), given::outdoors);
    book.give(account::gains, s.own(), gain);
  }
};

/// G·ΔT between two lumps.
struct Coupling {
  Reference from, to;
  double G;
  static constexpr std::string_view kind = "coupling", family = "toy", summary = "";
  static std::vector<Field> schema() {
    return {reference<&Coupling::from>("from", "toy", ""), reference<&Coupling::to>("to", "toy", ""),
            number<&Coupling::G>("G", 0, 1e20, "")};
  }
  void links(Links& book, Site const& s) const { book.link(s.of(from), s.of(to), G); }
};

/// k·ΔT·|ΔT|^0.3 between two lumps, as from a radiator.
struct Radiator {
  Reference from, to;
  double k;
  static constexpr std::string_view kind = "radiator", family = "toy", summary = "";
  static std::vector<Field> schema() {
    return {reference<&Radiator::from>("from", "toy", ""), reference<&Radiator::to>("to", "toy", ""),
            number<&Radiator::k>("k", 0, 1e20, "")};
  }
  void laws(auto& book, Site const& s) const {
    double const k = this->k;
    auto const law = [k](auto warm, auto cool) { return k * (warm - cool) * pow(abs(warm - cool) + 1e-6, 0.3); };
    book.heat(s.of(from), s.of(to), law, s.of(from), s.of(to));
  }
};

/// Heats a lump between two limits: modes off, on.
struct Heater {
  Reference lump;
  double power, low, high;
  static constexpr std::string_view kind = "heater", family = "toy", summary = "";
  static constexpr std::array<std::string_view, 2> modes{"off", "on"};
  static std::vector<Field> schema() {
    return {reference<&Heater::lump>("lump", "toy", ""), number<&Heater::power>("power", 0, 1e20, ""),
            number<&Heater::low>("low", 0, 1e20, ""), number<&Heater::high>("high", 0, 1e20, "")};
  }
  Reading cold(Site const& s) const { return Reading::below(s[s.of(lump)], low); }
  Reading hot(Site const& s) const { return Reading::above(s[s.of(lump)], high); }
  static std::vector<Transition<Heater>> transitions() {
    return {{0, 1, &Heater::cold, Cause::on_temperature, "cold"}, {1, 0, &Heater::hot, Cause::off_temperature, "hot"}};
  }
  void links(Links& book, Site const& s) const { book.give(account::fuel, s.of(lump), s.mode() == 1 ? power : 0); }
};

/// Looks at a lump only: trips once above a limit.
struct Alarm {
  Reference lump;
  double limit;
  static constexpr std::string_view kind = "alarm", family = "toy", summary = "";
  static constexpr std::array<std::string_view, 2> modes{"quiet", "loud"};
  static std::vector<Field> schema() { return {reference<&Alarm::lump>("lump", "toy", ""), number<&Alarm::limit>("limit", 0, 1e20, "")}; }
  Reading over(Site const& s) const { return Reading::above(s[s.of(lump)], limit); }
  static std::vector<Transition<Alarm>> transitions() { return {{0, 1, &Alarm::over, Cause::high_limit, "over"}}; }
};

/// Runs and rests in turn for a time each; as a pump: p₀ − a·q² while it runs.
struct Ticker {
  double wait, p0, a;
  static constexpr std::string_view kind = "ticker", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static constexpr std::array<std::string_view, 2> modes{"rest", "run"};
  static std::vector<Field> schema() {
    return {number<&Ticker::wait>("wait", 0, 1e20, ""), number<&Ticker::p0>("p0", 0, 1e20, ""), number<&Ticker::a>("a", 0, 1e20, "")};
  }
  Reading waited(Site const& s) const { return Reading::after(s, wait); }
  static std::vector<Transition<Ticker>> transitions() {
    return {{0, 1, &Ticker::waited, Cause::timer, "waited"}, {1, 0, &Ticker::waited, Cause::timer, "waited"}};
  }
  template <class Flow>
  Flow loss(int, Flow q, Site const& s) const { return a * q * abs(q) - (s.mode() == 1 ? p0 : 0); }
};

/// Two controllers that each answer the other at once.
struct Contrarian {
  double unused;
  static constexpr std::string_view kind = "contrarian", family = "toy", summary = "";
  static constexpr std::array<std::string_view, 2> modes{"yes", "no"};
  static std::vector<Field> schema() { return {number<&Contrarian::unused>("unused", 0, 1, "")}; }
  Reading always(Site const&) const { return Reading::fact(true); }
  static std::vector<Transition<Contrarian>> transitions() {
    return {{0, 1, &Contrarian::always, Cause::call, "no"}, {1, 0, &Contrarian::always, Cause::call, "yes"}};
  }
};

/// x' = x²: infinite at t = 1/x₀.
struct Explosion {
  double start;
  static constexpr std::string_view kind = "explosion", family = "toy", summary = "";
  static std::vector<Field> schema() { return {number<&Explosion::start>("start", 0, 1e20, "")}; }
  std::vector<OwnState> states() const { return {{"blast", 0, start}}; }
  void laws(auto& book, Site const& s) const { book.rate(s.own(), [](auto x) { return x * x; }, s.own()); }
};

/// 1 kW/K from one lump to another, whatever the other's temperature.
struct OneWay {
  Reference from, to;
  static constexpr std::string_view kind = "one way", family = "toy", summary = "";
  static std::vector<Field> schema() { return {reference<&OneWay::from>("from", "toy", ""), reference<&OneWay::to>("to", "toy", "")}; }
  void links(Links& book, Site const& s) const { book.link(s.of(from), s.of(to), 1000, s.of(from), given::outdoors); }
};

/// A litre of heated water that resists by its density.
struct Warmer {
  double power;
  static constexpr std::string_view kind = "warmer", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Warmer::power>("power", 0, 1e20, "")}; }
  Cells cells(int, Fluid const&) const { return {1, 1e-3, 0}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const& s) const { return 1e3 * s.local().density * q * abs(q); }
  void links(Links& book, Site const& s) const { book.give(account::fuel, s.water(0), power); }
};

/// Falls by a fixed slope between knots an hour apart, then rises.
struct Weather final : Forcing {
  double at(double t) const override { return t < 3600 ? 273.15 - t / 360 : 263.15 + (t - 3600) / 720; }
  double slope(double t) const override { return t < 3600 ? -1 / 360. : 1 / 720.; }
  double next_knot(double t) const override { return t < 3600 ? 3600 : 1e300; }
};

/// Pieces without joints, and their march with what it told.
class House : public Watcher {
 public:
  template <class K>
  Reference add(std::vector<double> numbers, std::vector<std::string> ports = {}) {
    Piece piece;
    piece.name = std::string(K::kind) + " " + std::to_string(network.installation.pieces.size());
    piece.kind = kind_of<K>();
    for (std::size_t i = 0; i < piece.kind->fields.size(); ++i) {
      Value v;
      v.numbers = {i < numbers.size() ? numbers[i] : piece.kind->fields[i].standard};
      piece.values.push_back(v);
    }
    piece.ports = std::move(ports);
    network.installation.pieces.push_back(std::move(piece));
    return {int(network.installation.pieces.size()) - 1};
  }
  March& march(MarchOptions options = {}) {
    plan.emplace(network.plan());
    march_.emplace(*plan, *weather, options);
    march_->watch(*this);
    return *march_;
  }
  double operator()(Reference lump) { return march_->state().x[plan->own[lump.piece]]; }

  void stepped(double from, std::vector<double> const&, State const& now) override {
    EXPECT_EQ(from, last_time);
    EXPECT_GT(now.time, from);
    last_time = now.time, longest = std::max(longest, now.time - from);
  }
  void tripped(std::vector<Trip> const& trips, State const& now) override {
    EXPECT_NEAR(last_time, now.time, 1e-6);
    for (auto const& t : trips) events.push_back({now.time, t.piece, t.to});
  }
  struct Event { double time; int piece, to; };

  Network network;
  std::shared_ptr<Forcing> weather = std::make_shared<SteadyOutdoors>(268.15);
  std::optional<Plan> plan;
  std::optional<March> march_;
  std::vector<Event> events;
  double last_time = 0, longest = 0;
};

/// Lumps in a row, the first heated between limits, radiators between some of them.
struct Row : House {
  std::vector<Reference> lumps;
  explicit Row(int count, double high = 328.15) {
    for (int i = 0; i < count; ++i) lumps.push_back(add<Lump>({2e4 * (1 + i % 7), 293.15, i % 5 == 0 ? 4. : 0., i % 11 == 0 ? 10. : 0.}));
    for (int i = 0; i + 1 < count; ++i) {
      if (i % 3 == 1) add<Radiator>({double(lumps[i].piece), double(lumps[i + 1].piece), 20.});
      else add<Coupling>({double(lumps[i].piece), double(lumps[i + 1].piece), 60.});
    }
    add<Heater>({double(lumps[0].piece), 4000, 318.15, high});
  }
};

double relative_error_of_lu(int size, int first, unsigned seed) {
  std::mt19937 random{seed};
  std::uniform_real_distribution<double> value{-1, 1};
  Sparse J{{0}, {}, {}};
  Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(size, size);
  for (int i = 0; i < size; ++i) {
    double others = 0;
    for (int j = 0; j < size; ++j)
      if (i != j && random() % 20 == 0) others += std::abs(dense(i, j) = value(random));
    dense(i, i) = -others - 0.01;
    for (int j = 0; j < size; ++j)
      if (dense(i, j) != 0) J.column.push_back(j), J.value.push_back(dense(i, j));
    J.row_start.push_back(int(J.column.size()));
  }
  double const gamma = 3;
  int const n = size - first;
  Eigen::SparseMatrix<double> M = (Eigen::MatrixXd::Identity(n, n) - gamma * dense.bottomRightCorner(n, n)).sparseView();
  Eigen::VectorXd b = Eigen::VectorXd::NullaryExpr(size, [&] { return value(random); });
  Eigen::SparseLU<Eigen::SparseMatrix<double>> eigen{M};
  Eigen::VectorXd const expected = eigen.solve(b.tail(n));
  StaticLu lu{J, first};
  EXPECT_TRUE(lu.factor(J.value.data(), gamma));
  Eigen::VectorXd x = b;
  lu.solve(x.data());
  EXPECT_EQ(x.head(first), b.head(first));
  return (x.tail(n) - expected).norm() / expected.norm();
}

}  // namespace

// Eigen's SparseLU pivots; on dominant matrices both must agree to rounding.
TEST(StaticLu, AgreesWithEigenOnDominantMatrices) {
  for (unsigned seed = 0; seed < 20; ++seed) {
    EXPECT_LT(relative_error_of_lu(1 + int(seed) * 8, 0, seed), 1e-12) << seed;
    EXPECT_LT(relative_error_of_lu(20 + int(seed) * 8, 14, seed), 1e-12) << seed;
  }
}

TEST(StaticLu, RefusesAVanishingPivot) {
  Sparse const J{{0, 1}, {0}, {1}};
  StaticLu lu{J};
  EXPECT_FALSE(lu.factor(J.value.data(), 1));  // 1 − 1·1 = 0
}

// Closed form: T = T∞ + (T₀ − T∞)·e^(−t·UA/C).
TEST(March, OneStoreCoolsByTheClosedForm) {
  House h;
  auto const room = h.add<Lump>({2e7, 18 + celsius, 200, 5000});
  auto& march = h.march();
  double const expected[][2]{{1, 18.07072}, {6, 18.38853}, {24, 19.15705}};
  for (auto [hours, degrees] : expected) {
    march.run(hours * 3600);
    EXPECT_EQ(march.state().time, hours * 3600);
    EXPECT_NEAR(h(room) - celsius, degrees, 0.01) << hours;  // K, the error that a run allows itself
  }
}

// Closed form of two nodes: both eigenvalues.
TEST(March, SlabAndRoomFollowTheClosedForm) {
  for (bool const cvode : {false, true}) {
    House h;
    h.weather = std::make_shared<SteadyOutdoors>(-10 + celsius);
    auto const slab = h.add<Lump>({1.5e7, 20 + celsius, 0, 4000}), room = h.add<Lump>({3e6, 18 + celsius, 150, 0});
    h.add<Coupling>({double(slab.piece), double(room.piece), 400});
    MarchOptions options;
    options.by_cvode = cvode;
    if (cvode) options.tolerance = 1e-3;  // a multistep method piles up more of what it allows itself
    auto& march = h.march(options);
    double const expected[][3]{{1, 20.5827, 15.1363}, {4, 21.3384, 12.9877}, {12, 22.2928, 13.3687}, {48, 24.7961, 15.2558}};
    for (auto [hours, a, b] : expected) {
      march.run(hours * 3600);
      EXPECT_NEAR(h(slab) - celsius, a, 0.01) << hours << cvode;
      EXPECT_NEAR(h(room) - celsius, b, 0.01) << hours << cvode;
    }
  }
}

// Closed form behind a ramp: T = T_out − s·τ + (T₀ − T_out,0 + s·τ)·e^(−t/τ).
TEST(March, AStoreLagsBehindRampsOfWeather) {
  House h;
  h.weather = std::make_shared<Weather>();
  auto const room = h.add<Lump>({1e6, celsius, 1000});
  MarchOptions options;
  options.tolerance = 1e-4;
  auto& march = h.march(options);
  double const tau = 1000;
  auto const behind = [&](double out0, double T0, double s, double t) {
    return out0 + s * t - s * tau + (T0 - out0 + s * tau) * std::exp(-t / tau);
  };
  double const at_knot = behind(celsius, celsius, -1 / 360., 3600);
  march.run(3600);
  EXPECT_NEAR(h(room), at_knot, 1e-3);
  march.run(7000);
  EXPECT_NEAR(h(room), behind(263.15, at_knot, 1 / 720., 3400), 1e-3);
  EXPECT_NEAR(march.state().x[given::outdoors], h.weather->at(7000), 1e-9);
}

// t_on = C·D/(P − L), t_off = C·D/L: 20 L of water, 5 K, 5 kW against 1.5 kW.
TEST(March, ShortCyclesUnderConstantLoadByTheClosedForm) {
  House h;
  auto const water = h.add<Lump>({82250, 330.15, 0, -1500});
  h.add<Heater>({double(water.piece), 5000, 328.15, 333.15});
  h.march().run(10 * 3600);
  auto const n = h.events.size();
  ASSERT_GT(n, 100u);
  for (std::size_t i = 2; i < n; ++i) {
    double const on = 82250 * 5 / 3500., off = 82250 * 5 / 1500.;
    EXPECT_NEAR(h.events[i].time - h.events[i - 1].time, h.events[i].to == 0 ? on : off, 1e-3);  // s: straight lines, met to rounding
  }
  std::size_t const cycles = (n - 1) / 2;
  EXPECT_NEAR(3600 * cycles / (h.events[2 * cycles].time - h.events[0].time), 9.1915, 0.005 * 9.1915);
}

// t_on = τ·ln((t_ss − t_1)/(t_ss − t_2)), t_off = τ·ln((t_2 − t_a)/(t_1 − t_a)).
TEST(March, ShortCyclesUnderFallingLoadByTheClosedForm) {
  struct { double C, UA, low, high, P, on, off, per_hour; } const cases[]{{80e3, 75, 50, 60, 6000, 238.02, 306.86, 6.6070},
                                                                           {82.249e3, 60, 45, 55, 5000, 257.78, 461.24, 5.0068}};
  for (auto const& c : cases)
    for (double const tolerance : {1e-2, 1e-5}) {
      House h;
      h.weather = std::make_shared<SteadyOutdoors>(20 + celsius);
      auto const water = h.add<Lump>({c.C, c.low + 1 + celsius, c.UA});
      h.add<Heater>({double(water.piece), c.P, c.low + celsius, c.high + celsius});
      MarchOptions options;
      options.tolerance = tolerance;
      h.march(options).run(10 * 3600);
      auto const n = h.events.size(), cycles = (n - 1) / 2;
      ASSERT_GT(cycles, 40u);
      EXPECT_NEAR(3600 * cycles / (h.events[2 * cycles].time - h.events[0].time), c.per_hour, 0.005 * c.per_hour);
      double const tau = c.C / c.UA, steady = 20 + c.P / c.UA;
      double const on = tau * std::log((steady - c.low) / (steady - c.high)), off = tau * std::log((c.high - 20) / (c.low - 20));
      EXPECT_NEAR(on, c.on, 0.01);
      EXPECT_NEAR(off, c.off, 0.01);
      // An error of one allowance moves a crossing by allowance/slope; slope is least at the ends, about 0.02 K/s.
      double const allowed = tolerance > 1e-3 ? 1. : 1e-3;
      for (std::size_t i = 2; i < n; ++i) EXPECT_NEAR(h.events[i].time - h.events[i - 1].time, h.events[i].to == 0 ? on : off, allowed);
    }
}

// T₂ behind a hot store that empties one way rises and falls again:
// T₂ = A·(e^(−a·t) − e^(−b·t)), highest at ln(b/a)/(b − a).
TEST(March, AMarginThatRisesAndFallsWithinAStepIsNotMissed) {
  double const a = 1 / 4000., b = 1 / 1000., A = 100 * b / (b - a), top = std::log(b / a) / (b - a);
  auto const small = [&](double t) { return A * (std::exp(-a * t) - std::exp(-b * t)); };
  for (double const ahead : {12., 15., 20., 25., 30.}) {
    double const limit = small(top - ahead);
    House h;
    h.weather = std::make_shared<SteadyOutdoors>(300);
    auto const source = h.add<Lump>({4e6, 400}), sink = h.add<Lump>({1e6, 300, 1000});
    h.add<Alarm>({double(sink.piece), 300 + limit});
    h.add<OneWay>({double(source.piece), double(sink.piece)});
    MarchOptions options;
    options.tolerance = 1e-4;
    h.march(options).run(4 * 3600);
    EXPECT_GT(h.longest, 2 * ahead) << "steps are long enough to hide it";
    ASSERT_EQ(h.events.size(), 1u) << ahead;
    // The top is flat, so that time says little: the state was at the limit within its error.
    EXPECT_NEAR(small(h.events[0].time), limit, 5 * options.tolerance) << ahead;
    EXPECT_LT(h.events[0].time, top);
  }
}

TEST(March, TimersAreMetExactly) {
  House h;
  h.add<Ticker>({123.4, 1e4, 1e5}, {"a", "b"});
  h.network.add<Cooler>("b", "a", {1e4});
  auto const room = h.add<Lump>({1e5, 300, 10});
  h.add<Heater>({double(room.piece), 800, 295, 297});
  h.march().run(7200);
  double due = 0;
  int met = 0;
  for (auto const& e : h.events)
    if (e.piece == 0) {
      EXPECT_EQ(e.time, due += 123.4);
      ++met;
    }
  EXPECT_EQ(met, int(7200 / 123.4));
}

TEST(March, ControllersThatNeverSettleAreNamed) {
  House h;
  h.add<Lump>({1e5, 300, 10});
  h.add<Contrarian>({0});
  try {
    h.march().run(60);
    FAIL() << "should have stopped";
  } catch (Stopped const& s) {
    EXPECT_EQ(s.code, "E412");
    EXPECT_NE(std::string(s.what()).find("contrarian 1"), std::string::npos) << s.what();
  }
}

// x' = x² from 1 has no solution beyond t = 1.
TEST(March, AStateThatRunsAwayIsNamedWithItsTime) {
  for (bool const cvode : {false, true}) {
    House h;
    h.add<Lump>({1e5, 300, 10});
    h.add<Explosion>({1});
    MarchOptions options;
    options.by_cvode = cvode;
    try {
      h.march(options).run(60);
      FAIL() << "should have stopped";
    } catch (Stopped const& s) {
      EXPECT_EQ(s.code, "E411");
      EXPECT_NEAR(s.time, 1, 0.05);
      EXPECT_NE(std::string(s.what()).find("explosion 1 blast"), std::string::npos) << s.what();
    }
  }
}

TEST(March, EnergyClosesOverAnHourOfCycling) {
  Row h{40};
  h.add<Ticker>({200, 1e4, 1e5}, {"a", "b"});
  h.network.add<Cooler>("b", "a", {1e4});
  auto& march = h.march();
  march.begin();
  double const before = stored_heat(*h.plan, march.state().x);
  march.run(3600);
  ASSERT_GT(h.events.size(), 20u);
  double const burnt = -march.state().x[account::fuel];
  ASSERT_GT(burnt, 1e5);
  EXPECT_NEAR(stored_heat(*h.plan, march.state().x), before, 1e-9 * burnt);
}

// The method's own order: an eighth of the tolerance halves the steps, and the error falls by 2³ with them.
TEST(March, HalvedStepsCutTheErrorByEight) {
  long steps = 0;
  auto const room_after = [&](double tolerance) {
    House h;
    auto const hot = h.add<Lump>({4e6, 350}), room = h.add<Lump>({1e6, 290, 300});
    h.add<Radiator>({double(hot.piece), double(room.piece), 60});
    MarchOptions options;
    options.tolerance = tolerance;
    h.march(options).run(6 * 3600);
    steps = h.march_->statistics().steps;
    return h(hot);
  };
  double const truth = room_after(1e-11);
  double last = 0;
  long last_steps = 0;
  for (double const tolerance : {8e-6, 1e-6, 1.25e-7}) {
    double const error = std::abs(room_after(tolerance) - truth);
    if (last > 0) {
      EXPECT_NEAR(double(steps) / double(last_steps), 2, 0.1) << tolerance;
      EXPECT_NEAR(std::log2(last / error), 3, 0.5) << tolerance;
    }
    last = error, last_steps = steps;
  }
}

TEST(March, ErrorsFollowTheToleranceAsked) {
  auto const states_after = [](double tolerance) {
    Row h{30, 1e4};  // the heater never rests: events would turn errors of the state into errors of time
    MarchOptions options;
    options.tolerance = tolerance;
    h.march(options).run(1800);
    return h.march_->state().x;
  };
  auto const truth = states_after(1e-7);
  double last = 1e9;
  for (double const tolerance : {1e-2, 1e-3, 1e-4, 1e-5}) {
    auto const x = states_after(tolerance);
    double error = 0;
    for (std::size_t i = first_free_place; i < x.size(); ++i) error = std::max(error, std::abs(x[i] - truth[i]));
    EXPECT_LT(error, 10 * tolerance);  // what some local errors add up to
    EXPECT_LT(error, last / 3);
    last = error;
  }
}

// Another method, another linear solver, another vector: only rates and slopes are shared.
TEST(March, TwoIntegratorsAgreeOnAHundredStates) {
  Row one{100}, other{100};
  MarchOptions options;
  options.tolerance = 1e-6;
  one.march(options).run(3 * 3600);
  options.by_cvode = true, options.tolerance = 1e-7;
  other.march(options).run(3 * 3600);
  ASSERT_EQ(one.events.size(), other.events.size());
  ASSERT_GT(one.events.size(), 10u);
  for (std::size_t i = 0; i < one.events.size(); ++i) EXPECT_NEAR(one.events[i].time, other.events[i].time, 0.01);
  for (auto lump : one.lumps) EXPECT_NEAR(one(lump), other(lump), 1e-3);
}

TEST(March, FlowsAreRefreshedWhenTheWaterWarms) {
  House h;
  h.add<Warmer>({2000}, {"b", "a"});
  int const pump = h.network.add<Pump>("a", "b", {1e4, 1e5});
  MarchOptions options;
  options.longest_step = 1;
  auto& march = h.march(options);
  march.state().mode[pump] = 1;
  march.begin();
  auto const solves = march.statistics().flow_solves;
  // Stored: 1 L and two joints of 5 g; 2 kW for 60 s warm them by 28 K, seven times 4 K.
  march.run(60);
  double const risen = h.march_->state().x[first_free_place] - 293.15;
  EXPECT_NEAR(risen, 2000 * 60 / (1.01 * h.plan->fluid.density / 1000 * 4180), 0.5);
  EXPECT_GE(march.statistics().flow_solves - solves, 6);
  EXPECT_LE(march.statistics().flow_solves - solves, 7);
}

/// Opens from 0 to 1 in 100 s; r·q·|q|/opening.
struct Opening {
  double r;
  static constexpr std::string_view kind = "opening", family = "toy", summary = "";
  static constexpr std::array branches{Branch{"from", "to"}};
  static std::vector<Field> schema() { return {number<&Opening::r>("r", 0, 1e20, "")}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const& s) const { return r / (s[s.own()] * s[s.own()]) * q * abs(q); }
  std::vector<OwnState> states() const { return {{"opening", 0, 0.1, 0.01, 0.05}}; }
  void links(Links& book, Site const& s) const { book.drift(s.own(), 0.01); }
};

TEST(March, FlowsAreSolvedAnewWhenAStateBehindALossHasMoved) {
  House h;
  int const valve = h.add<Opening>({1e5}, {"b", "a"}).piece;
  int const pump = h.network.add<Pump>("a", "b", {1e4, 0});
  MarchOptions options;
  options.longest_step = 0.5;
  auto& march = h.march(options);
  march.state().mode[pump] = 1;
  march.begin();
  auto const solves = march.statistics().flow_solves;
  auto const flow = [&] { return march.state().flow[h.plan->first_branch[valve]]; };
  EXPECT_NEAR(flow(), 0.1 * std::sqrt(0.1), 1e-5);  // √(p₀/r)·opening
  march.run(60);
  EXPECT_EQ(march.statistics().flow_solves - solves, 11);  // 0.6 in steps of more than 0.05, a step at a time
  EXPECT_NEAR(flow(), 0.7 * std::sqrt(0.1), 0.055 * std::sqrt(0.1));
}

TEST(March, StopsEarlyWhenAsked) {
  Row h{10};
  auto& march = h.march();
  march.interrupted = [] { return true; };
  march.run(100 * 3600);
  EXPECT_GT(march.state().time, 0);
  EXPECT_LT(march.state().time, 100 * 3600);
}

}  // namespace steadyfire
