#include "plots/study_report.hpp"

#include <gmock/gmock.h>

#include <chrono>
#include <limits>

#include <nlohmann/json.hpp>

#include "plots/fit_report.hpp"
#include "plots/front_report.hpp"
#include "plots/study_axis.hpp"
#include "plots/study_pictures.hpp"
#include "tests/plots/sample_study.hpp"

using namespace steadyfire;
using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

namespace {

/// The page without its scripts and styles.
std::string markup(std::string page) {
  for (std::string const name : {"script", "style"})
    for (size_t at = 0; (at = page.find("<" + name, at)) != std::string::npos;)
      page.erase(at, page.find("</" + name + ">", at) + name.size() + 3 - at);
  return page;
}
json charts(std::string const& page) {
  std::string const head = R"(id="charts">)";
  auto const at = page.find(head) + head.size();
  return json::parse(page.substr(at, page.find("</script>", at) - at));
}
std::string us(StudyRecord const& r) { return make_study_report(r, UnitSystem::us); }

/// x, y and a figure by two columns of few values.
StudyRecord small(std::vector<double> const& x, std::vector<double> const& y, std::vector<double> const& f) {
  StudyRecord r;
  r.title = "small", r.asked = long(x.size());
  r.inputs = {sample::input("x", "reach", measure::plain, x), sample::input("y", "depth", measure::plain, y)};
  auto figure = sample::figure("f", "starts", measure::count, true, false);
  figure.numbers = f;
  r.figures = {figure};
  return r;
}
PictureRecord heat() { return {PictureSort::heat_map, "x", "y", "f"}; }
PictureRecord line(std::string const& y = "") { return {PictureSort::line, "x", y, "f"}; }

TEST(StudyReport, NeedsNoNetwork) {
  for (auto const& page : {us(sample::grid()), us(sample::houses(50)), make_front_report(sample::front(20), UnitSystem::us),
                           make_fit_report(sample::fit(), UnitSystem::us)}) {
    for (auto const* fetch : {"src=", "href=", "<link", "<img", "<iframe", "@import", "http://", "https://"})
      EXPECT_THAT(markup(page), Not(HasSubstr(fetch)));
    for (auto const* fetch : {"fetch(", "XMLHttpRequest", "import("}) EXPECT_EQ(page.find(fetch), std::string::npos) << fetch;
  }
}

TEST(StudyReport, CellsOfTheHeatMapAreTheNumbersOfTheRecord) {
  auto const r = sample::grid();
  auto const all = charts(us(r));
  auto const& table = all[0]["table"];
  ASSERT_EQ(all[0]["kind"], "heat");
  ASSERT_EQ(table["cells"].size(), 80u);
  EXPECT_EQ(table["across"]["names"][0], "8");
  EXPECT_EQ(table["across"]["label"], "minimum fire [kBtu/h]");
  for (size_t i = 0; i < 80; ++i) {  // the record goes through the zones of a fire first, the picture through the fires of a zone
    auto const fire = i / 8, zone = i % 8;
    auto const& cell = table["cells"][zone * 10 + fire];
    EXPECT_EQ(cell[0], fire);
    EXPECT_EQ(cell[1], zone);
    EXPECT_NEAR(cell[2].get<double>(), r.figures[0].numbers[i], 1e-4);
    EXPECT_EQ(cell[3], std::to_string(int(r.figures[0].numbers[i])));
  }
}

TEST(StudyReport, PlacesOfSeveralPointsShowTheirMeanAndBounds) {
  auto r = small({1, 1, 2, 2}, {0, 1, 0, 1}, {2, 5, 3, 3});
  auto const p = make_picture(r, line(), UnitSystem::us);
  auto const& one = p.table["lines"][0];
  EXPECT_EQ(one["y"], json({3.5, 3.0}));
  EXPECT_EQ(one["least"], json({2.0, 3.0}));
  EXPECT_EQ(one["most"], json({5.0, 3.0}));
  EXPECT_THAT(p.caption, HasSubstr("the average of 2 points"));
  EXPECT_THAT(p.title, HasSubstr("on average"));
}

TEST(StudyReport, BothSystemsOfUnits) {
  auto r = sample::grid();
  EXPECT_THAT(us(r), HasSubstr("smallest zone [kBtu/h]"));
  EXPECT_THAT(make_study_report(r, UnitSystem::si), HasSubstr("smallest zone [kW]"));
  auto const cell = charts(make_study_report(r, UnitSystem::si))[3]["table"]["cells"][0];
  EXPECT_NEAR(cell[2].get<double>(), r.figures[1].numbers[0] - 273.15, 1e-3);
}

TEST(StudyTitle, SaysWhereItIsGoodAndHowBadItGetsElsewhere) {
  auto const up = small({1, 2, 3, 4, 5}, {0, 0, 0, 0, 0}, {1, 2, 3, 8, 11});
  EXPECT_EQ(make_picture(up, line(), UnitSystem::us).title, "Starts: at most 3 where reach is 3 or less; up to 11 elsewhere");
  auto const down = small({1, 2, 3}, {0, 0, 0}, {9, 8, 1});
  EXPECT_EQ(make_picture(down, line(), UnitSystem::us).title, "Starts: at most 1 where reach is 3; up to 9 elsewhere");
  auto const corner = small({1, 2, 3, 1, 2, 3}, {1, 1, 1, 2, 2, 2}, {9, 9, 9, 1, 2, 9});
  EXPECT_EQ(make_picture(corner, heat(), UnitSystem::us).title,
            "Starts: at most 2 where reach is 2 or less and depth is 2; up to 9 elsewhere");
  auto const row = small({1, 2, 1, 2}, {1, 1, 2, 2}, {1, 2, 9, 9});
  EXPECT_EQ(make_picture(row, heat(), UnitSystem::us).title, "Starts: at most 2 where depth is 1, whatever the reach; up to 9 elsewhere");
}

TEST(StudyTitle, OfFewGoodPlacesLooksFurther) {  // a third of the way is one place of twelve, half of it is four
  std::vector<double> x, y, f{1, 5, 5, 5, 9, 9, 9, 9, 9, 9, 9, 9};
  for (int i = 0; i < 12; ++i) x.push_back(i), y.push_back(0);
  EXPECT_EQ(make_picture(small(x, y, f), line(), UnitSystem::us).title, "Starts: at most 5 where reach is 3 or less; up to 9 elsewhere");
}

TEST(StudyTitle, PlacesWithoutANumberStandInNobodysWay) {
  auto const r = small({1, 2, 3, 4}, {0, 0, 0, 0}, {std::nan(""), 1, 2, 9});
  EXPECT_EQ(make_picture(r, line(), UnitSystem::us).title, "Starts: at most 2 where reach is 3 or less; up to 9 elsewhere");
}

TEST(StudyTitle, NamesThatSayTheirUnitNeedNoOther) {
  auto r = small({1, 2, 3}, {0, 0, 0}, {1 / 3600., 2 / 3600., 9 / 3600.});
  r.figures[0].name = "starts per hour", r.figures[0].measure = measure::per_hour;
  EXPECT_EQ(make_picture(r, line(), UnitSystem::us).title, "Starts per hour: at most 2.0 where reach is 2 or less; up to 9.0 elsewhere");
}

TEST(StudyTitle, WithoutAStretchNamesLowestAndHighest) {
  auto const valley = small({1, 2, 3}, {0, 0, 0}, {9, 1, 8});
  EXPECT_EQ(make_picture(valley, line(), UnitSystem::us).title, "Starts: lowest, 1, at reach 2; highest, 9, at reach 1");
  auto level = small({1, 2, 3}, {0, 0, 0}, {4, 4, 4});
  EXPECT_EQ(make_picture(level, line(), UnitSystem::us).title, "Starts: 4 whatever the reach");
  EXPECT_THAT(make_picture(level, line(), UnitSystem::us).caption, Not(HasSubstr("Best")));
  auto indifferent = small({1, 2, 3}, {0, 0, 0}, {4, 5, 7});
  indifferent.figures[0].lower_is_better = false;
  EXPECT_EQ(make_picture(indifferent, line(), UnitSystem::us).title, "Starts: up from 4 to 7 as reach goes from 1 to 3");
}

TEST(StudyTitle, HoldsOfTheNumbersAsPrinted) {  // 2.04 prints as 2.0: "at most 2.0" would not hold
  auto r = small({1, 2, 3}, {0, 0, 0}, {60 * 2.04, 60 * 2.01, 60 * 9.0});
  r.figures[0].measure = measure::minutes;
  EXPECT_THAT(make_picture(r, line(), UnitSystem::us).title, HasSubstr("at most 2.1\u00a0min where reach is 2 or less"));
}

TEST(StudyReport, BestIsMarkedWhereTheFigureIsAMerit) {
  auto r = small({1, 2, 1, 2}, {1, 1, 2, 2}, {1, 2, 9, 1});
  EXPECT_EQ(make_picture(r, heat(), UnitSystem::us).table["best"], json({{0, 0}, {1, 1}}));
  r.figures[0].lower_is_better = false, r.figures[0].higher_is_better = true;
  EXPECT_EQ(make_picture(r, heat(), UnitSystem::us).table["best"], json({{0, 1}}));
  r.figures[0].higher_is_better = false;
  EXPECT_TRUE(make_picture(r, heat(), UnitSystem::us).table["best"].empty());
}

TEST(StudyReport, PlacesWithoutANumberStayEmpty) {
  double const none = std::nan("");
  auto const r = small({1, 2, 1, 2}, {1, 1, 2, 2}, {1, none, 9, 3});
  auto const p = make_picture(r, heat(), UnitSystem::us);
  EXPECT_EQ(p.table["cells"].size(), 3u);
  EXPECT_THAT(p.caption, HasSubstr("no point has a number"));
  auto const all = small({1, 2}, {1, 1}, {none, none});
  EXPECT_TRUE(make_picture(all, heat(), UnitSystem::us).kind.empty());
  EXPECT_THAT(make_picture(all, {PictureSort::scatter, "x", "", "f"}, UnitSystem::us).title, HasSubstr("nothing to draw"));
}

TEST(StudyReport, NoNameCanActOnThePage) {
  auto r = sample::houses(20);
  std::string const evil = "</script><script>alert(1)</script>";
  r.title = evil, r.scenario = evil, r.words = {evil}, r.claims[0].words = evil, r.failed = 1, r.faults = {{evil, 1}};
  for (auto* columns : {&r.inputs, &r.figures})
    for (auto& c : *columns) c.name += evil;
  for (auto& w : r.inputs[3].words) w += evil;
  auto const page = us(r);
  EXPECT_EQ(page.find(evil), std::string::npos);
  EXPECT_EQ(page.find("<script>alert"), std::string::npos);
  EXPECT_EQ(charts(page).size(), 6u) << "and what they say is kept";
}

TEST(StudyReport, StudyWithoutPointsSaysSo) {
  StudyRecord r;
  r.title = "nothing";
  auto const page = markup(us(r));
  EXPECT_THAT(page, HasSubstr("0 points"));
  EXPECT_THAT(page, Not(HasSubstr("<figure>")));
}

TEST(StudyReport, WhereAllFailedTheReasonsStand) {
  auto r = sample::grid();
  for (auto* columns : {&r.inputs, &r.figures})
    for (auto& c : *columns) c.numbers.clear();
  r.failed = r.asked, r.faults = {{"the circulator gives no flow", r.asked}}, r.claims = {{"at most 6 starts", 0, 0, 0, 1}};
  auto const page = markup(us(r));
  EXPECT_THAT(page, HasSubstr("None of the 82 points could be simulated"));
  EXPECT_THAT(page, HasSubstr("the circulator gives no flow"));
  EXPECT_THAT(page, HasSubstr("Unknown (no point could be simulated)"));
  EXPECT_THAT(page, Not(HasSubstr("<figure>")));
}

TEST(StudyReport, OnePointIsAStudyToo) {
  auto r = small({1}, {2}, {7});
  r.pictures = {heat(), line(), line("y"), {PictureSort::scatter, "x", "", "f"}};
  auto const page = us(r);
  EXPECT_EQ(charts(page).size(), 4u);
  EXPECT_THAT(markup(page), HasSubstr("Starts: 7 at reach 1, depth 2, the only values tried"));
  EXPECT_THAT(markup(page), HasSubstr("The one point."));
}

TEST(StudyReport, WordsAndFactorsAreToldAsSuch) {
  auto const page = markup(us(sample::houses(200)));
  EXPECT_THAT(page, HasSubstr("constant, outdoor reset"));
  EXPECT_THAT(page, HasSubstr("×\u00a00.70"));
  EXPECT_THAT(page, HasSubstr("design load of all zones [× stated value]"));
  EXPECT_THAT(page, HasSubstr("with circulator outdoor reset"));
  auto const p = influence_picture(sample::houses(200), sample::houses(200).figures[0]);
  EXPECT_EQ(p.title, "‘starts in the worst hour’ depends most on minimum fire: 52% of its variation; then minimum off time, 26%");
  EXPECT_EQ(p.table["bars"][0]["words"], "52% · more of it: higher, worse");
  auto weak = sample::houses(200);
  weak.influences[3].share = 0.01;
  EXPECT_EQ(influence_picture(weak, weak.figures[0]).table["bars"][3]["words"], "1% · little effect");
  EXPECT_EQ(p.table["bars"][2]["words"], "5% · ‘outdoor reset’ rather than ‘constant’: lower, better");
}

TEST(StudyReport, CellsOfSharesAreNumbersAlone) {  // their unit is in the heading
  StudyColumn share;
  share.name = "condensing", share.measure = measure::share, share.numbers = {0.42};
  EXPECT_EQ((ColumnText{share, UnitSystem::us}.number(0.42)), "42");
  EXPECT_EQ((ColumnText{share, UnitSystem::us}.told(0.42)), "42%");
  EXPECT_EQ((ColumnText{share, UnitSystem::us}.label()), "condensing [%]");
}

TEST(StudyReport, ClaimsAreOfHousesWhereHousesWereDrawn) {
  auto r = sample::houses(200);
  EXPECT_THAT(us(r), HasSubstr("In 78 of 100 likely houses"));
  EXPECT_THAT(us(r), HasSubstr("True at 156 of 200 points simulated"));
  EXPECT_THAT(us(r), HasSubstr("95% range: 70 to 85 of 100"));
  r.claims[0].held = 199;
  EXPECT_THAT(us(r), HasSubstr("In more than 99 of 100 likely houses"));
  EXPECT_THAT(us(sample::grid()), HasSubstr("At 41 of 80 points"));
  EXPECT_THAT(us(sample::grid()), Not(HasSubstr("likely houses")));
}

TEST(StudyReport, SentencesThatSayAClaimStandOnce) {
  auto r = sample::houses(200);
  r.words = {"in 78 of 100 likely houses: at most 6 burner starts in the worst hour (95% range 70 to 85)", "nothing else"};
  auto const page = markup(us(r));
  auto const at = page.find("at most 6 burner starts in the worst hour");
  ASSERT_NE(at, std::string::npos);
  EXPECT_EQ(page.find("at most 6 burner starts in the worst hour", at + 1), std::string::npos);
  EXPECT_THAT(page, HasSubstr("Nothing else."));
}

TEST(StudyReport, DotsAreThePointsAndCountsLoseNone) {
  auto const few = sample::houses(100), many = sample::houses(5000);
  auto const dots = make_picture(few, few.pictures[0], UnitSystem::us).table;
  ASSERT_EQ(dots["x"].size(), 100u);
  for (size_t i = 0; i < 100; ++i) {
    EXPECT_NEAR(dots["x"][i].get<double>(), few.inputs[1].numbers[i] / sample::kbtu, 1e-4);
    EXPECT_EQ(dots["y"][i].get<double>(), few.figures[0].numbers[i]);
  }
  for (auto const& p : {many.pictures[0], many.pictures[3]}) {
    auto const table = make_picture(many, p, UnitSystem::us).table;
    long all = 0;
    for (auto const& c : table["counts"]) all += c[4].get<long>();
    EXPECT_EQ(all, 5000);
    auto const [low, high] = std::minmax_element(table["counts"].begin(), table["counts"].end());
    EXPECT_LE((*low)[0].get<double>(), p.x == "circulator.mode" ? 0 : 8.01);
    EXPECT_GE((*low)[0].get<double>(), p.x == "circulator.mode" ? -0.5 : 7.9) << "cells reach from the least to the most";
    EXPECT_NEAR((*high)[1].get<double>(), p.x == "circulator.mode" ? 1.5 : 28, 0.1);
    EXPECT_TRUE(table["x"].empty());
  }
}

TEST(StudyReport, AFewPointsFarOffDoNotPressTheOthersFlat) {
  std::vector<double> x, f;
  for (int i = 0; i < 100; ++i) x.push_back(i), f.push_back(i == 50 ? 5000 : 10 + i % 10);
  auto const p = make_picture(small(x, x, f), {PictureSort::scatter, "x", "", "f"}, UnitSystem::us);
  EXPECT_EQ(p.table["y"].size(), 99u);
  ASSERT_EQ(p.table["beyond"].size(), 1u);
  EXPECT_LT(p.table["beyond"][0]["y"].get<double>(), 40);
  EXPECT_THAT(p.table["beyond"][0]["told"].get<std::string>(), HasSubstr("5000"));
  EXPECT_THAT(p.caption, HasSubstr("1 lies beyond the picture: the open diamond at its edge."));
  EXPECT_THAT(p.caption, HasSubstr("Best, 10, at 9 points."));
  EXPECT_TRUE(p.table["best"].empty()) << "rings around so many would hide them";
}

TEST(StudyReport, ScatterMayWeighTwoFigures) {
  auto const r = sample::houses(50);
  auto const p = make_picture(r, {PictureSort::scatter, "middle_burn", "most_in_one_hour", ""}, UnitSystem::us);
  EXPECT_EQ(p.table["across"]["label"], "median burn [min]");
  EXPECT_EQ(p.table["up"]["label"], "starts in the worst hour");
}

TEST(StudyReport, MiddleOfAScatterIsTheMiddle) {
  std::vector<double> x, f;
  for (int i = 0; i < 100; ++i) x.push_back(i), f.push_back(i < 50 ? 2 : 10 + i);
  auto const p = make_picture(small(x, x, f), {PictureSort::scatter, "x", "", "f"}, UnitSystem::us);
  auto const& bands = p.table["middle"];
  ASSERT_EQ(bands.size(), 10u);
  EXPECT_EQ(bands[0], json({4.5, 2.0, 2.0, 2.0}));
  EXPECT_EQ(bands[9], json({94.5, 101.0, 105.0, 108.0}));  // of 100 … 109
  EXPECT_THAT(p.title, HasSubstr("Starts: typically 2 where reach is 32"));
}

TEST(StudyReport, AMillionPointsMakeASmallPageQuickly) {
  auto const r = sample::houses(1'000'000);
  auto const begin = std::chrono::steady_clock::now();
  auto const page = us(r);
  std::chrono::duration<double> const took = std::chrono::steady_clock::now() - begin;
  EXPECT_LT(page.size(), 1'000'000u);
  RecordProperty("seconds", std::to_string(took.count()));  // told, not asserted: machines differ
  EXPECT_THAT(markup(page), HasSubstr("The first 300 of 1\u00a0000\u00a0000 points."));
}

TEST(FrontReport, MarksAndFrontStandWithTheirNumbers) {
  auto r = sample::front(200);
  r.points.push_back({std::nan(""), 291, false, ""});
  auto const page = make_front_report(r, UnitSystem::us);
  auto const table = charts(page)[0]["table"];
  EXPECT_EQ(table["front"].size() + table["others"].size(), 200u);
  EXPECT_EQ(table["marks"][0]["name"], "chosen");
  EXPECT_EQ(table["marks"][0]["x"], 34.0);
  EXPECT_NEAR(table["marks"][0]["y"].get<double>(), 292.4 * 1.8 - 459.67, 1e-4);
  EXPECT_THAT(page, HasSubstr("From ‘as it is now’ to ‘chosen’: burner starts 71 → 34"));
  EXPECT_THAT(page, HasSubstr("Better is left and up."));
}

TEST(FrontReport, OfThreeAimsNoLineIsDrawnAndNobodySaysBeaten) {
  auto r = sample::front(200);
  EXPECT_TRUE(charts(make_front_report(r, UnitSystem::us))[0]["table"]["line"].get<bool>());
  EXPECT_THAT(make_front_report(r, UnitSystem::us), HasSubstr("Each small dot is worse than a large one"));
  for (auto& p : r.points) p.is_on_front = true;  // as good points of a third aim
  EXPECT_FALSE(charts(make_front_report(r, UnitSystem::us))[0]["table"]["line"].get<bool>());
  EXPECT_THAT(make_front_report(r, UnitSystem::us), Not(HasSubstr("Each small dot is worse than a large one")));
  EXPECT_THAT(make_front_report(r, UnitSystem::us), HasSubstr("More than these two figures were weighed"));
}

TEST(FrontReport, WithoutPointsIsAPage) {
  FrontRecord r;
  r.title = "none", r.x.name = "starts", r.y.name = "fuel";
  EXPECT_THAT(markup(make_front_report(r, UnitSystem::si)), HasSubstr("Starts and fuel: nothing to draw"));
}

TEST(FitReport, LinesAreTheLogAndTheFitAndWhatIsBetween) {
  auto const r = sample::fit();
  auto const page = make_fit_report(r, UnitSystem::us);
  auto const all = charts(page);
  ASSERT_EQ(all.size(), 1u) << "channels of the same times share an axis";
  auto const& t = all[0]["table"];
  ASSERT_EQ(t["panels"].size(), 4u);
  ASSERT_EQ(t["times"].size(), 1001u) << "a place more, where the log is silent";
  EXPECT_TRUE(t["panels"][0]["series"][0]["mean"][500].is_null());
  EXPECT_NEAR(t["panels"][0]["series"][0]["mean"][0].get<double>(), r.series[0].logged[0] * 1.8 - 459.67, 0.006);
  EXPECT_NEAR(t["panels"][1]["series"][0]["mean"][0].get<double>(), (r.series[0].logged[0] - r.series[0].fitted[0]) * 1.8, 0.006)
      << "a difference, not a temperature";
  EXPECT_TRUE(t["panels"][0]["series"][0]["mean"][5].is_null()) << "where nothing was logged";
  EXPECT_THAT(page, HasSubstr("7.27\u00a0kBtu/h"));
  EXPECT_THAT(page, HasSubstr("0.31\u00a0kBtu/h"));
  EXPECT_THAT(page, HasSubstr("held back"));
}

TEST(FitReport, LongLogsAreThinnedByMeans) {
  FitRecord r;
  FitSeries s{"supply", measure::temperature, {}, {}, {}, false};
  for (int i = 0; i < 200'000; ++i) s.times.push_back(60. * i), s.logged.push_back(300 + i % 2), s.fitted.push_back(300);
  r.series = {s};
  auto const page = make_fit_report(r, UnitSystem::si);
  EXPECT_LT(page.size(), 2'000'000u);
  EXPECT_THAT(page, HasSubstr("Each point is the average of 5 readings."));
}

}  // namespace
