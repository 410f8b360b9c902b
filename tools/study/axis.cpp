#include "tools/study/axis.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/triangular.hpp>
#include <boost/math/distributions/uniform.hpp>
#include <cmath>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {
namespace {

template <class Do>
auto with_distribution(Axis const& a, Do const& use) {
  switch (a.sort) {
    case Axis::Sort::normal:
      return use(boost::math::normal{a.mean, a.deviation});
    case Axis::Sort::triangular:
      return use(boost::math::triangular{a.from, a.likely, a.to});
    case Axis::Sort::uniform:
      return use(boost::math::uniform{a.from, a.is_whole ? a.to + 1 : a.to});
    case Axis::Sort::values:
      break;
  }
  throw InternalError("a list of values has no distribution");
}

/// Where it is cut off: whole numbers stand for all that is rounded to them.
struct Ends {
  double low, high;
  explicit Ends(Axis const& a) : low{a.least}, high{a.most} {
    bool const is_uniform = a.sort == Axis::Sort::uniform;
    if (a.is_whole) low -= is_uniform ? 0 : 0.5, high += is_uniform ? 1 : 0.5;
  }
};

}  // namespace

double Axis::quantile(double u) const {
  if (sort == Sort::values) return values.at(std::min(values.size() - 1, std::size_t(u * double(values.size()))));
  return with_distribution(*this, [&](auto const& d) {
    Ends const ends{*this};
    double const below = cdf(d, ends.low), within = cdf(d, ends.high) - below;
    // 0 and 1 have no quantile where a spread has no end
    double const share = std::clamp(below + u * within, 1e-15, 1 - 1e-15);
    double const x = boost::math::quantile(d, share);
    return std::clamp(!is_whole ? x : sort == Sort::uniform ? std::min(std::floor(x), to) : std::round(x), least, most);
  });
}

double Axis::cut_off() const {
  if (sort == Sort::values) return 0;
  Ends const ends{*this};
  return with_distribution(*this, [&](auto const& d) { return 1 - (cdf(d, ends.high) - cdf(d, ends.low)); });
}

}  // namespace steadyfire
