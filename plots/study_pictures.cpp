#include "plots/study_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plots/page_parts.hpp"
#include "plots/study_grid.hpp"
#include "plots/study_titles.hpp"

namespace steadyfire {
namespace {

using nlohmann::json;
constexpr size_t most_lines = 6;
constexpr double least_share = 0.015;  // of a figure's spread: below it a sign says nothing

std::string merit(StudyColumn const& f) { return f.lower_is_better ? "lower is better" : f.higher_is_better ? "higher is better" : ""; }

std::string how_averaged(StudyGrid const& g, std::string_view mark) {
  if (!g.is_averaged()) return "";
  long least = 0, most = 0;
  for (size_t row = 0; row < g.rows(); ++row)
    for (size_t k = 0; k < g.columns(); ++k)
      if (long const n = g.cell(k, row).points; n > 0) least = least ? std::min(least, n) : n, most = std::max(most, n);
  return fmt::format("{} is the average of {} points that differ in the other varied values. ", mark,
                     least == most ? counted(size_t(most)) : counted(size_t(least)) + " to " + counted(size_t(most)));
}

std::string of_best(StudyGrid const& g) {
  auto const best = g.best();
  if (best.empty()) return "";
  auto const& [k, row] = best.front();
  auto const v = g.figure().told(g.best_mean());
  return best.size() == 1 ? fmt::format("Best, {}, at {}. ", v, g.where(k, row)) : fmt::format("Best, {}, at {} places. ", v, best.size());
}

json axis_json(StudyAxis const& a) {
  json at = json::array(), names = json::array(), full = json::array();
  for (size_t i = 0; i < a.size(); ++i) {
    at.push_back(a.text().plain(a.at()[i])), names.push_back(a.number(i)), full.push_back(a.told(i));
  }
  return {{"label", a.text().label()}, {"at", at}, {"names", names}, {"full", full}, {"words", a.text().has_words()}};
}
json figure_json(ColumnText const& t, StudyColumn const& f) { return {{"label", t.label()}, {"name", t.name()}, {"merit", merit(f)}}; }

/// Rows by y from the highest, as the picture has them.
std::string values_html(StudyGrid const& g) {
  std::vector<std::string> heads{g.y() ? g.y()->text().label() + " ↓  " + g.x().text().label() + " →" : g.x().text().label()};
  for (size_t k = 0; k < g.columns(); ++k) heads.push_back(g.x().is_binned() ? g.x().told(k) : g.x().number(k));
  Table t{heads, "numbers"};
  for (size_t row = g.rows(); row-- > 0;) {
    std::vector<std::string> cells{g.y() ? (g.y()->is_binned() ? g.y()->told(row) : g.y()->number(row)) : g.figure().label()};
    for (size_t k = 0; k < g.columns(); ++k) cells.push_back(g.figure().number(g.cell(k, row).mean));
    t.row(cells);
  }
  return t.html();
}

/// Rows spread evenly, the ends among them.
std::vector<size_t> some_rows(size_t rows) {
  std::vector<size_t> out;
  size_t const n = std::min(rows, most_lines);
  for (size_t i = 0; i < n; ++i) out.push_back(n == 1 ? 0 : i * (rows - 1) / (n - 1));
  return out;
}

StudyPicture line_picture(StudyGrid const& g) {
  json lines = json::array();
  auto const rows = some_rows(g.rows());
  for (size_t row : rows) {
    json one{{"name", g.y() ? g.y()->told(row) : ""}, {"x", json::array()}, {"y", json::array()}, {"told", json::array()}};
    if (g.is_averaged()) one["least"] = one["most"] = json::array();
    for (size_t k = 0; k < g.columns(); ++k) {
      auto const& c = g.cell(k, row);
      one["x"].push_back(g.x().text().plain(g.x().at()[k])), one["y"].push_back(g.figure().plain(c.mean));
      one["told"].push_back(g.where(k, row) + "\n" + g.figure().name() + " " + g.figure().told(c.mean));
      if (g.is_averaged()) one["least"].push_back(g.figure().plain(c.least)), one["most"].push_back(g.figure().plain(c.most));
    }
    lines.push_back(std::move(one));
  }
  json best = json::array();
  for (auto const& [k, row] : g.best()) {
    if (std::find(rows.begin(), rows.end(), row) == rows.end()) continue;
    best.push_back({{"x", g.x().text().plain(g.x().at()[k])},
                    {"y", g.figure().plain(g.cell(k, row).mean)},
                    {"words", "best: " + g.figure().told(g.cell(k, row).mean)}});
  }
  auto caption = how_averaged(g, "Each place on a line");
  if (g.is_averaged()) caption += "Pale bands show the lowest and highest of them. ";
  if (rows.size() < g.rows()) caption += fmt::format("{} of the {} values of {} are drawn. ", rows.size(), g.rows(), g.y()->text().name());
  return {title_of(g),
          caption + of_best(g),
          "line",
          {{"across", axis_json(g.x())},
           {"up", figure_json(g.figure(), g.column())},
           {"of", g.y() ? g.y()->text().name() : ""},
           {"lines", lines},
           {"best", best}},
          values_html(g)};
}

StudyPicture heat_picture(StudyGrid const& g) {
  json cells = json::array(), best = json::array();
  bool has_gap = false;
  for (size_t row = 0; row < g.rows(); ++row)
    for (size_t k = 0; k < g.columns(); ++k) {
      auto const& c = g.cell(k, row);
      has_gap = has_gap || !c.points;
      auto told = g.where(k, row) + "\n" + g.figure().name() + " " + g.figure().told(c.mean);
      if (c.points > 1 && c.least < c.most)
        told += fmt::format("\naverage of {}: {} to {}", c.points, g.figure().told(c.least), g.figure().told(c.most));
      if (c.points) cells.push_back({k, row, g.figure().plain(c.mean), g.figure().number(c.mean), told});
    }
  for (auto const& [k, row] : g.best()) best.push_back({k, row});
  auto caption = how_averaged(g, "Each cell") + of_best(g);
  if (!best.empty()) caption += best.size() == 1 ? "Its cell is framed. " : "Their cells are framed. ";
  if (has_gap) caption += "Where a cell is missing, no point has a number. ";
  return {title_of(g),
          caption,
          "heat",
          {{"across", axis_json(g.x())},
           {"up", axis_json(*g.y())},
           {"figure", figure_json(g.figure(), g.column())},
           {"cells", cells},
           {"best", best}},
          values_html(g)};
}

StudyPicture nothing(StudyRecord const& r, std::string const& key) {
  auto const* c = find_column(r, key);
  return {begun_large(c ? c->name : key) + ": nothing to draw", "", "", {}, ""};
}

}  // namespace

StudyPicture make_picture(StudyRecord const& r, PictureRecord const& p, UnitSystem s) {
  auto const *x = find_column(r, p.x), *y = find_column(r, p.y), *figure = find_column(r, p.figure.empty() ? p.y : p.figure);
  if (!figure) return nothing(r, p.figure.empty() ? p.y : p.figure);
  if (p.sort == PictureSort::influence) return influence_picture(r, *figure);
  if (!x || (p.sort == PictureSort::heat_map && !y)) return nothing(r, p.figure);
  if (p.sort == PictureSort::scatter) return figure->words.empty() ? scatter_picture(*x, *figure, s) : scatter_picture(*figure, *x, s);
  StudyGrid const g{*x, y, *figure, s};
  if (g.is_empty()) return nothing(r, p.figure);
  return p.sort == PictureSort::line ? line_picture(g) : heat_picture(g);
}

StudyPicture influence_picture(StudyRecord const& r, StudyColumn const& figure) {
  std::vector<InfluenceRecord const*> all;
  for (auto const& i : r.influences)
    if (i.figure == figure.key && find_column(r, i.input)) all.push_back(&i);
  if (all.empty()) return nothing(r, figure.key);
  std::stable_sort(all.begin(), all.end(), [](auto const* a, auto const* b) { return a->share > b->share; });
  json bars = json::array();
  double sum = 0;
  auto const percent = [](double share) { return show(share, measure::share, UnitSystem::us); };
  for (auto const* i : all) {
    auto const& input = *find_column(r, i->input);
    bool const rises = i->rank_correlation > 0;
    std::string words = percent(i->share) + " · ";
    if (i->share < least_share) words += "little effect";
    else if (input.words.size() > 2) words += "depends on which one";
    else {
      if (input.words.empty()) words += "more of it: ";
      else words += fmt::format("‘{}’ rather than ‘{}’: ", input.words[1], input.words[0]);
      words += rises ? "higher" : "lower";
      if (figure.lower_is_better || figure.higher_is_better) words += rises == figure.higher_is_better ? ", better" : ", worse";
    }
    bars.push_back({{"name", input.name}, {"share", i->share}, {"words", words}});
    sum += i->share;
  }
  auto const name = [&](size_t k) { return find_column(r, all[k]->input)->name; };
  auto title = fmt::format("‘{}’ depends most on {}: {} of its variation", figure.name, name(0), percent(all[0]->share));
  if (all.size() > 1 && all[1]->share >= least_share) title += fmt::format("; then {}, {}", name(1), percent(all[1]->share));
  if (all[0]->share < least_share) title = "‘" + figure.name + "’ depends on none of the varied values alone";
  auto const left =
      sum > 1.005
          ? std::string{"They add up to more than 100%: at the points with a number, the values do not vary independently."}
          : "The other " + percent(std::max(0., 1 - sum)) + ": combined effects, and effects that rise and fall.";
  return {title,
          fmt::format("How much of the variation of ‘{}’ each explains, by a straight line through the ranks of the points. {}",
                      figure.name, left),
          "shares",
          {{"bars", bars}},
          ""};
}

}  // namespace steadyfire
