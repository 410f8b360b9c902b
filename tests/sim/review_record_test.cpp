#include "sim/record/review_record.hpp"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "sim/record/review_json.hpp"
#include "tests/told.hpp"

using namespace steadyfire;

namespace {

Judgement drop(double pascal, double limit, Severity severity = Severity::serious, double order = 0) {
  return {"gas.over_allowance", "line", "pressure drop", {"drop", pascal, measure::pressure}, {"allowed", limit, measure::pressure},
          Judgement::at_most, "a manual", "Use a larger pipe.", severity, order};
}

TEST(ReviewRecord, WhatMeetsItsLimitIsInOrder) {
  ReviewPart part;
  part.judge(drop(100, 100));
  part.judge(drop(100 * (1 + 1e-12), 100));  // to rounding
  EXPECT_EQ(part.in_order.size(), 2u);
  EXPECT_TRUE(part.findings.empty());
}

TEST(ReviewRecord, WhatDoesNotIsAFindingWithItsNumbersInWords) {
  ReviewPart part;
  part.judge(drop(6894.757, 3447.379));  // 1 and 0.5 psi
  ASSERT_EQ(part.findings.size(), 1u);
  auto const& f = part.findings[0];
  EXPECT_EQ(us(f.words), "pressure drop 1.0 psi, limit 0.5 psi (a manual)");
  EXPECT_EQ(us(f.fix), "Use a larger pipe.");
  EXPECT_EQ(us(f.whose), "a manual");
  EXPECT_TRUE(part.in_order.empty());
}

TEST(ReviewRecord, AConsequenceFollowsTheLimitInTheReadersUnits) {
  ReviewPart part;
  auto j = drop(6894.757, 3447.379);
  j.consequence = say("The pump stops at {}.", Amount{6894.757, measure::pressure}), j.is_guideline = true;
  part.judge(j);
  EXPECT_EQ(si(part.findings.at(0).words), "pressure drop 6.9 kPa, guideline 3.4 kPa (a manual). The pump stops at 6.9 kPa.");
}

TEST(ReviewRecord, AtLeastIsTheOtherWayRound) {
  auto j = drop(90, 100);
  j.sense = Judgement::at_least;
  EXPECT_FALSE(j.holds());
  j.actual.value = 100;
  EXPECT_TRUE(j.holds());
}

TEST(ReviewRecord, NoNumberHoldsNothing) { EXPECT_FALSE(drop(std::nan(""), 100).holds()); }

TEST(ReviewRecord, TheGravestComesFirst) {
  ReviewRecord r;
  r.parts.resize(2);
  r.parts[0].judge(drop(2, 1, Severity::note, 99)), r.parts[0].judge(drop(2, 1, Severity::serious, 1));
  r.parts[1].judge(drop(2, 1, Severity::minor, 5)), r.parts[1].judge(drop(2, 1, Severity::serious, 2));
  std::vector<Severity> all;
  for (auto const& f : r.findings()) all.push_back(f.severity);
  EXPECT_THAT(all, testing::ElementsAre(Severity::serious, Severity::serious, Severity::minor, Severity::note));
  EXPECT_EQ(r.findings()[0].order, 2);
  EXPECT_TRUE(r.has_serious());
}

TEST(ReviewRecord, JsonCarriesUnitsAndNoNumberIsNull) {
  ReviewRecord r;
  r.parts.resize(1);
  r.parts[0].judge(drop(50, 100));
  r.parts[0].tables.push_back({"t", "", {"words", "pressure", "count", "none"},
                               {{"a", {50, measure::pressure}, {3, measure::count}, {std::nan(""), measure::temperature}}}});
  auto const j = review_to_json(r, UnitSystem::si);
  auto const& part = j["parts"][0];
  EXPECT_EQ(part["in_order"][0]["figure"].dump(), R"({"drop_Pa":50.0})");
  EXPECT_EQ(part["in_order"][0]["at_most"].dump(), R"({"allowed_Pa":100.0})");
  EXPECT_EQ(part["tables"][0]["rows"][0].dump(), R"(["a",{"Pa":50.0},3.0,{"degC":null}])");
}

}  // namespace
