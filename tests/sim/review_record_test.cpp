#include "sim/record/review_record.hpp"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "sim/record/review_json.hpp"

using namespace steadyfire;

namespace {

Judgement drop(double pascal, double limit, std::string weight = "serious", double order = 0) {
  return {"gas.over_allowance", "line", "pressure drop", {"drop", pascal, measure::pressure}, {"allowed", limit, measure::pressure},
          Judgement::at_most, "a manual", "a larger pipe", std::move(weight), order};
}

TEST(ReviewRecord, WhatMeetsItsLimitIsInOrder) {
  ReviewPart part;
  part.judge(drop(100, 100), UnitSystem::si);
  part.judge(drop(100 * (1 + 1e-12), 100), UnitSystem::si);  // to rounding
  EXPECT_EQ(part.in_order.size(), 2u);
  EXPECT_TRUE(part.findings.empty());
}

TEST(ReviewRecord, WhatDoesNotIsAFindingWithItsNumbersInWords) {
  ReviewPart part;
  part.judge(drop(6894.757, 3447.379), UnitSystem::us);  // 1 and 0.5 psi
  ASSERT_EQ(part.findings.size(), 1u);
  auto const& f = part.findings[0];
  EXPECT_EQ(f.words, "pressure drop: 1.0 psi where at most 0.5 psi is allowed");
  EXPECT_EQ(f.fix.in(UnitSystem::us), "a larger pipe");
  EXPECT_EQ(f.whose, "a manual");
  EXPECT_TRUE(part.in_order.empty());
}

TEST(ReviewRecord, AtLeastIsTheOtherWayRound) {
  auto j = drop(90, 100);
  j.sense = Judgement::at_least;
  EXPECT_FALSE(j.holds());
  j.actual.value = 100;
  EXPECT_TRUE(j.holds());
}

TEST(ReviewRecord, NoNumberHoldsNothing) { EXPECT_FALSE(drop(std::nan(""), 100).holds()); }

TEST(ReviewRecord, TheWeightiestComesFirst) {
  ReviewRecord r;
  r.parts.resize(2);
  r.parts[0].judge(drop(2, 1, "note", 99), UnitSystem::si), r.parts[0].judge(drop(2, 1, "serious", 1), UnitSystem::si);
  r.parts[1].judge(drop(2, 1, "minor", 5), UnitSystem::si), r.parts[1].judge(drop(2, 1, "serious", 2), UnitSystem::si);
  std::vector<std::string> weights;
  for (auto const& f : r.findings()) weights.push_back(f.severity);
  EXPECT_THAT(weights, testing::ElementsAre("serious", "serious", "minor", "note"));
  EXPECT_EQ(r.findings()[0].order, 2);
  EXPECT_TRUE(r.has_serious());
}

TEST(ReviewRecord, JsonCarriesUnitsAndNoNumberIsNull) {
  ReviewRecord r;
  r.parts.resize(1);
  r.parts[0].judge(drop(50, 100), UnitSystem::si);
  r.parts[0].tables.push_back({"t", "", {"words", "pressure", "count", "none"},
                               {{"a", {50, measure::pressure}, {3, measure::count}, {std::nan(""), measure::temperature}}}});
  auto const j = review_to_json(r);
  auto const& part = j["parts"][0];
  EXPECT_EQ(part["in_order"][0]["figure"].dump(), R"({"drop_Pa":50.0})");
  EXPECT_EQ(part["in_order"][0]["at_most"].dump(), R"({"allowed_Pa":100.0})");
  EXPECT_EQ(part["tables"][0]["rows"][0].dump(), R"(["a",{"Pa":50.0},3.0,{"degC":null}])");
}

}  // namespace
