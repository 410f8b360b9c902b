#pragma once
/// The page of a study: what it comes to, and its pictures.

#include <string>

#include "sim/record/study_record.hpp"

namespace steadyfire {

/// One HTML page with everything inside it: answer, claims, points that failed, what was turned, pictures and the first points.
///
/// Valid   any record whose columns are of one length; a million points make a page as small as a thousand do.
/// Errors  none.
std::string make_study_report(StudyRecord const&, UnitSystem);

}  // namespace steadyfire
