#include "plots/report.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "plots/chart_page.hpp"
#include "plots/charts.hpp"
#include "plots/embedded.hpp"
#include "plots/hot_water_section.hpp"
#include "plots/network_drawing.hpp"
#include "plots/page_parts.hpp"
#include "plots/run_parts.hpp"
#include "sim/record/reasons.hpp"

namespace steadyfire {
namespace {

constexpr size_t most_numbers = 120'000;  // of one track: about 0.7 MB
constexpr size_t most_events = 300;
constexpr size_t most_repaintings = 15'000;  // limbs × moments: about 0.3 MB

class Page {
 public:
  Page(Record const& r, UnitSystem s) : r_{r}, system_{s} {}

  std::string html() {
    std::string body;  // added one by one: charts are numbered in this order
    for (auto part : {&Page::answer, &Page::findings, &Page::schematic, &Page::times, &Page::burns, &Page::resets, &Page::heat,
                      &Page::hot_water, &Page::energy, &Page::weather, &Page::assumptions, &Page::events, &Page::cautions}) {
      body += (this->*part)();
    }
    return page_.html(r_.title, std::string{embedded::uplot_css} + std::string{embedded::report_css}, body, embedded::report_js);
  }

 private:
  Record const& r_;
  UnitSystem system_;
  ChartPage page_;

  std::string told(double si, Measure const& m) const { return printed(si, m, system_); }

  /// A place on the page that report.ts fills with a chart.
  std::string chart(std::string_view kind, nlohmann::json table, std::string_view caption) {
    return page_.chart(kind, std::move(table), caption);
  }

  std::string answer() {
    std::string out = fmt::format(R"(<header><h1>{}</h1><p class="note">{} simulated{}</p>)", escaped(r_.title), span(r_.duration),
                                  r_.program_version.empty() ? "" : " · Steadyfire " + escaped(r_.program_version));
    if (!r_.incomplete.empty()) out += fmt::format(R"(<p class="alarm">Run stopped early: {}</p>)", escaped(r_.incomplete));
    for (auto const& why : reasons(r_.why)) out += R"(<p class="answer">)" + escaped(why.in(system_)) + "</p>";
    return out + key_figures() + "</header>";
  }
  std::string key_figures() const {
    auto const& b = r_.burner;
    std::string out = R"(<dl class="figures">)";
    auto const one = [&](std::string_view name, std::string const& value) {
      out += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>", name, escaped(value));
    };
    one("burner starts", std::to_string(b.starts));
    one("starts in the worst hour", std::to_string(b.starts_per_hour_worst));
    for (auto const& other : r_.other_burners) one(escaped(other.name) + " starts", std::to_string(other.starts));
    if (!b.burns.empty()) one("median burn", span(b.burn_median));
    if (b.time_firing > 0) {
      one("supply while firing", told(r_.supply_mean, measure::temperature));
      one("return while firing", told(r_.return_mean, measure::temperature));
      one("condensing, share of firing time", told(b.time_condensing / b.time_firing, measure::share));
    }
    return out + "</dl>";
  }

  std::string findings() { return section("Findings", finding_list(r_.findings, system_, "No findings.")); }

  std::string schematic() {
    if (r_.drawing.limbs.empty()) return "";
    bool const known = r_.moment.flow.size() == r_.drawing.limbs.size() && r_.moment.temperature.size() == r_.drawing.limbs.size();
    auto const picture = [&](Moment const* m, std::vector<Moment> const& others, std::string_view tools, std::string_view caption) {
      return section("The piping",
                     fmt::format(R"(<figure><div class="wide piping" tabindex="0">{}</div>{}<figcaption>{}</figcaption></figure>)",
                                 draw_network(r_.drawing, m, system_, others), tools, caption));
    };
    if (!known) return picture(nullptr, {}, "", "Arrows show the design flow direction.");
    auto const others = moments_to_choose(r_, most_repaintings);
    auto const when = fmt::format(R"(At <b class="when">{}{}{}</b>. Pipe color shows the water temperature. Dashed pipes have no flow.)",
                                  clock(r_.moment.time), r_.moment.words.empty() ? "" : ": ", escaped(r_.moment.words));
    if (others.size() < 2) return picture(&r_.moment, {}, "", when);
    auto const number = page_.table("piping", repaintings(r_.drawing, r_.moment, system_, others));
    auto const at = std::find_if(others.begin(), others.end(), [&](auto const& m) { return m.time == r_.moment.time; }) - others.begin();
    auto const slider = fmt::format(R"(<label class="moment" data-chart="{}" hidden>another moment <input type="range" min="0" max="{}" )"
                                    R"(value="{}"></label>)",
                                    number, others.size() - 1, at);
    return picture(&r_.moment, others, slider, when + R"( <span class="moment" hidden>Or click a moment in the charts below.</span>)");
  }
  std::string times() {
    std::string out;
    auto const add = [&](std::string_view title, Track const& t, std::string_view caption) {
      if (t.channels.empty() || t.channels[0].mean.empty()) return;
      if (!title.empty()) out += fmt::format("<h3>{}</h3>", title);
      out += chart("time", chart::over_time(t, system_, most_numbers), caption);
    };
    std::string const
        burns = "Each filled step is a burn. Short steps close together are short cycling. ",
        means = "Lines are averages. Pale bands show the lowest and highest in each interval. ",
        closer = "Drag to zoom in. Select a name to show or hide its line.";
    bool const one_day = is_one_day(r_);
    if (!one_day) add("The day with the most burner starts", r_.closeup, burns + closer);
    add(one_day ? "" : "The whole run", finest_whole(r_),
        (one_day ? burns : "") + means + closer);
    return section("Burner, water and rooms over time", out);
  }
  std::string burns() {
    auto const& b = r_.burner;
    if (b.burns.empty()) return "";
    auto const words = fmt::format("Shortest {}, median {}, longest {}. Bars at the left are short burns.", span(b.burn_shortest),
                                   span(b.burn_median), span(b.burn_longest));
    return section("How long the burns were", chart("bars", chart::burn_lengths(b.burns), words));
  }
  std::string resets() {
    if (r_.resets.empty()) return "";
    return section("Outdoor reset", chart("reset", chart::resets(r_.resets, r_.points, system_),
                                          "Lines: target supply temperature. Dots: actual. Dots above the line were hotter than the "
                                          "target."));
  }
  std::string heat() {
    if (r_.zones.empty()) return "";
    Table t{{"zone", "emitter", "heat", "design load", "setpoint", "room, average", "lowest", "highest", "calling", "longest call"},
            "numbers"};
    for (auto const& z : r_.zones) {
      t.row({z.name, z.emitter, told(z.heat, measure::energy), told(z.design_load, measure::power),
             told(z.setting, measure::fine_temperature), told(z.room_mean, measure::fine_temperature),
             told(z.room_min, measure::fine_temperature), told(z.room_max, measure::fine_temperature), span(z.call_time),
             span(z.longest_call)});
    }
    return section(
        "Heat by zone",
        chart("bars", chart::zone_heat(r_.zones, system_), "Heat from each zone's emitter to its room over the run.") + t.html());
  }

  std::string hot_water() {
    if (!r_.hot_water) return "";
    return hot_water_section(*r_.hot_water, system_, [this](std::string_view kind, nlohmann::json table, std::string_view caption) {
      return chart(kind, std::move(table), caption);
    });
  }

  std::string energy() {
    Table t{{"", "energy", "share of fuel"}, "numbers"};
    std::string_view look = "sum";
    for (auto const& row : energy_rows(r_.energy, system_)) t.row({row.what, row.energy, row.share}, std::exchange(look, ""));
    return section("Energy", t.html());
  }
  std::string weather() {
    auto const& w = r_.weather;
    if (w.source.empty() && w.hours == 0) return "";
    Table t{{}, "numbers"};
    t.row({"source", w.source});
    t.row({"hours", fmt::format("{:.0f}", w.hours)});
    t.row({"coldest", told(w.min, measure::fine_temperature)});
    t.row({"average", told(w.mean, measure::fine_temperature)});
    t.row({"warmest", told(w.max, measure::fine_temperature)});
    t.row({"1% of hours are colder than", told(w.cold_1_percent, measure::fine_temperature)});
    bool const us = system_ == UnitSystem::us;
    t.row({us ? "heating degree days below 65 °F" : "heating degree days below 18.3 °C",
           fmt::format("{:.0f} {}", w.degree_days_65F * (us ? 1.8 : 1), us ? "°F·d" : "°C·d")});
    return section("Weather", t.html());
  }
  std::string assumptions() {
    if (r_.assumptions.empty()) return "";
    Table t{{"where", "value", "assumed", "usual range", "source"}};
    for (auto const& a : r_.assumptions) {
      t.row({a.place, spaced(a.key), told(a.value, a.measure),
             a.least < a.most ? told(a.least, a.measure) + " to " + told(a.most, a.measure) : "unknown", a.why});
    }
    return section("Assumptions",
                   note("Assumed values. If you know better, put them in the scenario.") + t.html() + band());
  }
  /// What the answer would be with each assumption at either end of its range.
  std::string band() {
    if (r_.band.empty()) return "";
    Table t{{"assumed value", "set to", "starts", "starts in the worst hour", "median burn", "coldest room, average", "fuel"}, "numbers"};
    auto const row = [&](std::string const& what, std::string const& at, BandEnd const& e, std::string_view look = "") {
      if (!e.incomplete.empty()) return t.row({what, at, e.incomplete}, look);
      t.row({what, at, std::to_string(e.starts), std::to_string(e.starts_per_hour_worst), e.burn_median > 0 ? span(e.burn_median) : "–",
             told(e.coldest_room, measure::fine_temperature), told(e.fuel, measure::fuel)},
            look);
    };
    row("all in the middle of their ranges", "", outcome(r_, 0), "sum");
    for (auto const& b : r_.band) {
      for (auto const* end : {&b.low, &b.high}) row(b.place + " " + spaced(b.key), told(end->value, b.measure), *end);
    }
    return "<h3>Range check</h3>" +
           note("Each assumed value at both ends of its usual range, the others in the middle. Effects do not add up. On a short-cycling "
                "day, ignore differences of 5% or less in starts.") + t.html();
  }
  std::string events() {
    if (r_.events.empty()) return "";
    Table t{{"time", "place", "event"}};
    size_t const shown = std::min(r_.events.size(), most_events);
    for (size_t i = 0; i < shown; ++i) {
      auto const& e = r_.events[i];
      t.row({clock(e.time), e.place, e.why.empty() ? e.what : e.why.in(system_)});
    }
    long const rest = long(r_.events.size() - shown) + r_.events_left_out;
    auto const words =
        rest > 0 ? fmt::format("The first {} of {} events.", shown, long(shown) + rest) : fmt::format("All {} events.", shown);
    return section("What happened", fmt::format("<details><summary>{}</summary>{}</details>", words, t.html()));
  }
  std::string cautions() { return section("Cautions", bullets(steadyfire::told(r_.cautions, system_))); }
};

}  // namespace

std::string make_report(Record const& record, UnitSystem system) { return Page{record, system}.html(); }

}  // namespace steadyfire
