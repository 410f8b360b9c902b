#include "tools/study/usual_pictures.hpp"

#include <algorithm>

namespace steadyfire {

std::vector<PictureRecord> usual_pictures(Study const& study) {
  constexpr std::size_t most = 3;
  std::vector<AskedFigure const*> figures;
  for (auto const& f : study.figures) figures.push_back(&f);
  std::stable_partition(figures.begin(), figures.end(), [](auto const* f) { return f->better != Better::neither; });
  figures.resize(std::min(figures.size(), most));
  std::vector<std::string> turned;
  for (std::size_t i = 0; i < study.parameters.size(); ++i)
    if (study.axes[i].sort != Axis::Sort::values || study.axes[i].values.size() > 1) turned.push_back(study.parameters[i].turn.address);
  std::vector<PictureRecord> all;
  if (turned.empty()) return all;
  bool const is_grid = study.sort == PointSort::full_grid;
  for (auto const* f : figures) {
    if (!is_grid) all.push_back({PictureSort::scatter, turned[0], f->key, ""});
    else if (turned.size() == 1) all.push_back({PictureSort::line, turned[0], "", f->key});
    else all.push_back({PictureSort::heat_map, turned[0], turned[1], f->key});
    if (turned.size() > 1) all.push_back({PictureSort::influence, "", "", f->key});
  }
  return all;
}

}  // namespace steadyfire
