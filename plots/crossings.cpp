#include <algorithm>
#include <array>
#include <cmath>

#include "plots/piping_layout.hpp"

namespace steadyfire {
namespace {

double constexpr close = 0.75;  // [px] rounding of what is drawn

struct Segment { Spot a, b; };

bool cross(Segment const& one, Segment const& other) {
  auto const box = [](Segment const& s) {
    return std::array{std::min(s.a.x, s.b.x), std::max(s.a.x, s.b.x), std::min(s.a.y, s.b.y), std::max(s.a.y, s.b.y)};
  };
  auto const a = box(one), b = box(other);
  double const x = std::min(a[1], b[1]) - std::max(a[0], b[0]), y = std::min(a[3], b[3]) - std::max(a[2], b[2]);
  if (x < -close || y < -close) return false;  // upright and level segments meet where their boxes do
  if (x > close || y > close) return true;     // they run along each other
  double const px = std::max(a[0], b[0]), py = std::max(a[2], b[2]);
  auto const is_end = [&](Segment const& s) {
    return std::hypot(s.a.x - px, s.a.y - py) < 2 * close || std::hypot(s.b.x - px, s.b.y - py) < 2 * close;
  };
  return !is_end(one) || !is_end(other);
}

}  // namespace

int crossings(PipingLayout const& layout) {
  std::vector<Segment> all;
  auto const add = [&](Spot a, Spot b) {
    if (a.x != b.x || a.y != b.y) all.push_back({a, b});
  };
  for (auto const& p : layout.joint_pipes) add(p.near, p.far);
  for (auto const& l : layout.limbs) add(l.start, l.symbol), add(l.symbol, l.end);
  int n = 0;
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) n += cross(all[i], all[j]);
  return n;
}

}  // namespace steadyfire
