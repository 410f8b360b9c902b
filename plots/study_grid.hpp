#pragma once
/// A figure of a study over one or two things turned: all points of one place together.

#include <cmath>
#include <optional>

#include "plots/study_axis.hpp"

namespace steadyfire {

/// The points of one place; NaN where none has a number.
struct GridCell {
  long points = 0;
  double mean = std::nan(""), least = std::nan(""), most = std::nan("");
};

class StudyGrid {
public:
  /// `y` may be null: then there is one row.
  StudyGrid(StudyColumn const& x, StudyColumn const* y, StudyColumn const& figure, UnitSystem);
  StudyAxis const& x() const { return x_; }
  std::optional<StudyAxis> const& y() const { return y_; }
  size_t columns() const { return x_.size(); }
  size_t rows() const { return y_ ? y_->size() : 1; }
  GridCell const& cell(size_t column, size_t row) const { return cells_[row * columns() + column]; }
  StudyColumn const& column() const { return *figure_; }
  /// Has a decimal more where cells are means of several points.
  ColumnText const& figure() const { return text_; }
  bool is_averaged() const { return averaged_; }
  bool is_empty() const { return !(low_ <= high_); }
  double low() const { return low_; }  ///< of the means
  double high() const { return high_; }
  /// Places of the best mean; none where the figure is no merit or all are alike.
  std::vector<std::pair<size_t, size_t>> best() const;
  double best_mean() const { return column().lower_is_better ? low_ : high_; }
  double worst_mean() const { return column().lower_is_better ? high_ : low_; }
  bool has_merit() const { return column().lower_is_better || column().higher_is_better; }
  bool is_flat() const { return text_.told(low_) == text_.told(high_); }
  std::string where(size_t column, size_t row) const;  ///< "minimum fire 12 kBtu/h, smallest zone 4 kBtu/h"

private:
  StudyColumn const* figure_;
  StudyAxis x_;
  std::optional<StudyAxis> y_;
  std::vector<GridCell> cells_;
  bool averaged_ = false;
  double low_ = INFINITY, high_ = -INFINITY;
  ColumnText text_;
};

}  // namespace steadyfire
