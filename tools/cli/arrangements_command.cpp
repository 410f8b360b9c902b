#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <iostream>

#include "plots/arrangements_page.hpp"
#include "sim/record/arrangements_json.hpp"
#include "sim/record/json_parts.hpp"
#include "tools/cli/running.hpp"
#include "tools/study/arrange/compare.hpp"

namespace steadyfire::cli {
namespace {

/// The table, each row with its parts below it.
class ArrangementsWords {
 public:
  ArrangementsWords(ArrangementsRecord const& record, UnitSystem system) : record_{record}, system_{system} {
    for (auto const& r : record.rows)
      wide_ = std::max(wide_, name(r).size()), zone_ = std::max({zone_, r.lowest_zone.size(), r.coldest_zone.size()});
  }

  std::string all() const {
    std::string text;
    for (auto const& sentence : told(record_.answer, system_)) text += sentence + "\n";
    text += "\n" + line("", "distribution", "boiler", "lowest zone flow", "coldest room", "starts", "worst hour", "burn", "electricity",
                        "fuel");
    for (std::size_t i = 0; i < record_.rows.size(); ++i) text += row(record_.rows[i]);
    return text + "Flows and rooms: on the design day, every zone calling, flow in % of the flow needed. Starts, starts in the worst hour, "
                  "median burn,\nelectricity and fuel: of the scenario's own days.\n";
  }

 private:
  std::string tell(double si, Measure const& m) const { return show(si, m, system_); }
  static std::string name(ArrangementRow const& r) { return r.arrangement + (r.is_as_now ? " (as now)" : ""); }
  std::string line(std::string const& name, std::string const& distribution, std::string const& boiler, std::string const& flow,
                   std::string const& room, std::string const& starts, std::string const& worst, std::string const& burn,
                   std::string const& electricity, std::string const& fuel) const {
    return fmt::format("  {:<{}}  {:<13}{:>9}  {:<{}}  {:<{}}{:>7}{:>12}{:>10}{:>13}{:>12}\n", name, wide_, distribution, boiler, flow,
                       std::max<std::size_t>(16, zone_ + 5), room, std::max<std::size_t>(14, zone_ + 8), starts, worst, burn, electricity,
                       fuel);
  }

  std::string row(ArrangementRow const& r) const {
    if (!r.is_solved()) return fmt::format("  {:<{}}  {:<13} not built: {}\n", name(r), wide_, r.distribution, r.reason.in(system_));
    auto text = line(name(r), r.distribution, tell(r.boiler_flow, measure::flow),
                     r.lowest_zone.empty() ? "-" : tell(r.lowest_share(), measure::share) + " " + r.lowest_zone,
                     r.coldest_zone.empty() ? "-" : tell(r.coldest_room, measure::fine_temperature) + " " + r.coldest_zone,
                     std::to_string(r.starts), std::to_string(r.starts_per_hour_worst),
                     r.burn_median > 0 ? tell(r.burn_median, measure::minutes) : "-", tell(r.electricity, measure::electricity),
                     tell(r.fuel, measure::fuel));
    for (auto const& p : told(r.parts, system_)) text += "      " + p + "\n";
    return text;
  }

  ArrangementsRecord const& record_;
  UnitSystem system_;
  std::size_t wide_ = 12, zone_ = 8;
};

}  // namespace

int arrangements(Outputs& outputs, Common const& common, std::string const& report, unsigned jobs) {
  Document document;
  load(common.scenario, document);
  Case const house{document.file, document.text, {}, common.system()};
  listen_for_interrupt();
  outputs.begin();
  auto const record = [&] {
    Progress progress;
    return compare_arrangements(house, jobs, std::ref(progress), was_interrupted);
  }();
  if (was_interrupted()) return exit_by_signal();
  if (auto const& now = record.rows.front(); !now.is_solved()) {
    std::cerr << now.reason.in(common.system()) << '\n';
    return stopped;
  }
  if (!common.silent()) {
    std::cout << record.title << "\n\n" << ArrangementsWords{record, common.system()}.all();
    if (!report.empty()) std::cout << "\nreport: " << report << '\n';
    for (auto const& c : record.cautions) std::cout << '\n' << c << '\n';
  }
  outputs.write(common.json, [&] { return json_text(arrangements_to_json(record, common.system())); });
  outputs.write(report, [&] { return make_arrangements_page(record, common.system()); });
  outputs.commit();
  return done;
}

}  // namespace steadyfire::cli
