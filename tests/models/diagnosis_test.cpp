#include "tools/review/diagnosis.hpp"

#include <gmock/gmock.h>

#include <random>

#include "job_of.hpp"
#include "models/house/section_of.hpp"

namespace steadyfire {
namespace {

std::string const house = R"(
format = 1
title = "Three zones over closely spaced tees, with a strainer and a flow check"
[site]
outdoor_design = "5 degF"
[boiler]
heating_input = "80 kBtu/h"
minimum_input = "10 kBtu/h"
[near_boiler]
arrangement = "closely spaced tees"
size = "1 in copper M"
control_sensor = "system supply"
strainer = {}
circulator = { duty = "medium" }
[controls]
reset = { cold_supply = "160 degF", mild_outdoors = "65 degF", mild_supply = "100 degF" }
[[zone]]
name = "rooms"
design_load = "25 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "60 ft" }
circulator = { duty = "small", check_valve = false }
flow_check = {}
[[zone]]
name = "bath"
design_load = "5 kBtu/h"
emitter = { kind = "panel radiator", output = "6 kBtu/h" }
circulator = { duty = "small" }
size = "1/2 in copper M"
[[zone]]
name = "attic"
design_load = "12 kBtu/h"
emitter = { kind = "fin-tube baseboard", length = "30 ft" }
circulator = { duty = "small" }
height = "18 ft"
)";

struct Bench {
  JobOf job{house};
  Stand stand;
  GaugesSection gauges = [] {
    Diagnostics none;
    return section_of<GaugesSection>(read_document("", "format = 1\ntitle = \"\"\n", readings_catalog(), none), readings_catalog());
  }();
  explicit Bench(std::vector<std::string> calling = {"rooms", "bath", "attic"}) {
    stand.installation = job.project().installation;
    stand.conditions.calling = std::move(calling), stand.conditions.outdoors = job.project().installation.outdoor_design;
    double constexpr psi = 6894.757, inch = 249.08891;
    stand.still = {12 * psi, 15 * psi, 7 * inch, 6.5 * inch, 1, 1};
  }
  /// With errors of gauge size, from a seed: each within two deviations.
  std::vector<GaugeValue> noisy(std::vector<GaugeValue> shown, unsigned seed) const {
    std::mt19937 random{seed};
    for (auto& g : shown) {
      double sum = 0;
      for (int i = 0; i < 4; ++i) sum += double(random()) / 4294967296.0 - 0.5;  // variance 1/3
      g.value += std::clamp(sum * std::sqrt(3.0), -2.0, 2.0) * gauge_error(g, gauges);
    }
    return shown;
  }
};

/// Which of all explanations fits, told from the readings of one fault: every fault that stands out by six deviations.
void each_leads_back(Bench const& bench, std::size_t least_that_stand_out) {
  auto const explanations = explain(bench.stand);
  EXPECT_TRUE(explanations.not_solved.empty());
  std::size_t stood_out = 0;
  for (auto const& truth : explanations.all)
    for (auto const& size : truth.sizes)
      for (unsigned const seed : {1u, 2u, 3u}) {
        auto const d = diagnose(explanations, bench.noisy(size.gauges, seed), bench.gauges, {});
        Suspect const is{truth.fault, size.size, size.gauges, 0, 0, 0};
        auto const& first = d.causes[0];
        if (d.apart(is, d.as_designed()) < 6) continue;
        ++stood_out;
        EXPECT_FALSE(d.is_beyond_chance(first));
        if (first.fault == truth.fault) continue;
        // one may stand before it that shows nearly the same: errors of one deviation cross four in one of forty
        EXPECT_LT(d.apart(is, first), 4) << us(truth.fault->words) << us(size.size) << " was taken for " << us(first.fault->words);
        auto const own = std::find_if(d.causes.begin(), d.causes.end(), [&](Suspect const& c) { return c.fault == truth.fault; });
        EXPECT_GT(own->share, 0.02) << us(truth.fault->words);
      }
  EXPECT_GE(stood_out, least_that_stand_out);
}

TEST(Diagnosis, EveryFaultLeadsBackToItself) { each_leads_back(Bench{}, 150); }
TEST(Diagnosis, SoItDoesWithOneZoneCallingAlone) { each_leads_back(Bench{{"rooms"}}, 100); }

TEST(Diagnosis, AHealthyHouseIsAsDesigned) {
  Bench const bench;
  auto const explanations = explain(bench.stand);
  for (unsigned seed = 1; seed <= 30; ++seed) {
    auto const d = diagnose(explanations, bench.noisy(explanations.all[0].sizes[0].gauges, seed), bench.gauges, {});
    EXPECT_EQ(d.causes[0].fault, nullptr) << seed << ": " << us(d.causes[0].fault->words);
    EXPECT_FALSE(d.is_beyond_chance(d.causes[0]));
  }
}

/// Those readings whose id ends so.
std::vector<GaugeValue> only(std::vector<GaugeValue> const& all, std::vector<std::string> const& ends) {
  std::vector<GaugeValue> some;
  for (auto const& g : all)
    if (std::any_of(ends.begin(), ends.end(), [&](auto const& e) { return g.id.ends_with(e); })) some.push_back(g);
  return some;
}
std::vector<GaugeValue> const& shown_by(Explanations const& e, std::string const& id, std::string const& place) {
  for (auto const& one : e.all)
    if (one.fault && one.fault->id == id && one.fault->place == place) return one.sizes.back().gauges;
  throw InternalError("no such fault");
}
Suspect const& cause(Diagnosis const& d, std::string const& id, std::string const& place) {
  return *std::find_if(d.causes.begin(), d.causes.end(),
                       [&](Suspect const& c) { return c.fault && c.fault->id == id && c.fault->place == place; });
}

TEST(Diagnosis, ThermometersAloneTellAZoneWithoutFlow) {
  Bench const bench;
  auto const e = explain(bench.stand);
  auto const d = diagnose(e, only(shown_by(e, "circulator.rests", "bath/circulator"), {"supply", "return"}), bench.gauges, {});
  // a circulator at rest, air, and a circulator backwards look alike there; its watts part the first from the second
  EXPECT_TRUE(d.causes[0].fault);
  auto const &rests = cause(d, "circulator.rests", "bath/circulator"), &air = cause(d, "zone.air_bound", "bath");
  EXPECT_LT(d.apart(rests, air), 3);
  auto const parting = parting_reading(rests, air, d, bench.gauges, {});
  ASSERT_TRUE(parting);
  EXPECT_THAT(parting->of_first->id, testing::AnyOf("piece/bath/circulator/power", "piece/bath/circulator/difference"));
  EXPECT_GT(rests.share + air.share, 0.5);
}

TEST(Diagnosis, AReadingThatWasTakenPartsNothingMore) {
  Bench const bench;
  auto const e = explain(bench.stand);
  auto const all = shown_by(e, "strainer.clogged", "boiler/strainer");
  auto const d = diagnose(e, all, bench.gauges, {});
  EXPECT_EQ(d.causes[0].fault->id, "strainer.clogged");
  EXPECT_FALSE(parting_reading(d.causes[0], d.causes[1], d, bench.gauges, {}));
}

TEST(Diagnosis, NothingFitsReadingsOfAnotherHouse) {
  Bench const bench;
  auto const e = explain(bench.stand);
  auto read = only(e.all[0].sizes[0].gauges, {"supply", "return", "flow"});
  for (std::size_t i = 0; i < read.size(); ++i) read[i].value *= i % 2 ? 1.08 : 0.93;  // temperatures in K: by 25 K and more
  auto const d = diagnose(e, read, bench.gauges, {});
  EXPECT_TRUE(d.is_beyond_chance(d.causes[0]));
}

TEST(Diagnosis, WhatNobodyStatedMakesAReadingSayLess) {
  Bench const bench;
  auto const e = explain(bench.stand);
  auto const read = only(shown_by(e, "boiler.choked", "boiler"), {"flow"});
  auto const sure = diagnose(e, read, bench.gauges, {});
  std::map<std::string, double> open;
  for (auto const& g : read) open[g.id] = 10 * std::abs(g.value);
  auto const unsure = diagnose(e, read, bench.gauges, open);
  EXPECT_TRUE(sure.causes[0].fault);
  EXPECT_FALSE(unsure.causes[0].fault);
}

TEST(SteadyBurn, FireAndZonesAreInBalance) {
  Bench const bench;
  for (auto const fire : {BurnConditions::modulating, BurnConditions::minimum}) {
    auto conditions = bench.stand.conditions;
    conditions.fire = fire;
    auto const b = steady_burn(bench.stand.installation, conditions);
    EXPECT_EQ(b.how, SteadyBurn::steady);
    // heat to the water, by flow and rise; 4.18 kJ/(kg·K) and 977 kg/m³ at 160 °F, from tables
    EXPECT_NEAR(b.state.boiler_flow * 977 * 4190 * (b.supply - b.returned), b.output, 0.01 * b.output);
    EXPECT_LT(b.output, b.input);
    EXPECT_GT(b.output, 0.8 * b.input);
  }
  auto conditions = bench.stand.conditions;
  auto const modulating = steady_burn(bench.stand.installation, conditions);
  EXPECT_NEAR(modulating.state.temperatures.at("supply header"), 344.26, 0.5);  // 160 °F where the control feels it
  conditions.fire = BurnConditions::minimum;
  EXPECT_LT(steady_burn(bench.stand.installation, conditions).supply, modulating.supply - 10);
  conditions.fire = BurnConditions::full;
  EXPECT_GT(steady_burn(bench.stand.installation, conditions).supply, modulating.supply + 5);
}

TEST(SteadyBurn, ASmallZoneMakesTheBurnerCycle) {
  Bench const bench{{"bath"}};
  auto const b = steady_burn(bench.stand.installation, bench.stand.conditions);
  EXPECT_EQ(b.how, SteadyBurn::cycles);
  EXPECT_NEAR(b.fire, 10.0 / 80, 1e-9);
  EXPECT_GT(b.swing, 0);
}

TEST(SteadyBurn, WithoutFlowItDoesNotBurn) {
  Bench const bench;
  Stand wrong = bench.stand;
  for (auto const& f : possible_faults(bench.stand))
    if (f.id == "circulator.rests" && f.place == "boiler/circulator") f.sizes[0].apply(wrong);
  auto const b = steady_burn(wrong.installation, wrong.conditions);
  EXPECT_EQ(b.how, SteadyBurn::starved);
  EXPECT_EQ(b.input, 0);
  EXPECT_EQ(find_gauge(gauges_on(wrong), "carbon_dioxide"), nullptr);
}

}  // namespace
}  // namespace steadyfire
