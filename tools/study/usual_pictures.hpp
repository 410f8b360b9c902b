#pragma once
/// The pictures that a study gets whose file names none.

#include "tools/study/study_file.hpp"

namespace steadyfire {

/// Shape  of a full grid lines or heat maps over the first one or two parameters; of drawn points scatters over the first and influences.
///        Of the first three figures, those with a better side before others.
std::vector<PictureRecord> usual_pictures(Study const&);

}  // namespace steadyfire
