#include "plots/review_page.hpp"

#include <fmt/format.h>

#include <cctype>

#include "plots/embedded.hpp"
#include "plots/page_parts.hpp"

namespace steadyfire {
namespace {

std::string in_order(ReviewPart const& part, UnitSystem system) {
  if (part.in_order.empty()) return "";
  Table t{{"passed", "where", "value", "limit", "set by"}, "judged"};
  for (auto const& j : part.in_order)
    t.row({j.subject.in(system), j.place, printed(j.actual.value, j.actual.measure, system),
           (j.limit_word() == "limit" ? "" : std::string(j.limit_word()) + " ") + printed(j.limit.value, j.limit.measure, system),
           j.whose.in(system)});
  return t.html();
}

std::string table_html(ReviewTable const& table, UnitSystem system) {
  Table t{table.columns, "numbers"};
  for (auto const& row : table.rows) {
    std::vector<std::string> cells;
    for (auto const& c : row) cells.push_back(c.is_number ? printed(c.value, c.measure, system) : c.words.in(system));
    t.row(cells);
  }
  return (table.title.empty() ? "" : "<h3>" + escaped(table.title) + "</h3>") + t.html();
}

std::string listed(std::string_view title, std::vector<Words> const& items, UnitSystem system) {
  return items.empty() ? "" : fmt::format("<h3>{}</h3>{}", title, bullets(told(items, system)));
}

std::string part_html(ReviewPart const& part, UnitSystem system) {
  std::string body;
  for (auto const& sentence : part.sentences) {
    auto s = sentence.in(system);
    if (!s.empty()) s[0] = char(std::toupper(static_cast<unsigned char>(s[0])));
    body += R"(<p class="answer">)" + escaped(s) + (s.ends_with('.') ? "</p>" : ".</p>");
  }
  if (auto const n = part.findings.size())
    body += note(fmt::format("{} finding{} for this part, listed above.", n, n == 1 ? "" : "s"));
  body += in_order(part, system);
  for (auto const& t : part.tables) body += table_html(t, system);
  body += listed("Not checked (not in the file)", part.missing, system);
  body += listed("Check on site", part.reminders, system);
  body += listed("Never checked", part.not_covered, system);
  for (auto const& c : part.cautions) body += R"(<p class="alarm">)" + escaped(c.in(system)) + "</p>";
  return section(part.title, body);
}

}  // namespace

std::string make_review_page(ReviewRecord const& r, UnitSystem system) {
  auto const all = r.findings();
  std::size_t serious = 0;
  for (auto const& f : all) serious += f.severity == Severity::serious;
  std::string const answer =
      serious == 0 ? "Nothing serious."
                   : fmt::format("{} serious finding{}: fix {} before you cut pipe.", serious, serious == 1 ? "" : "s",
                                 serious == 1 ? "it" : "them");
  std::string body = fmt::format(R"(<header><h1>{}</h1><p class="note">Review before you cut pipe{}</p><p class="answer">{}</p></header>)",
                                 escaped(r.title), r.program_version.empty() ? "" : " · Steadyfire " + escaped(r.program_version), answer);
  for (auto const& c : r.cautions) body += R"(<p class="alarm">)" + escaped(c.in(system)) + "</p>";
  body += section("Findings", finding_list(all, system, "No findings."));
  for (auto const& p : r.parts) body += part_html(p, system);
  if (!r.assumptions.empty()) {
    Table t{{"where", "what", "assumed", "usual range", "from"}};
    for (auto const& a : r.assumptions)
      t.row({a.place, spaced(a.key), printed(a.value, a.measure, system),
             a.has_range() ? printed(a.least, a.measure, system) + " to " + printed(a.most, a.measure, system) : "unknown", a.why});
    body +=
        section("Assumptions",
                note("Values that the file does not give, assumed at the middle of the usual range. Put in those you know.") + t.html());
  }
  return fmt::format(
      R"(<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">)"
      R"(<meta name="color-scheme" content="light dark"><title>{}</title><style>{}</style></head><body><main>{}</main></body></html>)",
      escaped(r.title), embedded::report_css, body);
}

}  // namespace steadyfire
