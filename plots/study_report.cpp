#include "plots/study_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plots/chart_page.hpp"
#include "plots/embedded.hpp"
#include "plots/page_parts.hpp"
#include "plots/study_axis.hpp"
#include "plots/study_parts.hpp"
#include "plots/study_pictures.hpp"

namespace steadyfire {
namespace {

constexpr size_t most_rows = 300, most_reasons = 20;

class StudyPage {
public:
  StudyPage(StudyRecord const& r, UnitSystem s) : r_{r}, system_{s} {}

  std::string html() {
    std::string body = header();
    for (auto part : {&StudyPage::failures, &StudyPage::pictures, &StudyPage::turned, &StudyPage::points}) body += (this->*part)();
    body += section("Cautions", bullets(r_.cautions));
    return page_.html(r_.title, study_style(), body, embedded::study_js);
  }

private:
  StudyRecord const& r_;
  UnitSystem system_;
  ChartPage page_;

  size_t count() const {
    for (auto const* columns : {&r_.figures, &r_.inputs})
      if (!columns->empty()) return columns->front().numbers.size();
    return 0;
  }
  bool is_grid() const { return r_.points == "full grid"; }

  std::string header() {
    auto const asked = r_.asked == 1 ? std::string{"1 point"} : counted(size_t(std::max(0L, r_.asked))) + " points";
    return study_header(r_.title,
                        {r_.scenario, asked + (r_.points.empty() ? "" : ", " + r_.points),
                         r_.program_version.empty() ? "" : "Steadyfire " + r_.program_version},
                        sentences(), claims());
  }
  /// Without those that say a claim, as the claims stand above with more.
  std::vector<std::string> sentences() const {
    auto all = r_.words;
    all.erase(std::remove_if(all.begin(), all.end(),
                             [&](auto const& w) {
                               return std::any_of(r_.claims.begin(), r_.claims.end(),
                                                  [&](auto const& c) { return w.find(c.words) != std::string::npos; });
                             }),
              all.end());
    return all;
  }

  /// Of chances only where points were drawn as houses might be; a grid's points are no houses.
  std::string claims() const {
    std::string out;
    for (auto const& c : r_.claims) {
      if (c.of <= 0) {
        out += R"(<p class="claim">)" + escaped("Unknown (no point could be simulated): " + c.words + ".") + "</p>";
        continue;
      }
      auto const& words = c.words;
      if (is_grid()) {
        out += fmt::format(R"(<p class="claim"><b>At {} of {} points</b>: {}.</p>)", c.held, c.of, escaped(words));
        continue;
      }
      out += fmt::format(R"(<p class="claim"><b>In {} of 100 likely houses</b>: {}.</p>)", of_hundred(c.held, c.of), escaped(words));
      out +=
          note(fmt::format("True at {} of {} points simulated. 95% range: {:.0f} to {:.0f} of 100.",
                           c.held, c.of, 100 * c.least, 100 * c.most));
    }
    return out;
  }
  /// Never "100" where one failed it, never "0" where one held.
  static std::string of_hundred(long held, long of) {
    double const share = 100 * double(held) / double(of), whole = std::round(share);
    if (whole == 100 && held < of) return "more than 99";
    if (whole == 0 && held > 0) return "fewer than 1";
    return fmt::format("{:.0f}", whole);
  }

  std::string failures() {
    if (r_.failed <= 0) return "";
    std::string out =
        r_.failed >= r_.asked
            ? fmt::format(R"(<p class="alarm">None of the {} points could be simulated.</p>)", counted(size_t(r_.asked)))
            : fmt::format("<p>{} of {} points could not be simulated. All pictures and shares leave them out.</p>", r_.failed, r_.asked);
    if (r_.faults.empty()) return section("Points that failed", out);
    auto faults = r_.faults;
    std::stable_sort(faults.begin(), faults.end(), [](auto const& a, auto const& b) { return a.second > b.second; });
    Table t{{"why", "points"}};
    for (size_t i = 0; i < std::min(faults.size(), most_reasons); ++i)
      t.row({faults[i].first, counted(size_t(faults[i].second))});
    auto const rest = faults.size() > most_reasons ? note(fmt::format("and {} rarer reasons", counted(faults.size() - most_reasons))) : "";
    return section("Points that failed", out + t.html() + rest);
  }

  std::string pictures() {
    std::string out;
    if (count() == 0) return out;
    for (auto const& p : r_.pictures) {
      auto picture = make_picture(r_, p, system_);
      auto const place = picture.kind.empty() ? "" : page_.chart(picture.kind, std::move(picture.table), picture.caption);
      out += titled_picture(picture.title, place, picture.values);
    }
    return out;
  }

  std::string turned() {
    if (r_.inputs.empty() || count() == 0) return "";
    Table t{{"value", "from", "to", "steps", "in the scenario"}, "numbers"};
    for (auto const& c : r_.inputs) {
      auto const few = distinct(c.numbers, most_places);
      auto const text = input_text(c, system_);
      auto const values = few.empty() ? std::string{"any in between"} : std::to_string(few.size());
      if (!c.words.empty()) {
        std::string words;
        for (double v : few) words += (words.empty() ? "" : ", ") + text.told(v);
        t.row({c.name, words, "", values, c.key});
        continue;
      }
      double low = INFINITY, high = -INFINITY;
      for (double v : c.numbers)
        if (std::isfinite(v)) low = std::min(low, v), high = std::max(high, v);
      t.row({c.name, low <= high ? text.told(low) : "–", low <= high ? text.told(high) : "–", values, c.key});
    }
    return section("Varied values", t.html());
  }

  std::string points() {
    size_t const n = count(), shown = std::min(n, most_rows);
    if (n == 0) return "";
    std::vector<std::string> heads;
    std::vector<ColumnText> texts;
    std::vector<StudyColumn const*> columns;
    for (auto const* all : {&r_.inputs, &r_.figures})
      for (auto const& c : *all) {
        columns.push_back(&c);
        texts.push_back(all == &r_.inputs ? input_text(c, system_) : ColumnText{c, system_});
        heads.push_back(texts.back().label());
      }
    Table t{heads, "numbers"};
    for (size_t i = 0; i < shown; ++i) {
      std::vector<std::string> cells;
      for (size_t k = 0; k < columns.size(); ++k) cells.push_back(texts[k].number(columns[k]->numbers[i]));
      t.row(cells);
    }
    auto const words = shown < n ? fmt::format("The first {} of {} points.", shown, counted(n))
                       : n == 1  ? "The one point."
                                 : "All " + counted(n) + " points.";
    return section("The points", fmt::format("<details><summary>{}</summary>{}</details>", words, t.html()));
  }
};

}  // namespace

std::string make_study_report(StudyRecord const& r, UnitSystem system) { return StudyPage{r, system}.html(); }

}  // namespace steadyfire
