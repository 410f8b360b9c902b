#include "plots/review_page.hpp"

#include <gmock/gmock.h>

using namespace steadyfire;
using testing::HasSubstr;
using testing::Not;

namespace {

ReviewRecord sample() {
  ReviewRecord r;
  r.title = "House <script>alert(1)</script>";
  r.cautions = {"gas kills"};
  ReviewPart part;
  part.id = "gas", part.title = "Gas piping";
  part.judge({"gas.drop", "line & co", "pressure drop", {"drop", 250, measure::pressure}, {"allowed", 125, measure::pressure},
              Judgement::at_most, "a manual", "use a larger pipe."});
  part.judge({"gas.left", "boiler", "pressure left", {"left", 1500, measure::pressure}, {"least", 900, measure::pressure},
              Judgement::at_least, "the manual", ""});
  part.tables.push_back({"pipes", "Pipes", {"pipe", "temperature"}, {{"main", {300, measure::temperature}}}});
  part.missing = {"no [vent]"};
  r.parts.push_back(part);
  return r;
}

TEST(ReviewPage, NoWordsOfTheFileCanActOnThePage) {
  auto const page = make_review_page(sample(), UnitSystem::si);
  EXPECT_THAT(page, Not(HasSubstr("<script>")));
  EXPECT_THAT(page, HasSubstr("House &lt;script&gt;"));
  EXPECT_THAT(page, HasSubstr("line &amp; co"));
}

TEST(ReviewPage, SaysWhatIsWrongWhatHoldsAndWhatIsOpen) {
  auto const page = make_review_page(sample(), UnitSystem::si);
  EXPECT_THAT(page, HasSubstr("1 serious finding: fix it before you cut pipe."));
  EXPECT_THAT(page, HasSubstr("use a larger pipe."));
  EXPECT_THAT(page, HasSubstr("minimum 0.9\u00a0kPa"));
  EXPECT_THAT(page, HasSubstr("26.9\u00a0°C"));
  EXPECT_THAT(page, HasSubstr("no [vent]"));
  EXPECT_THAT(page, HasSubstr("gas kills"));
}

TEST(ReviewPage, WithoutFindingsSaysSo) {
  auto r = sample();
  r.parts[0].findings.clear();
  EXPECT_THAT(make_review_page(r, UnitSystem::us), HasSubstr("Nothing serious."));
}

}  // namespace
