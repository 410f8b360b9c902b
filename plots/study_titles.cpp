#include "plots/study_titles.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace steadyfire {
namespace {

constexpr double shares_of_spread[]{1. / 3, 1. / 2};  // from the best to the worst: as far as a stretch is told as good
constexpr double share_of_good = 1. / 3;              // of the places as good as that: a stretch with fewer of them is no finding
constexpr double share_of_places = 0.1;               // of all places: a smaller one is worth a wider look

/// Columns and rows from an end each; not the whole.
struct Stretch {
  size_t columns = 0, rows = 0;
  bool from_right = false, from_top = false;
  double worst = 0;
  size_t numbers = 0;  ///< places with a number
};

bool is_worse(StudyGrid const& g, double a, double b) { return g.column().lower_is_better ? a > b : a < b; }

/// The stretch with most numbers from one corner without a mean beyond the limit; places without a number stand in nobody's way.
Stretch largest_from(StudyGrid const& g, bool from_right, bool from_top, double limit) {
  Stretch best{0, 0, from_right, from_top, g.best_mean(), 0};
  auto const at = [&](size_t i, size_t j) -> GridCell const& {
    return g.cell(from_right ? g.columns() - 1 - i : i, from_top ? g.rows() - 1 - j : j);
  };
  for (size_t columns = g.columns(), rows = 1; rows <= g.rows(); ++rows) {
    size_t fit = 0;
    while (fit < columns && !(at(fit, rows - 1).points && is_worse(g, at(fit, rows - 1).mean, limit))) ++fit;
    columns = fit;  // no wider than the rows before
    size_t numbers = 0;
    for (size_t i = 0; i < columns; ++i)
      for (size_t j = 0; j < rows; ++j) numbers += at(i, j).points > 0;
    if (numbers > best.numbers) best.columns = columns, best.rows = rows, best.numbers = numbers;
  }
  for (size_t i = 0; i < best.columns; ++i)
    for (size_t j = 0; j < best.rows; ++j)
      if (at(i, j).points && is_worse(g, at(i, j).mean, best.worst)) best.worst = at(i, j).mean;
  return best;
}

/// The largest of the four corners; none where good places lie about anyhow, or all are good.
Stretch largest(StudyGrid const& g, double share_of_spread) {
  double const limit = g.best_mean() + share_of_spread * (g.worst_mean() - g.best_mean());
  size_t good = 0, all = 0;
  for (size_t row = 0; row < g.rows(); ++row)
    for (size_t k = 0; k < g.columns(); ++k) {
      if (!g.cell(k, row).points) continue;
      ++all, good += !is_worse(g, g.cell(k, row).mean, limit);
    }
  Stretch best;
  for (bool right : {false, true})
    for (bool top : {false, true})
      if (auto one = largest_from(g, right, top, limit); one.numbers > best.numbers) best = one;
  return double(best.numbers) < share_of_good * double(good) || best.numbers == all ? Stretch{} : best;
}

std::string begin(StudyGrid const& g) { return begun_large(g.figure().name()) + ": " + (g.is_averaged() ? "on average " : ""); }
std::string bound(StudyGrid const& g, double v) {
  return g.column().lower_is_better ? "at most " + g.figure().told_at_most(v) : "at least " + g.figure().told_at_least(v);
}

std::string of_stretch(StudyGrid const& g, Stretch const& s) {
  auto const part = [](StudyAxis const& axis, size_t count, bool from_end) {
    return from_end ? axis.from(axis.size() - count) : axis.up_to(count - 1);
  };
  bool const whole_x = s.columns == g.columns(), whole_y = s.rows == g.rows();
  std::string where = whole_x ? "" : part(g.x(), s.columns, s.from_right), whatever;
  if (!whole_y) where += (where.empty() ? "" : " and ") + part(*g.y(), s.rows, s.from_top);
  if (whole_x) whatever = ", whatever the " + g.x().text().name();
  else if (whole_y && g.rows() > 1) whatever = ", whatever the " + g.y()->text().name();
  return fmt::format("{}{} where {}{}; {} {} elsewhere", begin(g), bound(g, s.worst), where, whatever,
                     g.column().lower_is_better ? "up to" : "down to", g.figure().told(g.worst_mean()));
}

/// 1 where every row rises all along, −1 where every row falls, else 0.
int way(StudyGrid const& g) {
  if (g.x().text().has_words()) return 0;
  bool rises = true, falls = true;
  for (size_t row = 0; row < g.rows(); ++row) {
    double before = std::nan("");
    for (size_t k = 0; k < g.columns(); ++k) {
      double const v = g.cell(k, row).mean;
      if (std::isnan(v)) continue;
      rises = rises && !(v < before), falls = falls && !(v > before);
      before = v;
    }
  }
  return rises ? 1 : falls ? -1 : 0;
}

std::string of_ends(StudyGrid const& g) {
  std::pair<size_t, size_t> low, high;
  for (size_t row = 0; row < g.rows(); ++row)
    for (size_t k = 0; k < g.columns(); ++k) {
      if (g.cell(k, row).mean == g.low()) low = {k, row};
      if (g.cell(k, row).mean == g.high()) high = {k, row};
    }
  if (g.rows() == 1 && way(g) != 0) {  // told along the axis
    auto const [first, last] = std::minmax(low.first, high.first);
    return fmt::format("{}{} from {} to {} as {} goes from {} to {}", begin(g), way(g) > 0 ? "up" : "down",
                       g.figure().told(g.cell(first, 0).mean), g.figure().told(g.cell(last, 0).mean), g.x().text().name(),
                       g.x().told(first), g.x().told(last));
  }
  return fmt::format("{}lowest, {}, at {}; highest, {}, at {}", begin(g), g.figure().told(g.low()), g.where(low.first, low.second),
                     g.figure().told(g.high()), g.where(high.first, high.second));
}

}  // namespace

std::string title_of(StudyGrid const& g) {
  if (g.is_empty()) return begun_large(g.figure().name()) + ": no point has a number to show";
  auto const turned = g.x().text().name() + (g.y() ? " and " + g.y()->text().name() : "");
  if (g.columns() * g.rows() == 1) return begin(g) + g.figure().told(g.low()) + " at " + g.where(0, 0) + ", the only values tried";
  if (g.is_flat()) return begin(g) + g.figure().told(g.low()) + " whatever the " + turned;
  if (!g.has_merit()) return of_ends(g);
  Stretch best;
  for (double share : shares_of_spread) {
    auto const s = largest(g, share);
    if (best.numbers == 0 || double(best.numbers) < share_of_places * double(g.columns() * g.rows())) best = s.numbers ? s : best;
  }
  return best.numbers > 0 ? of_stretch(g, best) : of_ends(g);
}

}  // namespace steadyfire
