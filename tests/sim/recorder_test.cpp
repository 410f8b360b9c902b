#include "sim/study/recorder.hpp"

#include <gmock/gmock.h>

#include <random>

#include "tests/sim/toy_network.hpp"

namespace steadyfire {
namespace {

using namespace toy;

// --- bins -------------------------------------------------------------------------

std::vector<Channel> one_channel() { return {{"a", "a", "", measure::plain, {}, {}, {}}}; }

TEST(Bins, ALongStepIsSharedAmongAllBinsItCrosses) {
  Bins bins{0, 10, 8, one_channel()};
  bins.add(5, 35, {0}, {30});  // y = t − 5
  auto const track = bins.track();
  auto const& c = track.channels[0];
  EXPECT_THAT(c.mean, testing::Pointwise(testing::FloatNear(1e-5), {2.5f, 10.f, 20.f, 27.5f}));
  EXPECT_THAT(c.least, testing::Pointwise(testing::FloatNear(1e-5), {0.f, 5.f, 15.f, 25.f}));
  EXPECT_THAT(c.most, testing::Pointwise(testing::FloatNear(1e-5), {5.f, 15.f, 25.f, 30.f}));
}

TEST(Bins, MergingKeepsExtremesAndTimeWeightedMeans) {
  // Random steps into few bins that merge again and again, against sums over the steps themselves.
  std::mt19937 random{7};
  std::uniform_real_distribution<double> length{0.01, 3}, value{-1, 1};
  std::size_t const most = 16;
  Bins bins{0, 1, most, one_channel()};
  double t = 0, integral = 0, least = 1e9, highest = -1e9;
  for (int i = 0; i < 4000; ++i) {
    double const dt = length(random), a = value(random), b = value(random);
    bins.add(t, t + dt, {a}, {b});
    integral += dt * (a + b) / 2, least = std::min({least, a, b}), highest = std::max({highest, a, b});
    t += dt;
  }
  auto const track = bins.track();
  auto const& c = track.channels[0];
  ASSERT_LE(c.mean.size(), most);
  EXPECT_GT(c.mean.size(), most / 2);  // the step doubled no more than needed
  EXPECT_GE(track.step * double(c.mean.size()), t);
  double sum = 0;
  for (std::size_t i = 0; i < c.mean.size(); ++i)
    sum += c.mean[i] * (std::min(t, track.step * double(i + 1)) - track.step * double(i));
  EXPECT_NEAR(sum, integral, 1e-3);  // floats
  EXPECT_FLOAT_EQ(*std::min_element(c.least.begin(), c.least.end()), float(least));
  EXPECT_FLOAT_EQ(*std::max_element(c.most.begin(), c.most.end()), float(highest));
}

TEST(Bins, AMergedTrackIsTheTrackOfWiderBins) {
  Bins narrow{0, 1, 10, one_channel()}, wide{0, 4, 10, one_channel()};
  for (double t = 0; t < 38; t += 0.7)
    for (auto* b : {&narrow, &wide}) b->add(t, t + 0.7, {std::sin(t)}, {std::sin(t + 0.7)});
  auto const a = narrow.track(), b = wide.track();
  ASSERT_EQ(a.step, 4);
  EXPECT_THAT(a.channels[0].mean, testing::Pointwise(testing::FloatNear(1e-6), b.channels[0].mean));
  EXPECT_THAT(a.channels[0].least, testing::Pointwise(testing::FloatNear(1e-6), b.channels[0].least));
  EXPECT_THAT(a.channels[0].most, testing::Pointwise(testing::FloatNear(1e-6), b.channels[0].most));
}

// --- the sliding hour ----------------------------------------------------------------

TEST(SlidingHour, CountsAsTryingEveryWindowDoes) {
  std::mt19937 random{3};
  std::exponential_distribution<double> gap{1 / 700.};
  for (int round = 0; round < 20; ++round) {
    std::vector<double> times;
    SlidingHour hour;
    for (double t = gap(random); t < 86400; t += gap(random)) times.push_back(t), hour.add(t);
    int worst = 0;
    for (double const first : times)
      worst = std::max(worst, int(std::count_if(times.begin(), times.end(), [&](double t) { return t >= first && t < first + 3600; })));
    EXPECT_EQ(hour.worst(), worst);
  }
}

TEST(SlidingHour, CrossesTheHoursOfTheClock) {
  SlidingHour hour;
  for (double const t : {3000., 3300., 3900., 4500., 6599., 6600.}) hour.add(t);  // the last lies 3600 s after the first
  EXPECT_EQ(hour.worst(), 5);
  EXPECT_EQ(hour.worst_at(), 3000);
}

TEST(Thinned, StaysBoundedAndEven) {
  Thinned<double> thinned{1, 100};
  for (double t = 0; t < 1e5; t += 0.5)
    if (thinned.wants(t)) thinned.add(t, t);
  auto const& s = thinned.samples();
  EXPECT_LE(s.size(), 100u);
  EXPECT_GE(s.size(), 45u);
  double const spacing = s[1] - s[0];
  for (std::size_t i = 1; i < s.size(); ++i) EXPECT_DOUBLE_EQ(s[i] - s[i - 1], spacing);
}

TEST(Thinned, KeepsSamplesThatOwnMemory) {
  Thinned<std::vector<int>> thinned{1, 4};
  for (int t = 0; t < 9; ++t)
    if (thinned.wants(t)) thinned.add(t, {t});
  for (auto const& s : thinned.samples()) EXPECT_EQ(s.size(), 1u);
}

// --- the recorder on a toy installation ------------------------------------------------

struct Burner {
  double heating_input, minimum_input;
  static constexpr std::string_view kind = "burner", family = "toy", summary = "";
  static constexpr Role role = Role::boiler;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() {
    return {number<&Burner::heating_input>("heating_input", 0, 1e9, "").as(FieldRole::most_input),
            number<&Burner::minimum_input>("minimum_input", 0, 1e9, "").as(FieldRole::least_input)};
  }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return q; }
  Cells cells(int, Fluid const&) const { return {2, 2e-3, 0}; }
  std::vector<OwnState> states() const { return {{"fire", 0, 0.2, 1, 0, StateRole::fire}}; }
  static constexpr std::array<std::string_view, 4> modes{"waits", "sparks", "glows", "rests"};  // names say nothing to the engine
  static constexpr std::array<Traits, 4> traits{trait::none, trait::burns | trait::ignites, trait::burns, trait::none};
  static auto transitions() {
    using T = Transition<Burner>;
    auto constexpr timer = Cause::timer;
    return std::array{T{0, 1, &Burner::never, timer, ""}, T{1, 2, &Burner::never, timer, ""}, T{2, 3, &Burner::never, timer, ""},
                      T{3, 0, &Burner::never, timer, ""}};
  }
  Reading never(Site const&) const { return Reading::never(); }
};
struct Radiator {
  double unused;
  static constexpr std::string_view kind = "toy radiator", family = "toy", summary = "";
  static constexpr Role role = Role::emitter;
  static constexpr std::array branches{Branch{"inlet", "outlet"}};
  static std::vector<Field> schema() { return {number<&Radiator::unused>("unused", 0, 1, "").otherwise(0)}; }
  template <class Flow>
  Flow loss(int, Flow q, Site const&) const { return q; }
  Cells cells(int, Fluid const&) const { return {2, 2e-3, 0}; }
};
struct Air {
  double capacity;
  static constexpr std::string_view kind = "air", family = "toy", summary = "";
  static constexpr Role role = Role::room;
  static std::vector<Field> schema() { return {number<&Air::capacity>("capacity", 0, 1e9, "")}; }
  std::vector<OwnState> states() const { return {{"air", capacity, 293.15}}; }
};
struct Caller {
  double setting, differential;
  static constexpr std::string_view kind = "caller", family = "toy", summary = "";
  static constexpr Role role = Role::thermostat;
  static std::vector<Field> schema() {
    return {number<&Caller::setting>("setting", 0, 1e9, "").as(FieldRole::setting),
            number<&Caller::differential>("differential", 0, 1e9, "").as(FieldRole::differential)};
  }
  static constexpr std::array<std::string_view, 2> modes{"satisfied", "calling"};
  static constexpr std::array<Traits, 2> traits{trait::none, trait::calls};
  static auto transitions() {
    using T = Transition<Caller>;
    return std::array{T{0, 1, &Caller::never, Cause::timer, ""}, T{1, 0, &Caller::never, Cause::timer, ""}};
  }
  Reading never(Site const&) const { return Reading::never(); }
};

/// A boiler and one zone, moved by hand.
class ByHand : public testing::Test {
 protected:
  ByHand() {
    auto& in = network.installation;
    boiler = in.boiler = network.add<Burner>("a", "b", {10e3, 2e3});
    radiator = network.add<Radiator>("b", "a", {});
    room = piece<Air>({1e5}), thermostat = piece<Caller>({293.15, 0.5});
    ZoneParts zone;
    zone.name = "bath", zone.room = room, zone.thermostat = thermostat, zone.emitter = radiator;
    in.zones.push_back(zone);
    plan.emplace(lay_out(in));
    state.emplace(*plan);
    state->x[given::outdoors] = 270;
  }
  template <class K>
  int piece(std::vector<double> numbers) {
    int const at = network.add<K>("", "", std::move(numbers));
    network.installation.pieces[at].ports.clear();
    return at;
  }
  void step(double span, std::function<void(std::vector<double>&)> const& change = {}) {
    auto const before = state->x;
    double const from = state->time;
    if (change) change(state->x);
    state->time += span;
    recorder().stepped(from, before, *state);
  }
  void set(int piece, int mode, bool told = true) {
    Trip const trip{piece, state->mode[piece], mode, cause, "water at {value}, {beyond} above {limit}", 300, 295,
                     measure::fine_temperature, told};
    state->mode[piece] = mode;
    recorder().tripped({trip}, *state);
  }
  void burn(double span) { set(boiler, 1), step(span / 2), set(boiler, 2), step(span / 2), set(boiler, 3); }
  Recorder& recorder() {
    if (!recorder_) recorder_.emplace(*plan, network.installation, options);
    return *recorder_;
  }
  Record record() { return recorder().record(*state); }

  Network network;
  int boiler = 0, radiator = 0, room = 0, thermostat = 0;
  std::optional<Plan> plan;
  std::optional<State> state;
  RecorderOptions options;
  Cause cause = Cause::on_temperature;

 private:
  std::optional<Recorder> recorder_;
};

TEST_F(ByHand, BurnsAreFinishedOnesAndStartsAreAll) {
  for (double const length : {100., 300., 200., 400.}) burn(length), step(600);
  set(boiler, 1), step(5000);  // still burning at the end
  auto const b = record().burner;
  EXPECT_EQ(b.starts, 5);
  EXPECT_THAT(b.burns, testing::ElementsAre(100, 300, 200, 400));
  EXPECT_EQ(b.burn_shortest, 100);
  EXPECT_EQ(b.burn_longest, 400);
  EXPECT_EQ(b.burn_median, 250);
  EXPECT_DOUBLE_EQ(b.time_firing, 6000);
  EXPECT_EQ(b.input_least, 2e3);
  EXPECT_THAT(b.ends, testing::ElementsAre(testing::Pair(Cause::on_temperature, 4)));
}

TEST_F(ByHand, BurnsAreCountedByWhatEndedThem) {
  for (auto const c : {Cause::off_temperature, Cause::call_ended, Cause::off_temperature}) cause = c, burn(100), step(600);
  EXPECT_THAT(record().burner.ends, testing::ElementsAre(testing::Pair(Cause::off_temperature, 2), testing::Pair(Cause::call_ended, 1)));
}

TEST_F(ByHand, TheCloseupIsTheDayWithMostStarts) {
  for (int const starts : {2, 5, 3}) {
    for (int i = 0; i < starts; ++i) burn(120), step(1000);
    step(86400 - 1120 * starts);
  }
  auto const r = record();
  EXPECT_THAT(r.burner.starts_by_day, testing::ElementsAre(2, 5, 3));
  EXPECT_EQ(r.closeup.start, 86400);
  EXPECT_LE(r.closeup.step, 20);
  for (auto const& c : r.closeup.channels) EXPECT_EQ(double(c.mean.size()) * r.closeup.step, 86400) << c.id;
  EXPECT_EQ(r.burner.starts_per_hour_worst, 4);  // a start each 1120 s
}

TEST_F(ByHand, AStepOverMidnightBelongsToBothDays) {
  step(86400 - 100);
  int const air = plan->own[room];
  step(200, [&](auto& x) { x[air] += 2; });
  burn(100);
  auto const r = record();
  ASSERT_EQ(r.closeup.start, 86400);  // the second day has the start
  auto const& c =
      *std::find_if(r.closeup.channels.begin(), r.closeup.channels.end(), [](auto const& c) { return c.id == "zone/bath/room"; });
  EXPECT_NEAR(c.least[0], 294.15, 1e-3);  // half of the rise lies before midnight
}

TEST_F(ByHand, FireShowsOnlyWhileBurning) {
  step(100), burn(200), step(100);
  auto const r = record();
  auto const& c = *std::find_if(r.whole.channels.begin(), r.whole.channels.end(), [](auto const& c) { return c.id == "boiler/fire"; });
  EXPECT_EQ(c.mean[5], 0);
  EXPECT_FLOAT_EQ(c.mean[20], 0.2f);
  EXPECT_EQ(c.mean[35], 0);
}

TEST_F(ByHand, HeatOfAnEmitterIsFlowTimesDropOverTime) {
  int const branch = plan->first_branch[radiator];
  auto const& run = plan->branches[branch];
  state->flow[branch] = 0.1;
  state->x[run.inlet] = 340, state->x[run.first_cell + 1] = 330;
  step(100, [&](auto& x) { x[run.first_cell + 1] = 334; });  // drop from 10 to 6 K: 8 in the mean
  EXPECT_DOUBLE_EQ(record().zones[0].heat, 0.1 * plan->fluid.heat_capacity * 8 * 100);
}

TEST_F(ByHand, OvershootCountsBeyondTheBandAlone) {
  int const air = plan->own[room];  // setting 293.15, differential 0.5 and 0.5 more: free to 294.15
  step(1000, [&](auto& x) { x[air] += 1; });
  EXPECT_DOUBLE_EQ(record().zones[0].overshoot, 0);
  step(1000, [&](auto& x) { x[air] += 2; });  // from 0 to 2 K above the band
  EXPECT_NEAR(record().zones[0].overshoot, 1000, 1e-6);
  step(1000, [&](auto& x) { x[air] = 291.15; });  // 5 K in 1000 s: 2 above the band, 2 within, 1 below
  EXPECT_NEAR(record().zones[0].overshoot, 1000 + 2 * (2 / 5.0 * 1000) / 2, 1e-6);  // triangles
  EXPECT_NEAR(record().zones[0].undershoot, 1 * (1 / 5.0 * 1000) / 2, 1e-6);
  EXPECT_EQ(record().zones[0].room_max, 296.15);
}

TEST_F(ByHand, CallsAreTimed) {
  set(thermostat, 1), step(50), step(70), set(thermostat, 0), step(500), set(thermostat, 1), step(90);
  auto const z = record().zones[0];
  EXPECT_DOUBLE_EQ(z.longest_call, 120);
  EXPECT_DOUBLE_EQ(z.call_time, 210);
}

TEST_F(ByHand, EnergyClosesWhereNothingIsLostAndOnlyThere) {
  int const water = plan->branches[plan->first_branch[boiler]].first_cell;
  step(100, [&](auto& x) {  // 1000 J of fuel: 100 up the flue, 300 outdoors, 50 of gains came in, 650 stay
    x[account::fuel] -= 1000, x[account::flue] += 100, x[account::envelope] += 300, x[account::gains] -= 50;
    x[water] += 650 / plan->capacity[water];
  });
  auto e = record().energy;
  EXPECT_DOUBLE_EQ(e.fuel, 1000);
  EXPECT_DOUBLE_EQ(e.useful, 250);
  EXPECT_NEAR(e.stored, 650, 1e-6);
  EXPECT_NEAR(e.closure, 0, 1e-9);
  step(100, [&](auto& x) { x[account::fuel] -= 1000, x[account::flue] += 980; });  // 20 J vanish of 2000
  EXPECT_NEAR(record().energy.closure, 0.01, 1e-9);
}

TEST_F(ByHand, EventsAreKeptToABoundAndTheRestCounted) {
  options.events = 3;
  for (int i = 0; i < 4; ++i) burn(10);
  set(thermostat, 1, false);
  auto const r = record();
  ASSERT_EQ(r.events.size(), 3u);
  EXPECT_EQ(r.events[0].what, "sparks");
  EXPECT_EQ(r.events[0].cause, Cause::on_temperature);
  EXPECT_EQ(r.events[0].why.in(UnitSystem::us), "water at 80.3 °F, 9 °F above 71.3 °F");
  EXPECT_EQ(r.events[0].why.in(UnitSystem::si), "water at 26.9 °C, 5.0 °C above 21.9 °C");
  EXPECT_EQ(r.events_left_out, 9);  // 4 burns of 3 events; the untold one counts nowhere
  EXPECT_FALSE(r.cautions.empty());
}

TEST_F(ByHand, CondensingIsAskedAtBothEndsOfAStep) {
  options.condensing = [](double entering, double fire) { return entering + 10 * fire < 328; };
  int const in = plan->branches[plan->first_branch[boiler]].inlet;
  state->x[in] = 320;
  step(100);  // no fire: no condensing
  set(boiler, 1), step(100), step(100, [&](auto& x) { x[in] = 326.5; }), step(100);
  EXPECT_DOUBLE_EQ(record().burner.time_condensing, 150);
}

}  // namespace
}  // namespace steadyfire
