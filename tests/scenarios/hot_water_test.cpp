/// Hot water as it is drawn, in whole houses.

#include <gtest/gtest.h>

#include "models/fluid/water.hpp"
#include "models/hot_water/hot_water_sections.hpp"
#include "sim/study/run_study.hpp"
#include "tests/scenarios/whole_run.hpp"
#include "tests/paths.hpp"

namespace steadyfire {
namespace {

constexpr double gpm = unit::gpm.scale, Btu_per_hour = unit::Btu_per_hour.scale, degF = unit::degF_change.scale;
double fahrenheit(double f) { return unit::degF.to_si(f); }

/// A house with a combi boiler, marched and looked at.
class Combi {
 public:
   explicit Combi(std::string const& text) : project_{project_of(text)} {
     plan.emplace(lay_out(project_.installation, *project_.run.start_water));
     weather_ = std::make_unique<RunWeather>(project_);
     march_ = std::make_unique<March>(*plan, *weather_);
     state().x[given::ground] = project_.ground, state().x[given::unheated] = project_.unheated;
   }
  State& state() { return march_->state(); }
  void run(double until) { march_->run(until); }
  void watch(Watcher& w) { march_->watch(w); }
  int number(std::string const& piece) const { return project_.installation.find(piece); }
  std::string mode(std::string const& piece) { return plan->pieces[number(piece)].kind->modes[state().mode[number(piece)]]; }
  double own(std::string const& piece, int i = 0) { return state().x[plan->own[number(piece)] + i]; }
  double joint(std::string const& name) { return state().x[plan->first_joint + plan->joint_named(name)]; }
  int branch(std::string const& piece, int b = 0) const { return plan->first_branch[number(piece)] + b; }
  double flow(std::string const& piece, int b = 0) { return state().flow[branch(piece, b)] / state().local[branch(piece, b)].density; }
  double account(Place a) { return state().x[a]; }
  Project const& project() const { return project_; }
  std::optional<Plan> plan;

 private:
  Project project_;
  std::unique_ptr<RunWeather> weather_;
  std::unique_ptr<March> march_;
};

/// One tap at a steady draw; `boiler`, `hot_water` and `tap` are more lines of their tables.
std::string house(std::string const& boiler, std::string const& hot_water, std::string const& tap, std::string const& zone) {
  return R"(format = 1
title = "A combi boiler"
[site]
outdoor_design = "0 degF"
weather = { kind = "constant", outdoors = "80 degF" }
[boiler]
heating_input = "90 kBtu/h"
minimum_input = "18 kBtu/h"
)" + boiler + R"(
[near_boiler]
arrangement = "closely spaced tees"
[hot_water]
cold_inlet = { kind = "steady", temperature = "50 degF" }
)" + hot_water + R"(
[[tap]]
name = "tap"
)" + tap + zone;
}
std::string const room = R"(
[[zone]]
name = "room"
design_load = "14 kBtu/h"
floor_area = "600 ft2"
emitter = { kind = "panel radiator", output = "22 kBtu/h" }
supply_temperature = "140 degF"
)";
// Plates so large that the water comes back cold and the boiler condenses as far as it can.
std::string const large_plates =
    "exchanger = { rated_conductance = \"12000 Btu/(h.degF)\", rated_flow = \"5 gpm\", rated_head_loss = \"6 ft\" }\n";

/// Trade fact (common practice, no source): 199 000 Btu/h of input deliver about 5.1 gpm, which at 95 % means a rise of 74 °F.
TEST(HotWater, AFullBurnerDelivers5GpmThrough74DegF) {
  Combi c{house("dhw_input = \"199 kBtu/h\"", "set_point = \"140 degF\"\n" + large_plates,
                "flow = \"5.1 gpm\"\nat = \"0:05\"\nlasts = \"55 min\"\ntemperature = \"140 degF\"", room)};
  c.run(1800);
  double const fuel = -c.account(account::fuel), flue = c.account(account::flue);
  c.run(3000);
  double const efficiency = 1 - (c.account(account::flue) - flue) / (-c.account(account::fuel) - fuel);
  EXPECT_NEAR((-c.account(account::fuel) - fuel) / 1200, 199e3 * Btu_per_hour, 199 * Btu_per_hour) << "of hot water, not of heating";
  EXPECT_NEAR(c.flow("hot water/control") / gpm, 5.1, 0.15);  // the hand leaves hardly any cold water in
  double const rise = c.joint("plates hot") - fahrenheit(50);
  // gpm = Btu/h/(500·rise): 500 is 8.33 lb/gal·60, water at its cold inlet 0.2 % heavier; what the casing loses 0.3 %
  double const by_trade = 199e3 * efficiency / (500 * rise / degF);
  EXPECT_NEAR(c.flow("hot water/control") / gpm, by_trade, 0.01 * by_trade);
  EXPECT_NEAR(rise / degF, 74, 0.04 * 74) << "efficiency " << efficiency;
}

/// By definition: of the fuel burned for hot water so much is heat in the water, at full fire and below it.
TEST(HotWater, TheMakersEfficiencyIsThatOfTheRun) {
  for (char const* flow : {"2.5 gpm", "1 gpm"}) {
    Combi c{house("dhw_input = \"120 kBtu/h\"\ndhw_efficiency = \"94 %\"", "set_point = \"120 degF\"",
                  std::string("flow = \"") + flow + "\"\nat = \"0:05\"\nlasts = \"55 min\"\ntemperature = \"118 degF\"", room)};
    c.run(1800);
    double const fuel = -c.account(account::fuel), flue = c.account(account::flue);
    c.run(3000);
    EXPECT_NEAR((c.account(account::flue) - flue) / (-c.account(account::fuel) - fuel), 0.06, 1e-6) << flow;
  }
}

/// The same trade fact: about 1 gpm less while about 37 kBtu/h also heat.
TEST(HotWater, HeatingBesideItCosts1Gpm) {
  std::string const load = R"toml(
[[zone]]
name = "load"
design_load = "37 kBtu/h"
emitter = { kind = "heat draw", power = "37000 Btu/h" }
room = { kind = "room", heat_loss = "500 Btu/(h.degF)" }
floor_area = "600 ft2"
thermostat = { setting = "90 degF" }
supply_temperature = "110 degF"
)toml";
  Combi c{house("dhw_input = \"199 kBtu/h\"", "operation = \"shared\"\nset_point = \"140 degF\"\n" + large_plates,
                "flow = \"4.1 gpm\"\nat = \"0:05\"\nlasts = \"55 min\"\ntemperature = \"140 degF\"", load)};
  c.run(3000);
  EXPECT_EQ(c.mode("hot water/control"), "hot water and heating");
  EXPECT_EQ(c.mode("hot water/diverter"), "to both");
  EXPECT_NEAR(c.own("boiler", 1), 1, 1e-3);
  EXPECT_NEAR((c.joint("plates hot") - fahrenheit(50)) / degF, 74, 0.05 * 74);
}

/// Hot share of 105 °F from 120 and 50 °F: (105 − 50)/(120 − 50) = .7857.
TEST(HotWater, TheHandMixesByTheRuleOfMixtures) {
  Combi c{house("dhw_input = \"120 kBtu/h\"", "set_point = \"120 degF\"", "flow = \"2 gpm\"\nat = \"0:05\"\nlasts = \"50 min\"", room)};
  c.run(3000);
  double const hot = c.joint("tap hot"), cold = c.joint("cold main");
  double const share = c.flow("tap/tap") / (c.flow("tap/tap") + c.flow("tap/tap", 1));
  EXPECT_NEAR(c.joint("plates hot"), fahrenheit(120), 0.3);
  EXPECT_NEAR(cold, fahrenheit(50), 0.01);
  EXPECT_NEAR(share * hot + (1 - share) * cold, fahrenheit(105), 0.8);  // neutral zone of the hand and one step of its share
  EXPECT_NEAR(share, 0.7857, 0.03);                                     // the run cools by a degree or two on its way
  EXPECT_NEAR((c.flow("tap/tap") + c.flow("tap/tap", 1)) / gpm, 2, 0.03);
  EXPECT_NEAR(c.flow("hot water/diverter", 1), 0, 1e-9) << "heating waits";
}

TEST(HotWater, ASmallDrawNeverLightsTheBurner) {
  Combi c{house("", "start_flow = \"0.5 gpm\"", "flow = \"0.4 gpm\"\nat = \"0:05\"\nlasts = \"30 min\"", room)};
  c.run(1500);
  EXPECT_EQ(c.mode("tap/tap"), "open");
  EXPECT_EQ(c.mode("hot water/control"), "idle");
  EXPECT_DOUBLE_EQ(c.account(account::fuel), 0);
  std::vector<Finding> found;
  for (auto const& b : c.plan->batches) b->findings(c.state().now(*c.plan), found);
  EXPECT_EQ(std::count_if(found.begin(), found.end(), [](auto const& f) { return f.id == "dhw.below_start_flow"; }), 1);
}

/// Between the least steady flow, minimum fire/(500·rise), and the start flow the burner goes on and off.
TEST(HotWater, BelowTheLeastSteadyFlowTheBurnerCycles) {
  struct Counts final : Watcher {
    int boiler, lit = 0, stopped = 0;
    void stepped(double, std::vector<double> const&, State const&) override {}
    void tripped(std::vector<Trip> const& trips, State const&) override {
      for (auto const& t : trips) lit += t.piece == boiler && t.to == 1, stopped += t.piece == boiler && t.to == 5;
    }
  };
  // minimum 30 kBtu/h at about 93 %: 28 kBtu/h over 70 °F are 0.8 gpm
  for (auto const& [flow, cycles] : {std::pair{"0.6 gpm", true}, {"1.2 gpm", false}}) {
    Combi c{house("dhw_minimum_input = \"30 kBtu/h\"", "",
                  std::string("flow = \"") + flow + "\"\nat = \"0:05\"\nlasts = \"50 min\"\ntemperature = \"140 degF\"", room)};
    Counts counts;
    counts.boiler = c.number("boiler");
    c.watch(counts);
    c.run(3000);
    EXPECT_GE(counts.lit, 1);
    if (cycles) EXPECT_GE(counts.stopped, 5) << flow;
    else EXPECT_EQ(counts.stopped, 0) << flow;
  }
}

/// Priority lets heating wait, and after the longest wait gives it its turn.
TEST(HotWater, HeatingHasItsTurnAfterTheLongestWait) {
  std::string const cold_room = R"(
[[zone]]
name = "room"
design_load = "14 kBtu/h"
floor_area = "600 ft2"
emitter = { kind = "panel radiator", output = "22 kBtu/h" }
room = { start = "50 degF" }
supply_temperature = "140 degF"
)";
  auto text = house("dhw_input = \"120 kBtu/h\"", "longest_wait = \"60 min\"\nheating_turn = \"15 min\"",
                    "flow = \"2 gpm\"\nat = \"0:05\"\nlasts = \"3 h\"", cold_room);
  text.replace(text.find("80 degF"), 7, "0 degF");
  Combi c{text};
  c.run(300 + 3500);
  EXPECT_EQ(c.mode("hot water/control"), "hot water");
  EXPECT_NEAR(c.flow("hot water/diverter", 1), 0, 1e-9);
  c.run(300 + 3605);
  EXPECT_EQ(c.mode("hot water/control"), "heating's turn");
  c.run(300 + 3600 + 840);
  EXPECT_GT(c.flow("hot water/diverter", 1), 1e-5) << "the valve stands to heating";
  EXPECT_LT(c.joint("plates hot"), fahrenheit(55)) << "hot water runs cold meanwhile";
  c.run(300 + 3600 + 960);
  EXPECT_EQ(c.mode("hot water/control"), "hot water");
}

/// A front of hot water needs as long as the pipe holds water, and its metal as much heat: V_effective/Q.
TEST(HotWater, TimeUntilHotIsThatOfPlugFlow) {
  Combi c{house("dhw_input = \"150 kBtu/h\"", "trunk_length = \"0.5 ft\"",
                "flow = \"1 gpm\"\nat = \"0:30\"\nlasts = \"50 min\"\ntemperature = \"140 degF\"\nrun_length = \"60 ft\"", room)};
  c.run(1800);
  auto const& plan = *c.plan;
  auto const& run = plan.branches[c.branch("tap/run")];
  double capacity = 0;
  for (int i = 0; i < run.cells; ++i) capacity += plan.capacity[run.first_cell + i];
  int const b = c.branch("tap/run");
  double const cold = c.joint("tap hot"), halfway = (cold + fahrenheit(115)) / 2;
  double entered = 0, left = 0;
  for (double t = 1800.5; left == 0 && t < 2700; t += 0.5) {
    c.run(t);
    if (entered == 0 && c.joint("hot trunk") > halfway) entered = t;
    if (c.joint("tap hot") > halfway) left = t;
  }
  // The water in 60 ft of 1/2 in copper M (bore 0.569 in) takes 0.79 gal/1 gpm = 48 s, its metal a fifth more. The front that
  // enters is no step: the burner takes half a minute, so that halfway comes a little later than the plug.
  double const plug = capacity / (plan.fluids[b].density * plan.fluids[b].heat_capacity) / c.flow("tap/run");
  EXPECT_NEAR(plug, 57, 6);
  EXPECT_NEAR(left - entered, plug, 0.12 * plug);
}

/// What crosses the border as hot water is what the taps gave, above cold: Σ ∫ W·(T_mixed − T_cold) dt.
TEST(HotWater, DrawnHeatIsInTheBalance) {
  struct Drawn final : Watcher {
    Combi* c;
    double heat = 0;
    double power(std::vector<double> const& x, State const& s) const {
      double sum = 0;
      auto const& plan = *c->plan;
      for (auto const* tap : {"shower/tap", "kitchen sink/tap", "basin/tap"})
        for (int b : {0, 1}) {
          int const k = c->branch(tap, b);
          sum += s.flow[k] * plan.fluids[k].heat_capacity * (x[plan.branches[k].inlet] - unit::degF.to_si(52 - 10));
        }
      return sum;
    }
    void stepped(double from, std::vector<double> const& before, State const& now) override {
      heat += (now.time - from) * (power(before, now) + power(now.x, now)) / 2;
    }
    void tripped(std::vector<Trip> const&, State const&) override {}
  };
  std::string const file = in_source("/scenarios/combi_family.toml");
  auto text = read_text(file);
  auto const season = text.find("cold_inlet");
  text.replace(season, text.find('\n', season) - season, "cold_inlet = { kind = \"steady\", temperature = \"42 degF\" }");
  Combi c{text};
  Drawn drawn;
  drawn.c = &c;
  c.watch(drawn);
  for (auto const& b : c.plan->batches) b->begin(c.state().now(*c.plan), c.state().x.data());
  double const before = stored_heat(*c.plan, c.state().x);
  c.run(86400);
  EXPECT_LT(std::abs(stored_heat(*c.plan, c.state().x) - before), 1e-9 * -c.account(account::fuel));
  EXPECT_GT(drawn.heat, 10e6);
  EXPECT_NEAR(c.account(account::process), drawn.heat, 0.01 * drawn.heat);  // steps as straight lines
}

TEST(HotWater, TheShippedHouseLosesNothingAndTellsOfItsBasin) {
  for (auto const& [name, id] : {std::pair{"combi_family", "dhw.below_start_flow"}, {"shared_slab", "dhw.shared_floor"}}) {
    auto const project = whole_run::shipped(name);
    RunOptions options;
    options.duration = 86400, options.ground = project.ground, options.unheated = project.unheated;
    options.start_water = *project.run.start_water;
    auto const result = run_study(project.installation, options, RunWeather{project}, {}, {});
    EXPECT_FALSE(result.stopped) << name;
    EXPECT_LT(std::abs(result.record.energy.closure), 1e-10) << name;
    auto const& found = result.record.findings;
    EXPECT_TRUE(std::any_of(found.begin(), found.end(), [&](auto const& f) { return f.id == id; })) << name << ": " << id;
  }
}

/// A loop kept warm all day, by the temperature that comes back: it rests and starts within its differential, and what little it
/// takes lets the burner go on and off.
TEST(HotWater, RecirculationKeepsItsReturnWithinTheDifferential) {
  Combi c{house("",
                "recirculation = { by = \"temperature\", from = \"0:00\", until = \"0:00\", setting = \"105 degF\", "
                "return_length = \"60 ft\" }",
                "flow = \"2 gpm\"\nat = \"23:00\"\nlasts = \"1 min\"", room)};
  c.run(2 * 3600);
  int starts = 0;
  bool was_running = c.mode("hot water/recirculation") == "running", cycles = false;
  for (double t = 2 * 3600; t < 8 * 3600; t += 10) {
    c.run(t);
    bool const runs = c.mode("hot water/recirculation") == "running";
    starts += runs && !was_running, was_running = runs;
    EXPECT_GT(c.own("hot water/recirculation"), fahrenheit(94.5));
    EXPECT_LT(c.own("hot water/recirculation"), fahrenheit(106));
    if (runs) EXPECT_NEAR(c.flow("hot water/recirculator") / gpm, 1.5, 0.02);
    std::vector<Finding> found;
    for (auto const& b : c.plan->batches) b->findings(c.state().now(*c.plan), found);
    cycles |= std::any_of(found.begin(), found.end(), [](auto const& f) { return f.id == "dhw.recirculation_cycles"; });
  }
  EXPECT_GE(starts, 3);
  EXPECT_TRUE(cycles);
}

TEST(HotWater, RecirculationRunsOnDemandAndByAZonesOutput) {
  Combi asked{house("",
                    "recirculation = { by = \"demand\", asked_at = [\"1:00\", \"2:30\"], setting = \"100 degF\", "
                    "longest_run = \"5 min\" }",
                    "flow = \"2 gpm\"\nat = \"23:00\"\nlasts = \"1 min\"", room)};
  for (auto const& [time, runs] :
       {std::pair{3590., false}, {3605., true}, {3901., false}, {8990., false}, {9005., true}, {9301., false}}) {
    asked.run(time);
    EXPECT_EQ(asked.mode("hot water/recirculation") == "running", runs) << time;
    EXPECT_EQ(asked.flow("hot water/recirculator") > 1e-6, runs) << time;
  }
  auto text = house("", "recirculation = { zone_output = \"room\" }", "flow = \"2 gpm\"\nat = \"23:00\"\nlasts = \"1 min\"", room);
  text.replace(text.find("80 degF"), 7, "0 degF");
  Combi by_zone{text};
  int agree = 0;
  for (double t = 60; t < 6 * 3600; t += 60) {
    by_zone.run(t);
    bool const calls = by_zone.mode("room/thermostat") == "calling";
    EXPECT_EQ(by_zone.flow("hot water/recirculator") > 1e-6, calls) << t;
    agree += calls;
  }
  EXPECT_GT(agree, 10);
}

/// The second heater comes when the first has stayed short for a minute; its own part leaves at its set point, and both together
/// give what their inputs are worth: closed form.
TEST(HotWater, ASecondHeaterTakesWhatExceedsTheFirst) {
  Combi c{house("dhw_input = \"100 kBtu/h\"",
                "flow_limit = \"12 gpm\"\nsecond_heater = { input = \"150 kBtu/h\", minimum_input = \"20 kBtu/h\", efficiency = \"85 %\" }",
                "flow = \"6 gpm\"\nat = \"0:05\"\nlasts = \"30 min\"\ntemperature = \"118 degF\"", room)};
  c.run(300 + 30);
  EXPECT_EQ(c.mode("hot water/second"), "waiting");
  double const alone = c.flow("hot water/control");
  EXPECT_NEAR(c.flow("hot water/second"), 0, 1e-9);
  c.run(300 + 900);
  EXPECT_EQ(c.mode("hot water/second"), "burning");
  EXPECT_LT(c.flow("hot water/control"), 0.7 * alone);
  EXPECT_NEAR(c.own("boiler", 1), 1, 1e-3) << "the first at full fire";
  double const q = c.flow("hot water/second"), rise = fahrenheit(120) - fahrenheit(50);
  // fire·input·η = ρ·cp·q·rise: 8.33 lb/gal and 1 Btu/(lb·°F), 0.5 % apart from water at 30 °C
  EXPECT_NEAR(c.own("hot water/second", 1) * 150e3 * 0.85, 500 * q / gpm * rise / degF, 0.01 * 150e3 * 0.85);
  double const second_outlet = c.state().x[c.plan->branches[c.branch("hot water/second")].first_cell + 2];
  EXPECT_NEAR(second_outlet, fahrenheit(120), 0.05);
  c.run(300 + 2400);
  EXPECT_EQ(c.mode("hot water/second"), "shut");
}

/// A small store gives hot water at once, where plates and burner alone take half a minute.
TEST(HotWater, ASmallStoreIsHotAtOnce) {
  std::string const tap = "flow = \"2 gpm\"\nat = \"3:00\"\nlasts = \"5 min\"\ntemperature = \"140 degF\"";
  Combi with{house("", "storage = { volume = \"6 gal\", setting = \"114 degF\", differential = \"8 degF\" }", tap, room)};
  Combi without{house("", "", tap, room)};
  for (auto* c : {&with, &without}) c->run(3 * 3600 - 1);
  EXPECT_GT(with.own("hot water/storage"), fahrenheit(105.5));
  EXPECT_LT(with.own("hot water/storage"), fahrenheit(118));
  for (auto* c : {&with, &without}) c->run(3 * 3600 + 20);
  EXPECT_GT(with.joint("hot stored"), fahrenheit(95));
  EXPECT_LT(without.joint("hot made"), fahrenheit(85));
}

TEST(HotWater, ATankFeedsTheTaps) {
  std::string const zones = room + R"(
[[zone]]
name = "store"
design_load = "60 kBtu/h"
emitter = { kind = "potable tank", volume = "40 gal", setting = "130 degF" }
supply_temperature = "170 degF"
circulator = { duty = "small" }
)";
  Combi c{house("", "", "flow = \"2 gpm\"\nat = \"2:00\"\nlasts = \"8 min\"", zones)};
  for (auto const& b : c.plan->batches) b->begin(c.state().now(*c.plan), c.state().x.data());
  double const before = stored_heat(*c.plan, c.state().x);
  c.run(7200 + 240);
  double const T = c.joint("tap hot"), top = c.own("store/emitter");
  EXPECT_NEAR(T, top, 1.0) << "the run cools a little";
  EXPECT_NEAR(c.flow("tap/tap") + c.flow("tap/tap", 1), 2 * gpm, 0.02 * gpm);
  double const process = c.account(account::process);
  c.run(7200 + 300);
  // 2 gpm of mixed water at 105 °F from 50 °F for a minute: 8.33 lb/gal, 1 Btu/(lb·°F)
  EXPECT_NEAR((c.account(account::process) - process) / unit::Btu, 2 * 8.31 * 55, 0.02 * 2 * 8.31 * 55);
  c.run(4 * 3600);
  EXPECT_GT(c.own("store/emitter"), fahrenheit(118));
  EXPECT_LT(std::abs(stored_heat(*c.plan, c.state().x) - before), 1e-9 * -c.account(account::fuel));
}

/// By hand from the correlation as remembered: air 50 °F with 45 °F between months: 50 + 6 °F, amplitude (0.4 + 0.06)·45/2 °F,
/// lag 35 − 6 = 29 days, warmest 15 + 29 + 180/0.986 = day 226.6.
TEST(HotWater, MainsFollowTheAirByThePublishedCorrelation) {
  auto const cold = mains_by_air(fahrenheit(50), 45 * degF);
  EXPECT_NEAR(cold.mean, fahrenheit(56), 1e-9);
  EXPECT_NEAR(cold.swing / degF, 10.35, 1e-9);
  EXPECT_NEAR(cold.warmest_day, 226.6, 1.1);
}

}  // namespace
}  // namespace steadyfire
