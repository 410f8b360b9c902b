#include "plots/piping_layout.hpp"

#include <algorithm>
#include <map>

#include "plots/rows_and_columns.hpp"

namespace steadyfire {
namespace {

/// Limbs that end nowhere, an expansion tank or a capped pipe, stay out of the rows and columns: each is a short
/// stub at its joint, on the side where there is room.
class DeadLegs {
 public:
  explicit DeadLegs(Drawing const& d) : drawing_{d} {
    std::map<std::string, int> met;
    for (auto const& l : d.limbs) ++met[l.from], ++met[l.to];
    for (int i = 0; i < int(d.limbs.size()); ++i) {
      auto const& l = d.limbs[i];
      bool const dead = (met[l.from] == 1 && met[l.to] > 2) || (met[l.to] == 1 && met[l.from] > 2);
      (dead ? legs_ : others_).push_back(i);
      if (dead) end_.push_back(met[l.from] == 1 ? l.from : l.to);
    }
  }
  PipingLayout make() {
    if (legs_.empty() || others_.empty()) return in_rows_and_columns(drawing_);
    Drawing rest;
    for (int i : others_) rest.limbs.push_back(drawing_.limbs[i]);
    auto out = in_rows_and_columns(rest);
    std::vector<LimbPlace> places(drawing_.limbs.size());
    for (size_t i = 0; i < others_.size(); ++i) places[others_[i]] = out.limbs[i];
    out.limbs = std::move(places);
    for (auto& p : out.joint_pipes) {
      for (int& l : p.beyond) l = others_[l];
    }
    for (int i : others_) take(out.limbs[i], words_of(out, i));
    for (auto const& p : out.joint_pipes) taken_.push_back(around(p.near, p.far));
    for (auto const& z : out.zones) taken_.push_back({{z.top_left.x, z.top_left.y - 22}, z.bottom_right});
    for (size_t i = 0; i < legs_.size(); ++i) stand(out, legs_[i], end_[i]);
    fit(out);
    return out;
  }

 private:
  struct Box {
    Spot low, high;
  };
  Drawing const& drawing_;
  std::vector<int> legs_, others_;
  std::vector<std::string> end_;  // of each leg: its joint that meets nothing else
  std::vector<Box> taken_;
  static constexpr double reach = 46, half = 22;  // of a stub to the middle of its symbol; of the symbol with its words

  static Box around(Spot a, Spot b) {
    return {{std::min(a.x, b.x) - 4, std::min(a.y, b.y) - 4}, {std::max(a.x, b.x) + 4, std::max(a.y, b.y) + 4}};
  }
  void take(LimbPlace const& p, Box words) {
    taken_.push_back(around(p.start, p.symbol)), taken_.push_back(around(p.symbol, p.end)), taken_.push_back(words);
  }
  /// Where a limb's symbol and words stand.
  static Box words_of(PipingLayout const& layout, int limb) {
    auto const& p = layout.limbs[limb];
    auto const [x, y] = p.symbol;
    if (p.upright) return {{x - 40, y - 46}, {x + 20 + words_width, y + 46}};
    bool const above = y < layout.height / 2;
    return {{x - words_width / 2, above ? y - 56 : y - 20}, {x + words_width / 2, above ? y + 20 : y + 62}};
  }
  static double overlap(Box const& a, Box const& b) {
    double const x = std::min(a.high.x, b.high.x) - std::max(a.low.x, b.low.x),
                 y = std::min(a.high.y, b.high.y) - std::max(a.low.y, b.low.y);
    return x > 0 && y > 0 ? x * y : 0;
  }
  /// The stub reaches up or down, near or far, wherever it covers least.
  void stand(PipingLayout& layout, int leg, std::string const& end) {
    auto const& l = drawing_.limbs[leg];
    auto const& joint = l.from == end ? l.to : l.from;
    Spot at;
    for (int i : others_) {
      if (drawing_.limbs[i].from == joint) at = layout.limbs[i].start;
      if (drawing_.limbs[i].to == joint) at = layout.limbs[i].end;
    }
    double least = 1e18;
    Spot best;
    for (double far : {1., 1.6, 2.4}) {
      for (Spot way :
           {Spot{0, at.y < layout.height / 2 ? 1. : -1.}, Spot{0, at.y < layout.height / 2 ? -1. : 1.}, Spot{1, 0}, Spot{-1, 0}}) {
        Spot const here{at.x + way.x * reach * far, at.y + way.y * reach * far};
        Box const body{{here.x - half, here.y - half}, {here.x + half + words_width, here.y + half}};
        Spot const off{at.x + way.x * 6, at.y + way.y * 6};  // beyond the pipe it stands on
        double covered = 0;
        for (auto const& t : taken_) covered += overlap(t, body) + 20 * overlap(t, around(off, {off.x + way.x * 20, off.y + way.y * 20}));
        if (covered < least - 1) least = covered, best = here;
      }
    }
    bool const leaves = l.to == end;
    layout.limbs[leg] = {leaves ? at : best, best, leaves ? best : at, true};
    layout.tees.push_back(at);
    take(layout.limbs[leg], {{best.x - half, best.y - half}, {best.x + half + words_width, best.y + half}});
  }
  /// Makes room at the edges for stubs that reach beyond the rest.
  void fit(PipingLayout& layout) const {
    double left = margin, top = margin, right = layout.width - margin, bottom = layout.height - margin;
    for (int leg : legs_) {
      auto const [x, y] = layout.limbs[leg].symbol;
      left = std::min(left, x - half), top = std::min(top, y - half);
      right = std::max(right, x + half + words_width), bottom = std::max(bottom, y + half);
    }
    shift(layout, {margin - left, margin - top});
    layout.width = right - left + 2 * margin, layout.height = bottom - top + 2 * margin;
  }
};

}  // namespace

PipingLayout lay_out(Drawing const& drawing) {
  if (drawing.limbs.empty()) return {};
  return DeadLegs{drawing}.make();
}

}  // namespace steadyfire
