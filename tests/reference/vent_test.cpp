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

// Trade facts, common practice, no source: 2 in up to 75 ft and 3 in up to 160 ft, less the fittings.
TEST(VentReview, HoldsAgainstTradePracticeWhereThereIsNoManual) {
  struct { char const* diameter; int most; } const rows[]{{"2 in", 75}, {"3 in", 160}};
  for (auto const& [diameter, most] : rows)
    for (int over : {0, 1}) {
      auto const part = vent_of(vent(
          fmt::format("material = \"PVC\"\nexhaust = {{ length = \"{} ft\", elbows = 3 }}\n", most - 15 + over), "room air", diameter));
      if (!over) {
        EXPECT_THAT(held(part), testing::Contains("vent.too_long exhaust")) << diameter;
        continue;
      }
      auto const& f = finding(part, "vent.too_long");
      EXPECT_EQ(f.severity, Severity::minor);
      EXPECT_EQ(us(f.whose), common_practice);
      EXPECT_NEAR(f.limit->value / foot.scale, most, 1e-9);
    }
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
