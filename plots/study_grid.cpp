#include "plots/study_grid.hpp"

#include <algorithm>

namespace steadyfire {

StudyGrid::StudyGrid(StudyColumn const& x, StudyColumn const* y, StudyColumn const& figure, UnitSystem s)
    : figure_{&figure}, x_{x, s}, text_{figure, s} {
  if (y) y_.emplace(*y, s);
  cells_.resize(columns() * rows());
  std::vector<double> sums(cells_.size());
  for (size_t i = 0; i < figure.numbers.size(); ++i) {
    double const v = figure.numbers[i];
    int const column = x_.places()[i], row = y_ ? y_->places()[i] : 0;
    if (!std::isfinite(v) || column < 0 || row < 0) continue;
    auto const k = size_t(row) * columns() + size_t(column);
    auto& c = cells_[k];
    sums[k] += v;
    c.least = c.points ? std::min(c.least, v) : v, c.most = c.points ? std::max(c.most, v) : v;
    if (++c.points > 1 && c.least < c.most) averaged_ = true;
  }
  for (size_t k = 0; k < cells_.size(); ++k) {
    auto& c = cells_[k];
    if (!c.points) continue;
    c.mean = c.least == c.most ? c.least : sums[k] / double(c.points);
    low_ = std::min(low_, c.mean), high_ = std::max(high_, c.mean);
  }
  if (averaged_ && text_.decimals() == 0) text_ = ColumnText{figure, s, 1};
}

std::vector<std::pair<size_t, size_t>> StudyGrid::best() const {
  std::vector<std::pair<size_t, size_t>> out;
  if (!has_merit() || is_empty() || is_flat()) return out;
  auto const wanted = text_.told(best_mean());  // what reads the same is as good
  for (size_t row = 0; row < rows(); ++row)
    for (size_t k = 0; k < columns(); ++k)
      if (cell(k, row).points && text_.told(cell(k, row).mean) == wanted) out.emplace_back(k, row);
  return out;
}

std::string StudyGrid::where(size_t column, size_t row) const {
  auto out = x_.text().name() + " " + x_.told(column);
  if (y_) out += ", " + y_->text().name() + " " + y_->told(row);
  return out;
}

}  // namespace steadyfire
