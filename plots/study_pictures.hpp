#pragma once
/// The pictures of a study as tables that plots/study.ts draws, each with a title that says what it shows.

#include <nlohmann/json.hpp>

#include "sim/record/study_record.hpp"

namespace steadyfire {

struct StudyPicture {
  std::string title, caption;
  std::string kind;      ///< of the chart; "" where there is nothing to draw
  nlohmann::json table;  ///< in the units shown
  std::string values;    ///< the same as an HTML table; "" where it would say no more
};

/// A picture as asked for. Its page is small whatever the number of points: places of an axis are 40 at most, dots 3000.
///
/// Errors  none: where a column is missing or has no number, the title says so.
StudyPicture make_picture(StudyRecord const&, PictureRecord const&, UnitSystem);

/// A figure over one thing turned, a dot each; beyond 3000 points counts by cell.
StudyPicture scatter_picture(StudyColumn const& x, StudyColumn const& figure, UnitSystem);

/// What explains how much of one figure.
StudyPicture influence_picture(StudyRecord const&, StudyColumn const& figure);

}  // namespace steadyfire
