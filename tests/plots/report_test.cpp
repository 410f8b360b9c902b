#include "plots/report.hpp"

#include <gtest/gtest.h>

#include <limits>

#include <nlohmann/json.hpp>

#include "plots/charts.hpp"
#include "plots/page_parts.hpp"
#include "plots/page_text.hpp"
#include "tests/plots/sample_record.hpp"

namespace steadyfire {
namespace {

bool holds(std::string const& page, std::string const& words) { return page.find(words) != std::string::npos; }

/// The page without what is between <script> and </script>, <style> and </style>.
std::string markup(std::string page) {
  for (std::string const name : {"script", "style"}) {
    for (size_t at = 0; (at = page.find("<" + name, at)) != std::string::npos;) {
      page.erase(at, page.find("</" + name + ">", at) + name.size() + 3 - at);
    }
  }
  return page;
}
nlohmann::json charts(std::string const& page) {
  std::string const head = R"(id="charts">)";
  auto const at = page.find(head) + head.size();
  return nlohmann::json::parse(page.substr(at, page.find("</script>", at) - at));
}

TEST(Report, NeedsNoNetwork) {
  auto const page = make_report(sample::record(), UnitSystem::us);
  for (auto const* fetch : {"src=", "href=", "<link", "<img", "<iframe", "@import"}) EXPECT_FALSE(holds(markup(page), fetch)) << fetch;
  for (auto const* fetch : {"url(", "@import", "fetch(", "XMLHttpRequest", "import("}) EXPECT_FALSE(holds(page, fetch)) << fetch;
  std::string rest = page;  // the one address is the name of SVG's grammar, which nobody fetches
  std::string const grammar = "http://www.w3.org/2000/svg";
  for (size_t at; (at = rest.find(grammar)) != std::string::npos;) rest.erase(at, grammar.size());
  EXPECT_FALSE(holds(markup(rest), "http://"));
  EXPECT_FALSE(holds(markup(rest), "https://"));
}

TEST(Report, CarriesItsChartsInside) {
  auto const page = make_report(sample::record(), UnitSystem::us);
  EXPECT_TRUE(holds(page, "syncRect")) << "the chart library is inlined";
  auto const tables = charts(page);
  ASSERT_EQ(tables.size(), 6u);  // other moments of the piping, close-up, whole run, burns, reset, heat by zone
  for (size_t i = 0; i < tables.size(); ++i) EXPECT_TRUE(holds(page, "data-chart=\"" + std::to_string(i) + "\""));
}

TEST(Report, SectionsStandInTheirOrder) {
  auto const page = markup(make_report(sample::record(), UnitSystem::us));
  size_t before = 0;
  for (auto const* title : {"<h1>", "Findings", "The piping", "over time", "day with the most", "whole run", "How long", "Outdoor reset",
                            "Heat by zone", ">Energy<", ">Weather<", ">Assumptions<", "What happened", ">Cautions<"}) {
    auto const at = page.find(title, before);
    ASSERT_NE(at, std::string::npos) << title;
    before = at;
  }
}

TEST(Report, HostileTextIsEscapedEverywhere) {
  std::string const bad = "</script><script>alert(1)</script>\"'&<b>";
  auto r = sample::record();
  r.title = r.program_version = r.incomplete = r.moment.words = r.weather.source = bad;
  for (auto* track : {&r.closeup, &r.whole}) {
    for (auto& c : track->channels) c.label = bad;
  }
  for (auto& e : r.events) e.place = e.what = bad, e.why = bad;
  for (auto& l : r.drawing.limbs) l.label = l.kind = bad, l.id += bad, l.zone += l.zone.empty() ? "" : bad;
  for (auto& z : r.zones) z.name = z.emitter = bad;
  for (auto& f : r.findings) f.place = f.figures[0].name = bad, f.whose = f.words = f.fix = bad;
  for (auto& a : r.assumptions) a.place = a.key = a.why = bad;
  r.energy.losses[bad] = 1;
  r.resets[0].name = bad;
  r.why.smallest_zone = bad, r.cautions = {bad};
  auto const page = make_report(r, UnitSystem::us);
  EXPECT_FALSE(holds(page, "alert(1)</script>"));
  EXPECT_FALSE(holds(page, "<script>alert"));
  EXPECT_FALSE(holds(markup(page), "<b>\""));
  EXPECT_FALSE(holds(markup(page), "\"'&<"));
  size_t scripts = 0;
  for (size_t at = 0; (at = page.find("</script>", at)) != std::string::npos; ++at) ++scripts;
  EXPECT_EQ(scripts, 2u);
  EXPECT_EQ(charts(page)[1]["table"]["panels"][0]["series"][0]["label"], bad);  // and comes out as it went in
}

TEST(Report, BrokenTextAndMissingNumbersDoNotBreakThePage) {
  auto r = sample::record();
  r.resets[0].name = "\xff\xfe";
  r.closeup.channels[1].mean[3] = std::numeric_limits<float>::quiet_NaN();
  auto const tables = charts(make_report(r, UnitSystem::si));
  EXPECT_EQ(tables.size(), 6u);
}

TEST(Report, ARunOfOneDayIsShownOnce) {
  auto r = sample::record();
  r.whole = sample::track(60, 86400);
  auto const page = make_report(r, UnitSystem::us);
  EXPECT_FALSE(holds(page, "day with the most"));
  EXPECT_FALSE(holds(page, "whole run"));
  auto const tables = charts(page);
  ASSERT_EQ(tables.size(), 5u);
  EXPECT_LT(tables[1]["table"]["step"], r.whole.step);  // the finer one
}

TEST(Report, TheMomentShownFirstIsAmongThoseToChoose) {
  auto const r = sample::record();
  auto const page = make_report(r, UnitSystem::us);
  auto const moments = charts(page)[0]["table"]["moments"];
  ASSERT_EQ(moments.size(), r.moments.size() + 1);
  EXPECT_TRUE(holds(page, R"(value="9")"));  // after the full hours 0 to 8
  EXPECT_EQ(moments[9]["time"], r.moment.time);
  for (auto const& m : moments) EXPECT_EQ(m["ways"].get<std::string>().size(), r.drawing.limbs.size());
}

TEST(Report, TheBandOfTheAnswerIsShownWhereItWasAskedFor) {
  auto r = sample::record();
  EXPECT_FALSE(holds(make_report(r, UnitSystem::us), "<h3>Range check</h3>"));
  BandEnd low, high;
  low.value = 10, low.starts = 91, high.value = 30, high.incomplete = "no answer <here>";
  r.band = {{"boiler", "metal_mass", measure::mass, low, high}};
  auto const page = make_report(r, UnitSystem::us);
  EXPECT_TRUE(holds(page, "<td>boiler metal mass</td><td>22\u00a0lb</td><td>91</td>"));  // 10 kg is 22.05 lb
  EXPECT_TRUE(holds(page, "no answer &lt;here&gt;"));
}

TEST(Report, FindingsAreSortedBySeverityThenOrder) {
  Record r;
  auto const add = [&](std::string place, Severity severity, double order) {
    Finding f;
    f.id = place, f.place = std::move(place), f.severity = severity, f.order = order;
    r.findings.push_back(f);
  };
  add("fourth", Severity::note, 9), add("second", Severity::serious, 1);
  add("third", Severity::minor, 5), add("first", Severity::serious, 2);
  auto const page = make_report(r, UnitSystem::us);
  EXPECT_LT(page.find("<b>first"), page.find("<b>second"));
  EXPECT_LT(page.find("<b>second"), page.find("<b>third"));
  EXPECT_LT(page.find("<b>third"), page.find("<b>fourth"));
}

TEST(Report, OneFindingAtManyPlacesIsOneItem) {
  Record r;
  for (double const speed : {1.3, 1.5, 1.4}) {
    Finding f;
    f.id = "pipe.fast", f.place = speed > 1.45 ? "main" : "riser <" + std::to_string(int(10 * speed)) + ">", f.severity = Severity::minor;
    f.figures = {{"velocity", speed, measure::velocity}}, f.order = speed, f.words = say("velocity {}", Amount{speed, measure::velocity});
    r.findings.push_back(f);
  }
  auto const page = make_report(r, UnitSystem::si);
  EXPECT_TRUE(holds(page, "<p>Also: riser &lt;14&gt; (1.40 m/s), riser &lt;13&gt; (1.30 m/s)</p>"));
  EXPECT_EQ(page.find("<li class=\"is-minor\">"), page.rfind("<li class=\"is-minor\">"));
}

TEST(Report, FindingsSayTheirFiguresLimitAndWhoseItIs) {
  auto const page = make_report(sample::record(), UnitSystem::us);
  EXPECT_TRUE(holds(page, "median burn 6.3\u00a0min"));  // 380 s
  EXPECT_TRUE(holds(page, "10.0\u00a0min"));
  EXPECT_TRUE(holds(page, "common practice, no published source"));
  EXPECT_TRUE(holds(page, "Fix:</b> lower the minimum fire."));
}

TEST(Report, NoUnitOfTheOtherSystemIsOnThePage) {
  auto const us_page = make_report(sample::record(), UnitSystem::us), si_page = make_report(sample::record(), UnitSystem::si);
  for (auto const* unit : {"°C", "L/s", "\u00a0kW<"}) EXPECT_FALSE(holds(us_page, unit)) << unit;
  for (auto const* unit : {"°F", "Btu", "gpm", "therm", "degF"}) EXPECT_FALSE(holds(si_page, unit)) << unit;
  EXPECT_TRUE(holds(si_page, "heating degree days below 18.3 °C"));
}

TEST(Report, LossesHaveNamesNotKeys) {
  auto const page = make_report(sample::record(), UnitSystem::us);
  EXPECT_TRUE(holds(page, "<td>lost: under the slab</td>"));
  EXPECT_FALSE(holds(page, "floor down"));
}

TEST(Report, EmptyRecordMakesAPageToo) {
  auto const page = make_report(Record{}, UnitSystem::si);
  EXPECT_TRUE(holds(page, "<h1></h1>"));
  EXPECT_EQ(charts(page).size(), 0u);
}

TEST(Report, StaysUnderThreeMegabytesForAYear) {
  auto r = sample::record();
  r.whole = sample::track(300, 86400);
  for (auto& c : r.whole.channels) {
    for (auto* v : {&c.least, &c.mean, &c.most}) {
      auto const day = *v;  // 288 bins of five minutes, 365 times
      for (int i = 1; i < 365; ++i) v->insert(v->end(), day.begin(), day.end());
    }
  }
  r.burner.burns.assign(200'000, 300);
  r.points.assign(500'000, {270, 330, 1});
  r.events.assign(100'000, {1, "boiler", "burner starts", "supply below target"});
  r.events_left_out = 5;
  auto const page = make_report(r, UnitSystem::us);
  EXPECT_LT(page.size(), 3'000'000u);
  EXPECT_TRUE(holds(page, "The first 300 of 100005 events."));
}

TEST(Charts, ThinningKeepsExtremesMeanAndSpan) {
  Track t{100, 10, {{"a", "a", "water", measure::temperature, {1, 0, 3, 4, 5}, {2, 3, 4, 5, 6}, {3, 9, 5, 6, 8}}}};
  auto const thin = chart::thinned(t, 2);
  EXPECT_EQ(thin.start, 100);
  EXPECT_EQ(thin.step, 20);
  EXPECT_EQ(thin.channels[0].least, (std::vector<float>{0, 3, 5}));
  EXPECT_EQ(thin.channels[0].mean, (std::vector<float>{2.5, 4.5, 6}));
  EXPECT_EQ(thin.channels[0].most, (std::vector<float>{9, 6, 8}));
}

TEST(Charts, TemperaturesComeInTheUsersUnit) {
  Track const t{0, 60, {{"a", "a", "water", measure::temperature, {333.15f}, {333.15f}, {333.15f}}}};
  EXPECT_DOUBLE_EQ(chart::over_time(t, UnitSystem::us, 1000)["panels"][0]["series"][0]["mean"][0].get<double>(), 140);  // 60 °C = 140 °F
  EXPECT_DOUBLE_EQ(chart::over_time(t, UnitSystem::si, 1000)["panels"][0]["series"][0]["mean"][0].get<double>(), 60);
}

TEST(Charts, EqualResetCurvesAreDrawnOnce) {
  std::vector<std::pair<double, double>> const steep{{260, 340}, {290, 300}}, flat{{260, 320}, {290, 300}};
  auto const curves = chart::resets({{"bath", steep}, {"slab", flat}, {"hall", steep}}, {}, UnitSystem::us)["curves"];
  ASSERT_EQ(curves.size(), 2u);
  EXPECT_EQ(curves[0]["label"], "bath, hall");
  EXPECT_EQ(curves[1]["label"], "slab");
}

TEST(Charts, EveryBurnFallsInOneBar) {
  auto const table = chart::burn_lengths({0, 59, 60, 299, 300, 7199, 7200, 1e6});
  EXPECT_EQ(table["values"], (nlohmann::json{2, 1, 0, 1, 1, 0, 0, 0, 1, 2}));
}

TEST(PageText, EscapesWhatHtmlWouldRead) { EXPECT_EQ(escaped("a<b>&\"'\x01"), "a&lt;b&gt;&amp;&quot;&#39;?"); }

TEST(PageText, UnitsArePrinted) {
  EXPECT_EQ(printed_unit(AnyUnit{unit::Btu_per_hour_square_foot_degF}), "Btu/(h·ft²·°F)");
  EXPECT_EQ(printed(300, measure::flow, UnitSystem::us).find(' '), std::string::npos);  // the unit stays on the line of its number
}

TEST(PageParts, NumbersOfAFindingHaveLabels) {
  EXPECT_EQ(label_of_figure("burn_median"), "median burn");
  EXPECT_EQ(label_of_figure("precharge"), "air charge");
  EXPECT_EQ(label_of_figure("design_load"), "design load");
  Finding const f{
      "pipe.fast",       "P",    Severity::minor, {{"velocity", 1.3, measure::velocity}}, Figure{"limit", 1.22, measure::velocity},
      "common practice", "words"};
  auto const page = finding_list({f}, UnitSystem::si, "");
  EXPECT_TRUE(holds(page, "limit 1.22\u00a0m/s")) << page;
  EXPECT_FALSE(holds(page, "limit: limit"));
}

TEST(PageText, LongWordsAreCutBetweenCharacters) {
  EXPECT_EQ(lines_of("one two three", 8, 2), (std::vector<std::string>{"one two", "three"}));
  EXPECT_EQ(lines_of("ääääää", 4, 1), (std::vector<std::string>{"äää…"}));
  EXPECT_EQ(lines_of("one two three", 5, 1), (std::vector<std::string>{"one…"}));
}

}  // namespace
}  // namespace steadyfire
