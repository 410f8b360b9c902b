#pragma once
/// The columns of a study's points, without their numbers.

#include "tools/study/study_file.hpp"

namespace steadyfire {

struct StudyColumns {
  std::vector<StudyColumn> inputs, figures;
};
StudyColumns columns_of(Study const&);

/// "minimum fire [kBtu/h]", "loads [× own]": a heading with its unit.
std::string heading_of(StudyColumn const&, UnitSystem);

/// "W", "K" for temperatures; "" for counts and shares.
std::string si_unit(Measure const&);

}  // namespace steadyfire
