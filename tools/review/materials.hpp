#pragma once
/// What has to be bought, counted from the graph.

#include "tools/review/reviewer.hpp"

namespace steadyfire {

/// One line of the list: pieces of one sort and size, wherever they go.
struct Material {
  std::string sort;     ///< "pipe", "fitting", "valve" …
  Words what;           ///< "3/4 in copper M"
  double quantity = 0;  ///< pieces, or metres
  Measure measure = measure::count;
  std::vector<std::string> where;  ///< zones and "near the boiler"
};

/// Pipes, insulation and tube by length; everything else by pieces.
///
/// Shape   in order of sort, then as the graph has them. A tee stands for each pipe beyond two that meets in a joint, unless
///         the joint is a tank's, whose tappings serve, or a manifold's. Pieces between two pipes take the size of the nearest.
/// Valid   nothing is counted that the graph does not have: see `not_covered` of `review_materials`.
std::vector<Material> materials(Document const&, Installation const&, Catalog);

/// The list as a table, lengths with the stated waste: sort, what, quantity, where.
ReviewTable materials_list(Job const&);

/// The list in the review.
ReviewPart review_materials(Job const&);

}  // namespace steadyfire
