#include <fmt/format.h>

#include "sim/scenario/reader.hpp"
#include "tools/study/study_file.hpp"

namespace steadyfire {
namespace {

std::string side(Better b) { return b == Better::lower ? "lower" : b == Better::higher ? "higher" : ""; }
template <class F>
std::string row(F const& f, std::string const& before) {
  auto const unit = [](AnyUnit const& u) { return u.symbol.empty() ? std::string("number") : printed_unit(u); };
  return fmt::format("| `{}{}` | {} | {} | {} | {} | {} |\n", before, f.key, f.name, unit(f.measure.us), unit(f.measure.si), side(f.better),
                     f.help);
}

}  // namespace

std::string study_reference_page(UnitSystem system) {
  auto page = reference_page(
      study_catalog(), system,
      "# Study files\n\n"
      "For `steadyfire sweep STUDY`: which values of a scenario are varied, and which figures of each run are kept. It starts with\n"
      "`format = 1`. Write values as in the scenario; they must be in the range of their key. A spread is cut off at that range;\n"
      "the rest keeps its shape. Choices have no spread: each one in the list is equally likely.\n");
  page += "\n# Figures\n\n| Key | Figure | US | SI | Better | Meaning |\n|---|---|---|---|---|---|\n";
  for (auto const& f : figures()) page += row(f, "");
  for (auto const& f : zone_figures()) page += row(f, "ZONE.");
  return page;
}

}  // namespace steadyfire
