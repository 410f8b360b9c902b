#include "tools/study/points.hpp"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cmath>

#include "tools/study/latin_hypercube.hpp"

namespace steadyfire {

namespace {

std::vector<double> sobol(std::size_t count, std::size_t dimensions) {
  boost::random::sobol sequence{dimensions};
  std::vector<double> points(count * dimensions);
  // the last of 64 bits round up to 1
  for (double& u : points) u = std::min(std::ldexp(double(sequence()), -64), 1 - 0x1p-53);
  return points;
}

}  // namespace

char const* word_for(PointSort sort) {
  return sort == PointSort::full_grid ? "full grid" : sort == PointSort::sobol ? "Sobol" : "Latin hypercube";
}

double grid_size(std::vector<Axis> const& axes) {
  double all = 1;
  for (auto const& a : axes) all = std::min(1e18, all * double(a.values.size()));
  return all;
}

Points::Points(PointSort sort, std::vector<Axis> axes, std::size_t count, unsigned seed)
    : axes_{std::move(axes)}, size_{sort == PointSort::full_grid ? std::size_t(grid_size(axes_)) : count} {
  if (sort != PointSort::full_grid)
    unit_ = sort == PointSort::sobol ? sobol(size_, axes_.size()) : latin_hypercube(size_, axes_.size(), seed);
}

std::vector<double> Points::at(std::size_t number) const {
  std::vector<double> point(axes_.size());
  if (!unit_.empty()) {
    for (std::size_t k = 0; k < axes_.size(); ++k) point[k] = axes_[k].quantile(unit_[number * axes_.size() + k]);
    return point;
  }
  for (std::size_t k = axes_.size(); k-- > 0; number /= axes_[k].values.size()) point[k] = axes_[k].values[number % axes_[k].values.size()];
  return point;
}

}  // namespace steadyfire
