#include "tools/job/catalog.hpp"

#include "models/catalog.hpp"
#include "models/house/house_sections.hpp"
#include "tools/review/review_sections.hpp"

namespace steadyfire {

Catalog catalog() {
  static std::vector<Kind> const all = [] {
    std::vector<Kind> kinds;
    for (auto const& layer : {house_sections(), review_sections(), piece_kinds()}) kinds.insert(kinds.end(), layer.begin(), layer.end());
    return kinds;
  }();
  return all;
}

}  // namespace steadyfire
