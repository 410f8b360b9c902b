#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "sim/record/record_csv.hpp"
#include "tools/study/study_columns.hpp"
#include "tools/study/study_result.hpp"

namespace steadyfire {
namespace {

std::string shown(StudyColumn const& c, double x, UnitSystem units) {
  if (!c.words.empty()) return c.words.at(std::size_t(x));
  auto const words = show(x, c.measure, units);
  return c.is_factor ? "× " + words : words;
}

std::string where(StudyRecord const& r, std::size_t row, UnitSystem units) {
  std::vector<std::string> parts;
  for (auto const& c : r.inputs) parts.push_back(c.name + " " + shown(c, c.numbers[row], units));
  return fmt::format("{}", fmt::join(parts, ", "));
}

/// The rows of the lowest and the highest number; none of a column without any.
struct LineEnds {
  std::size_t low = 0, high = 0;
  bool has_any = false;
};
LineEnds ends_of(StudyColumn const& c) {
  LineEnds e;
  for (std::size_t i = 0; i < c.numbers.size(); ++i) {
    if (std::isnan(c.numbers[i])) continue;
    if (!e.has_any) e = {i, i, true};
    if (c.numbers[i] < c.numbers[e.low]) e.low = i;
    if (c.numbers[i] > c.numbers[e.high]) e.high = i;
  }
  return e;
}

std::string claim_words(StudyRecord const& r, ClaimRecord const& c) {
  if (c.of == 0) return fmt::format("{}: no point has this figure", c.words);
  if (r.points == "full grid") return fmt::format("{}: true at {} of {} points of the grid", c.words, c.held, c.of);
  return fmt::format("In {:.0f} of 100 likely houses: {} (95% range {:.0f} to {:.0f}; {} of {} runs)",
                     100.0 * double(c.held) / double(c.of), c.words, 100 * c.least, 100 * c.most, c.held, c.of);
}

/// "burner starts depends on loads (37% of its variation; more loads, fewer …)", of the first few figures.
void add_influences(std::vector<std::string>& all, StudyRecord const& r) {
  constexpr std::size_t most_figures = 6, most_named = 3;
  constexpr double worth_naming = 0.05;
  std::size_t const points = r.inputs[0].numbers.size();
  auto const ordered = std::size_t(std::count_if(r.inputs.begin(), r.inputs.end(), is_ordered));
  if (r.inputs.size() < 2 || ordered == 0) return;
  if (points < points_for_each_rank * ordered) {
    all.push_back(
        fmt::format("Too few points to rank what each figure depends on; that takes {} or more.", points_for_each_rank * ordered));
    return;
  }
  std::size_t told = 0;
  for (auto const& f : r.figures) {
    if (!f.lower_is_better && !f.higher_is_better) continue;
    std::vector<InfluenceRecord const*> of;
    for (auto const& i : r.influences)
      if (i.figure == f.key && i.share >= worth_naming) of.push_back(&i);
    if (of.empty()) continue;
    if (told++ == most_figures) {
      all.emplace_back("For the other figures, see --report or --json.");
      return;
    }
    std::stable_sort(of.begin(), of.end(), [](auto const* a, auto const* b) { return a->share > b->share; });
    of.resize(std::min(of.size(), most_named));
    std::vector<std::string> parts;
    for (auto const* i : of) {
      auto const c = std::find_if(r.inputs.begin(), r.inputs.end(), [&](auto const& one) { return one.key == i->input; });
      parts.push_back(
          fmt::format("{} ({:.0f}% of its variation, {} with it)", c->name, 100 * i->share, i->rank_correlation > 0 ? "rises" : "falls"));
    }
    all.push_back(fmt::format("{} depends on {}", f.name, fmt::join(parts, ", ")));
  }
}

}  // namespace

bool is_ordered(StudyColumn const& c) { return c.words.size() < 3; }

std::vector<std::string> sentences_of(StudyRecord const& r, Study const& study) {
  std::vector<std::string> all;
  auto const done = long(r.inputs.at(0).numbers.size());
  all.push_back(fmt::format("{} {} of {}{}", r.asked, r.asked == 1 ? "point" : "points",
                            r.points == "full grid" ? "a full grid" : "a " + r.points + (r.points == "Sobol" ? " sequence" : ""),
                            done == r.asked ? ": all simulated" : fmt::format(": {} simulated, {} failed", done, r.failed)) +
                (done + r.failed < r.asked ? fmt::format(", {} left to run", r.asked - done - r.failed) : ""));
  for (auto const& c : r.claims) all.push_back(claim_words(r, c));
  add_influences(all, r);
  for (auto const& c : r.inputs)
    if (c.words.size() > 2) all.push_back(c.name + " is a choice without order; its effect is not ranked");
  all.insert(all.end(), study.cut_off.begin(), study.cut_off.end());
  if (study.precision == Precision::rough)
    all.push_back("Rough runs: starts are off by 1 to 2%, more if the burner short-cycles.");
  return all;
}

std::string words_of(StudyRecord const& r, UnitSystem units) {
  std::string text = r.title + "\n\n";
  for (auto const& w : r.words) text += "  " + w + "\n";
  constexpr std::size_t most_faults = 5;
  if (!r.faults.empty()) text += "\nFailed\n";
  for (std::size_t i = 0; i < std::min(most_faults, r.faults.size()); ++i)
    text += fmt::format("  {} times: {}\n", r.faults[i].second, r.faults[i].first);
  if (r.faults.size() > most_faults) text += fmt::format("  and {} more reasons; see --csv\n", r.faults.size() - most_faults);
  std::string of_merit, others;
  for (auto const& f : r.figures) {
    auto const e = ends_of(f);
    bool const has_merit = f.lower_is_better || f.higher_is_better;
    auto& out = has_merit ? of_merit : others;
    if (!e.has_any) continue;
    if (f.numbers[e.low] == f.numbers[e.high]) {
      out += fmt::format("  {}: {} at every point\n", f.name, show(f.numbers[e.low], f.measure, units));
      continue;
    }
    auto const best = f.higher_is_better ? e.high : e.low, worst = f.higher_is_better ? e.low : e.high;
    for (auto const& [word, row] : {std::pair{has_merit ? "best" : "lowest", best}, {has_merit ? "worst" : "highest", worst}})
      out += fmt::format("  {:<30}{:<8}{:>12}   at {}\n", row == best ? f.name : "", word, show(f.numbers[row], f.measure, units),
                         where(r, row, units));
  }
  if (!of_merit.empty()) text += "\nBest and worst\n" + of_merit;
  if (!others.empty()) text += "\nLowest and highest\n" + others;
  return text;
}

void write_points(std::ostream& out, Study const& study, Points const& points, Store const& store, UnitSystem units) {
  auto const columns = columns_of(study);
  std::vector<std::string> cells{"point"};
  auto const end_row = [&] { out << fmt::format("{}\r\n", fmt::join(cells, ",")); };
  for (auto const* some : {&columns.inputs, &columns.figures})
    for (auto const& c : *some) cells.push_back(csv_cell(heading_of(c, units)));
  cells.emplace_back("could not be simulated"), end_row();
  auto const add = [&](StudyColumn const& c, double x) {
    cells.push_back(std::isnan(x)     ? ""
                    : c.words.empty() ? fmt::format("{:.7g}", c.measure.unit(units).from_si(x))
                                      : csv_cell(c.words.at(std::size_t(x))));
  };
  store.each([&](KeptPoint&& p) {
    cells.assign(1, fmt::format("{}", p.number + 1));
    auto const at = points.at(p.number);
    for (std::size_t i = 0; i < at.size(); ++i) add(columns.inputs[i], at[i]);
    for (std::size_t i = 0; i < columns.figures.size(); ++i)
      if (p.fault.empty()) add(columns.figures[i], p.figures[i]);
      else cells.emplace_back();
    cells.push_back(csv_cell(p.fault)), end_row();
  });
}

}  // namespace steadyfire
