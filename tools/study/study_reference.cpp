#include <fmt/format.h>

#include "sim/scenario/reader.hpp"
#include "tools/study/study_file.hpp"

namespace steadyfire {
namespace {

std::string side(Better b) { return b == Better::lower ? "lower" : b == Better::higher ? "higher" : ""; }
template <class F>
std::string row(F const& f, std::string const& before) {
  auto const unit = [](AnyUnit const& u) { return u.symbol.empty() ? std::string("number") : std::string(u.symbol); };
  return fmt::format("| `{}{}` | {} | {} | {} | {} | {} |\n", before, f.key, f.name, unit(f.measure.us), unit(f.measure.si), side(f.better),
                     f.help);
}

}  // namespace

std::string study_reference_page() {
  auto page = reference_page(
      study_catalog(),
      "# Study files\n\n"
      "For `steadyfire sweep STUDY`: which values of a scenario are turned, and which figures of each run are kept. It opens with\n"
      "`format = 1`. Values are written as the scenario would state them, and must be possible in their own key.\n"
      "A spread is cut off where its key's own range ends, by its cumulative distribution: what is left keeps its shape. Words have\n"
      "no spread: of a list of them each is as likely.\n");
  page += "\n# Figures\n\n| Key | Figure | US | SI | Better | Meaning |\n|---|---|---|---|---|---|\n";
  for (auto const& f : figures()) page += row(f, "");
  for (auto const& f : zone_figures()) page += row(f, "ZONE.");
  return page;
}

}  // namespace steadyfire
