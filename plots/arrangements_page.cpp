#include "plots/arrangements_page.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "plots/embedded.hpp"
#include "plots/network_drawing.hpp"
#include "plots/page_parts.hpp"
#include "plots/study_parts.hpp"

namespace steadyfire {
namespace {

char const* const pictures_style = R"(
.pictures { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 440px), 1fr)); gap: 18px; }
.pictures svg { width: 100%; height: auto; }
.pictures figcaption { margin-bottom: 4px; }
)";

class ArrangementsPage {
 public:
  ArrangementsPage(ArrangementsRecord const& record, UnitSystem system) : record_{record}, system_{system} {}

  std::string html() const {
    auto body = study_header(record_.title,
                             {"Piping arrangements compared", record_.scenario,
                              record_.program_version.empty() ? "" : "Steadyfire " + record_.program_version},
                             told(record_.answer, system_));
    for (auto const& c : record_.cautions) body += R"(<p class="alarm">)" + escaped(c) + "</p>";
    body += section("Arrangement and distribution", numbers() + note("Flows and rooms: on the design day, with every zone calling. Starts, "
                                                                     "burns, electricity and fuel: of the scenario's own days."));
    body += section("Parts, compared with the house as it is now", parts()) + section("Schematics", pictures());
    return fmt::format(
        R"(<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">)"
        R"(<meta name="color-scheme" content="light dark"><title>{}</title><style>{}{}</style></head><body><main>{}</main></body></html>)",
        escaped(record_.title), embedded::report_css, pictures_style, body);
  }

 private:
  std::string tell(double si, Measure const& m) const { return printed(si, m, system_); }
  static std::string name(ArrangementRow const& r) { return r.arrangement + (r.is_as_now ? " (as now)" : ""); }

  std::string numbers() const {
    Table t{{"arrangement", "distribution", "works", "boiler flow", "lowest zone flow", "coldest room", "starts", "in the worst hour",
             "median burn", "electricity", "fuel"},
            "numbers"};
    for (std::size_t i = 0; i < record_.rows.size(); ++i) {
      auto const& r = record_.rows[i];
      auto const look = int(i) == record_.chosen ? "sum" : "";
      if (!r.is_solved()) {
        t.row({name(r), r.distribution, "not built", "", "", "", "", "", "", "", ""}, look);
        continue;
      }
      t.row({name(r), r.distribution, r.works ? "yes" : "no", tell(r.boiler_flow, measure::flow),
             r.lowest_zone.empty() ? "-" : tell(r.lowest_share(), measure::share) + " " + r.lowest_zone,
             r.coldest_zone.empty() ? "-" : tell(r.coldest_room, measure::fine_temperature) + " " + r.coldest_zone,
             std::to_string(r.starts), std::to_string(r.starts_per_hour_worst),
             r.burn_median > 0 ? tell(r.burn_median, measure::minutes) : "-", tell(r.electricity, measure::electricity),
             tell(r.fuel, measure::fuel)},
            look);
    }
    return t.html();
  }

  std::string parts() const {
    Table t{{"arrangement", "distribution", "parts", "what is wrong"}};
    for (auto const& r : record_.rows)
      t.row({name(r), r.distribution, r.is_solved() ? fmt::format("{}", fmt::join(told(r.parts, system_), "; ")) : "not built",
             r.is_solved() ? fmt::format("{}", fmt::join(told(r.troubles, system_), "; ")) : r.reason.in(system_)});
    return t.html();
  }

  std::string pictures() const {
    std::string out;
    for (std::size_t i = 0; i < record_.rows.size(); ++i) {
      auto const& r = record_.rows[i];
      if (!r.is_solved()) continue;
      auto svg = draw_network(r.drawing, nullptr, system_);
      std::string const id = "id=\"piece:";  // each picture has ids of its own
      for (auto at = svg.find(id); at != svg.npos; at = svg.find(id, at + id.size() + 8)) svg.insert(at + 4, fmt::format("row {}:", i));
      out += fmt::format("<figure><figcaption>{}, {}</figcaption>{}</figure>", escaped(name(r)), escaped(r.distribution), svg);
    }
    return out.empty() ? "" : R"(<div class="pictures">)" + out + "</div>";
  }

  ArrangementsRecord const& record_;
  UnitSystem system_;
};

}  // namespace

std::string make_arrangements_page(ArrangementsRecord const& record, UnitSystem system) { return ArrangementsPage{record, system}.html(); }

}  // namespace steadyfire
