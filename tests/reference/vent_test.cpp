// Vents by trade practice and by the classes of their materials, air by ISO 2533; first alone, then through the review.

#include <gtest/gtest.h>

#include "models/fluid/saturation.hpp"
#include "models/venting/atmosphere.hpp"
#include "models/venting/room_air.hpp"
#include "models/venting/vent_sections.hpp"
#include "tests/reference/reviewed_job.hpp"

namespace steadyfire {
namespace {

using namespace unit;
double in_degF(double kelvin) { return AnyUnit{degF}.from_si(kelvin); }

// ISO 2533:1975, its table by geopotential height, from memory.
TEST(StandardAir, AgreesWithItsTable) {
  struct { double height, temperature, pressure, density; } const rows[]{
      {0, 288.15, 101325, 1.2250}, {1500, 278.40, 84556, 1.05807}, {3000, 268.65, 70108.5, 0.909122}, {5000, 255.65, 54019.9, 0.736116}};
  for (auto const& row : rows) {
    auto const air = standard_air(row.height);
    EXPECT_NEAR(air.temperature, row.temperature, 1e-9) << row.height;
    EXPECT_NEAR(air.pressure, row.pressure, 1e-5 * row.pressure) << row.height;
    EXPECT_NEAR(air.density, row.density, 1e-5 * row.density) << row.height;
  }
}

// Saturation at the standard pressure of 1500 and 3000 m by the public library python3-iapws (IAPWS-IF97).
TEST(StandardAir, WaterBoilsAsIapwsSays) {
  EXPECT_NEAR(saturation_temperature(standard_air(1500).pressure), 368.1330, 2e-3);
  EXPECT_NEAR(saturation_temperature(standard_air(3000).pressure), 363.1223, 2e-3);
}

// Common practice, no source: two elbows of 90 degrees at 5 ft and 10 ft of pipe are 20 ft.
TEST(VentLength, TwoElbowsAndTenFeetAreTwenty) {
  EXPECT_NEAR(vent_equivalent_length(10, {.elbows = 2}, {5, 9, 4.5, 2.5, 3}), 20, 1e-12);
}

// --- through the review ---------------------------------------------------------

std::string vent(std::string const& keys, std::string const& system = "two pipes", std::string const& diameter = "2 in") {
  return fmt::format("[vent]\nsystem = \"{}\"\ndiameter = \"{}\"\n", system, diameter) + keys + "\n";
}
std::string const plain = "material = \"PVC\"\nexhaust = { length = \"10 ft\", elbows = 2 }\n";

/// A run whose return was at most so warm while firing, and flows whose return at design is so warm.
Record run_at(double degF_return) {
  Record r;
  r.burner.time_firing = 3600, r.return_max = degF.to_si(degF_return);
  return r;
}
FlowsRecord flows_at(double degF_return) {
  FlowsRecord f;
  FlowState s;
  s.calls = {"house"}, s.boiler_flow = 1e-4, s.boiler_return = degF.to_si(degF_return);
  s.boiler_heat = 1e6;  // more than it has: full fire
  f.states = {s};
  return f;
}
ReviewPart vent_of(std::string const& side, double input_kBtu = 199, std::string const& boiler = "", Record const& run = {},
                   FlowsRecord const& flows = {}) {
  return reviewed_part("vent", side, input_kBtu, boiler, run, flows);
}

TEST(VentReview, CountsTwoElbowsAndTenFeetAsTwentyFeet) {
  auto const part = vent_of(vent(plain));
  EXPECT_NEAR(cell(part, "vent_runs", 0, "equivalent length") / foot.scale, 20, 1e-9);
  EXPECT_THAT(us(part.missing), testing::Contains(testing::HasSubstr("elbow_length: assumed 5.0 ft each")));
  EXPECT_THAT(us(part.missing), testing::Contains(testing::HasSubstr("intake in [vent]")));
}

// Exhaust and intake apart, each against its own limits, elbows by the manual.
TEST(VentReview, HoldsEachRunAgainstItsManual) {
  auto const part = vent_of(vent(R"(material = "CPVC"
elbow_length = "6 ft"
short_elbow_length = "10 ft"
long_elbow_length = "4 ft"
elbow_45_length = "3 ft"
termination_length = "2 ft"
intake = { length = "4 ft", elbows = 1, longest = "90 ft", shortest = "12 ft" }
[vent.exhaust]
length = "60 ft"
elbows = 2
short_elbows = 1
long_elbows = 1
elbows_45 = 2
terminations = 1
longest = "90 ft"
shortest = "10 ft")"));
  auto const& length = finding(part, "vent.too_long");
  EXPECT_EQ(length.place, "exhaust");
  EXPECT_EQ(length.severity, Severity::serious);
  EXPECT_NEAR(length.figures[0].value / foot.scale, 60 + 12 + 10 + 4 + 6 + 2, 1e-9);
  EXPECT_EQ(us(length.whose), users_manual);
  auto const& least = finding(part, "vent.too_short");
  EXPECT_EQ(least.place, "intake");
  EXPECT_NEAR(least.figures[0].value / foot.scale, 10, 1e-9);
  EXPECT_THAT(held(part), testing::IsSupersetOf({"vent.too_long intake", "vent.too_short exhaust"}));
}

// The appliance's manual alone says how long its vent may be (physics.md 18): without it there is no verdict.
TEST(VentReview, JudgesNoLengthWithoutTheManual) {
  for (auto const* length : {"5 ft", "74 ft", "300 ft"}) {
    auto const part = vent_of(vent(fmt::format("material = \"PVC\"\nexhaust = {{ length = \"{}\" }}\n", length), "room air"));
    EXPECT_THAT(part.findings, testing::IsEmpty()) << length;
    EXPECT_THAT(held(part), testing::Not(testing::Contains("vent.too_long exhaust"))) << length;
    EXPECT_THAT(us(part.missing), testing::Contains(testing::HasSubstr("exhaust: not checked against a limit")));
  }
}

// Elbows count 4 to 10 ft by several manuals (physics.md 18): 52 ft with four of them are 68, 72 or 92 ft, of 75; met up to 23/4 ft each.
TEST(VentReview, PassesNothingOnAGuess) {
  auto const with = [](char const* keys) {
    return vent_of(vent(
        fmt::format("material = \"PVC\"\n{}exhaust = {{ length = \"52 ft\", elbows = 4, longest = \"75 ft\" }}\n", keys), "room air"));
  };
  auto const open = with("");
  auto const& f = finding(open, "assumed.decides");
  EXPECT_EQ(f.severity, Severity::minor);
  EXPECT_THAT(us(f.words),
              testing::HasSubstr("ok only if elbow_length in [vent] is 5.7 ft or less (assumed 5.0 ft, usual 4.0 ft to 10.0 ft)"));
  EXPECT_THAT(us(f.words), testing::HasSubstr("up to 92.0 ft"));
  EXPECT_THAT(held(open), testing::Not(testing::Contains("vent.too_long exhaust")));
  EXPECT_THAT(held(with("elbow_length = \"5 ft\"\n")), testing::Contains("vent.too_long exhaust"));
  EXPECT_EQ(finding(with("elbow_length = \"6 ft\"\n"), "vent.too_long").severity, Severity::serious);
}
// The other way round: too long with the middle, good with the least; it stays a finding, and says from where it would do.
TEST(VentReview, SaysWhatWouldSaveAFailure) {
  auto const part = vent_of(vent("material = \"PVC\"\nexhaust = { length = \"58 ft\", elbows = 4, longest = \"75 ft\" }\n", "room air"));
  auto const& f = finding(part, "vent.too_long");
  EXPECT_EQ(f.severity, Severity::serious);
  EXPECT_THAT(us(f.words), testing::HasSubstr("OK only if elbow_length in [vent] is 4.2 ft or less"));
}

// ULC S636 classes (a trade magazine's column): PVC 140 degF, class II A 149 degF, CPVC 194 degF, polypropylene 230 degF.
TEST(VentReview, HoldsFlueGasAgainstEachMaterial) {
  struct { char const* material; double most; } const rows[]{{"PVC", 140}, {"PVC S636", 149}, {"CPVC", 194}, {"polypropylene", 230}};
  for (auto const& [material, most] : rows)
    for (double const over : {-0.1, 0.1}) {
      auto const side = vent(fmt::format("material = \"{}\"\nexhaust = {{ length = \"10 ft\" }}\n", material));
      auto const in_run = vent_of(side, 199, "approach_full_fire = \"18 degF\"", run_at(most - 18 + over));
      auto const at_design = vent_of(side, 199, "approach_full_fire = \"18 degF\"", {}, flows_at(most - 18 + over));
      for (auto const* part : {&in_run, &at_design})
        EXPECT_EQ(serious(*part), over > 0 ? std::vector<std::string>{"vent.too_hot exhaust"} : std::vector<std::string>{}) << material;
      if (over > 0) EXPECT_NEAR(in_degF(finding(in_run, "vent.too_hot").limit->value), most, 1e-9);
    }
}

// The day was mild and cool water came back; on a design day it will not.
TEST(VentReview, FlagsHotFinTubeOnPvcEvenAfterAMildDay) {
  auto const part = vent_of(vent(plain), 199, "", run_at(110), flows_at(165));
  auto const& f = finding(part, "vent.too_hot");
  EXPECT_EQ(f.severity, Severity::serious);
  EXPECT_NEAR(in_degF(f.figures[0].value), 165 + 18, 1e-9);
  EXPECT_THAT(f.fix.in(UnitSystem::us), testing::HasSubstr("a vent of CPVC, polypropylene, stainless steel or aluminum if"));
  EXPECT_THAT(held(part), testing::Contains("vent.too_hot exhaust"));  // in the run
}

TEST(VentReview, LetsTheVentsMakerSayItsLimit) {
  std::string const steel = "material = \"stainless steel\"\nexhaust = { length = \"10 ft\" }\n";
  EXPECT_THAT(us(vent_of(vent(steel), 199, "", run_at(165)).missing), testing::Contains(testing::HasSubstr("material_limit")));
  EXPECT_THAT(serious(vent_of(vent(steel + "material_limit = \"180 degF\""), 199, "", run_at(165))),
              testing::ElementsAre("vent.too_hot exhaust"));
}

// 50 ft³ for each 1000 Btu/h of all appliances: common practice, and NFPA 54 from memory.
TEST(VentReview, WantsARoomForAllThatBurnsInIt) {
  std::string const gas = R"(
[[gas_pipe]]
name = "run"
from = "meter"
to = "wall"
length = "10 ft"
size = "1 in steel 40"
[[gas_appliance]]
name = "boiler"
at = "wall"
[[gas_appliance]]
name = "heater"
at = "wall"
input = "40 kBtu/h"
)";
  for (double const volume : {6990., 7010.}) {
    auto const part = vent_of(vent(plain + fmt::format("room_volume = \"{} ft3\"", volume), "room air") + gas, 100);
    if (volume > 7000) EXPECT_THAT(held(part), testing::Contains("vent.room_small room"));
    else EXPECT_NEAR(finding(part, "vent.room_small").limit->value / cubic_foot.scale, 7000, 1e-6);
  }
}

// Openings for 100 kBtu/h, NFPA 54 and IFGC from memory.
TEST(VentReview, WantsOpeningsByTheWayTheyLead) {
  struct { char const* way; double wanted; } const rows[]{{"vertical", 25}, {"horizontal", 50}, {"one", 100e3 / 3000}, {"indoors", 100}};
  for (auto const& [way, wanted] : rows)
    for (double const share : {0.99, 1.01}) {
      std::string const room = "room_input = \"100 kBtu/h\"\nroom_volume = \"800 ft3\"\n";
      auto const openings = fmt::format("opening = \"{} in2\"\nopening_way = \"{}\"", share * wanted, way);
      auto const part = vent_of(vent(plain + room + openings, "room air"));
      if (share > 1) EXPECT_THAT(held(part), testing::Contains("vent.openings_small room")) << way;
      else EXPECT_NEAR(finding(part, "vent.openings_small").limit->value / square_inch.scale, wanted, 1e-9) << way;
    }
}

// 1500 m: 84.556 kPa and 1.0581 kg/m³ by ISO 2533, open water boils at 94.98 °C by IAPWS: below a high limit of 205 degF.
TEST(VentReview, KnowsTheAirAndTheWaterOfTheSite) {
  auto const part = vent_of(vent(plain + "altitude = \"1500 m\""), 199, "high_limit = \"205 degF\"");
  EXPECT_NEAR(cell(part, "site_air", 0, "air pressure"), 84556, 1);
  EXPECT_NEAR(cell(part, "site_air", 0, "air density"), 1.05807, 1e-5);
  EXPECT_NEAR(cell(part, "site_air", 0, "water boils without pressure at"), 368.1330, 2e-3);
  auto const& f = finding(part, "vent.high_limit_boils");
  EXPECT_NEAR(f.limit->value, 368.1330, 2e-3);
  EXPECT_THAT(held(vent_of(vent(plain + "altitude = \"1500 m\""), 199, "high_limit = \"200 degF\"")),
              testing::Contains("vent.high_limit_boils boiler"));
}

// 4 % every 1000 ft above 2000 ft: at 7000 ft four fifths are left of 40 kBtu/h; with a tenth up the flue that is 28.8, the load 30.
TEST(VentReview, TellsWhatAltitudeTakes) {
  auto run = run_at(120);
  run.energy.fuel = 100, run.energy.losses["flue"] = 10;
  auto const part = vent_of(vent(plain + "altitude = \"7000 ft\"\nderate_per_1000_ft = \"4 %\""), 40, "", run);
  EXPECT_NEAR(cell(part, "site_air", 0, "full input there") / kBtu_per_hour.scale, 32, 1e-9);
  auto const& f = finding(part, "vent.altitude_short");
  EXPECT_NEAR(f.figures[0].value / kBtu_per_hour.scale, 28.8, 1e-9);
  EXPECT_NEAR(f.limit->value / kBtu_per_hour.scale, 30, 1e-9);
}

// At 30 of 200 kBtu/h, 90 % of it into the water, fire is 0.167; flue gas is above the return by 18 degF·0.167^0.8 = 4.3 degF.
TEST(VentReview, TakesFireAndReturnOfOneMoment) {
  auto flows = flows_at(150);
  flows.states[0].boiler_heat = 30 * kBtu_per_hour.scale;
  auto const part = vent_of(vent(plain), 200, "approach_full_fire = \"18 degF\"", {}, flows);
  EXPECT_NEAR(cell(part, "vent_flue_gas", 0, "firing rate"), 0.17, 0.01);
  EXPECT_NEAR(in_degF(cell(part, "vent_flue_gas", 0, "flue gas")), 150 + 4.35, 0.2);
}
// In the run too: a warm return at low fire and a cool one at full fire are two moments.
TEST(VentReview, TakesFireAndReturnOfOneMomentOfTheRun) {
  auto run = run_at(170);
  run.whole.channels = {{"boiler/return", "", "", measure::temperature, {}, {}, {float(degF.to_si(170)), float(degF.to_si(120))}},
                        {"boiler/fire", "", "", measure::share, {}, {}, {0.1F, 1.F}}};
  auto const part = vent_of(vent(plain), 200, "approach_full_fire = \"18 degF\"", run);
  EXPECT_NEAR(in_degF(cell(part, "vent_flue_gas", 0, "flue gas")), 170 + 18 * std::pow(0.1, 0.8), 0.01);
}
// A combi without a tap: its heat exchanger takes the whole output from boiler water that is warmer than the setpoint's midway.
TEST(VentReview, TellsFlueGasAtFullFireForHotWater) {
  auto const part = vent_of(vent(plain) + "[hot_water]\ncold_inlet = { kind = \"steady\", temperature = \"50 degF\" }\n", 100,
                            "dhw_input = \"150 kBtu/h\"\napproach_full_fire = \"18 degF\"");
  EXPECT_EQ(words(part, "vent_flue_gas", 0, "when"), "making hot water at full fire");
  EXPECT_NEAR(cell(part, "vent_flue_gas", 0, "firing rate"), 1, 1e-9);
  double const water = in_degF(cell(part, "vent_flue_gas", 0, "return water"));
  EXPECT_GT(water, 60);
  EXPECT_LT(water, 160);
  EXPECT_NEAR(in_degF(cell(part, "vent_flue_gas", 0, "flue gas")), water + 18, 1e-6);
}

TEST(VentReview, KeepsTheEndsClearOfSnowAndWindows) {
  auto const part = vent_of(vent(plain + "height = \"30 in\"\nsnow = \"24 in\"\nwindow_distance = \"10 in\""));
  EXPECT_THAT(serious(part), testing::UnorderedElementsAre("vent.near_opening exhaust", "vent.in_snow exhaust"));
  EXPECT_NEAR(finding(part, "vent.in_snow").limit->value / inch.scale, 36, 1e-9);
  EXPECT_THAT(serious(vent_of(vent(plain + "height = \"36 in\"\nsnow = \"24 in\"\nwindow_distance = \"12 in\""))), testing::IsEmpty());
}

TEST(VentReview, SaysThatNothingIsStated) {
  auto const part = vent_of("");
  EXPECT_TRUE(part.findings.empty());
  EXPECT_THAT(us(part.missing), testing::ElementsAre(testing::HasSubstr("no [vent]")));
  EXPECT_THAT(us(part.cautions), testing::Contains(testing::HasSubstr("Carbon monoxide")));
}

}  // namespace
}  // namespace steadyfire
