#pragma once
/// A study as its file says it: which scenario, what is turned, which figures are kept, and what is asked of them.

#include <memory>

#include "sim/record/study_record.hpp"
#include "tools/study/case.hpp"
#include "tools/study/points.hpp"

namespace steadyfire {

/// The tables of a study file, `format = 1` above them.
Catalog study_catalog();

/// The reference page of study files, with all figures.
std::string study_reference_page(UnitSystem);

struct Claim {
  std::size_t figure;  ///< among the study's figures
  bool is_most;        ///< at most, or at least
  double limit;        ///< SI
};

struct Study {
  std::string file, text, title;
  std::string scenario;              ///< its path
  std::shared_ptr<Case const> base;  ///< the scenario with the study's own run
  PointSort sort = PointSort::full_grid;
  std::size_t count = 0;  ///< of points that are drawn
  unsigned seed = 1;
  Precision precision = Precision::full;
  std::vector<Parameter> parameters;
  std::vector<Axis> axes;  ///< one a parameter
  std::vector<AskedFigure> figures;
  std::vector<Claim> claims;
  std::vector<PictureRecord> pictures;
  std::vector<std::string> cut_off;  ///< what is drawn short of its spread, in words

  Points points() const { return {sort, axes, count, seed}; }
};

/// Errors  BadInput with all faults of the study file; those of its scenario as Case tells them.
Study read_study(std::string const& file, UnitSystem = UnitSystem::us);

}  // namespace steadyfire
