// Points by the thousand, or by the million: dots, or counts by cell.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plots/page_text.hpp"
#include "plots/study_axis.hpp"
#include "plots/study_pictures.hpp"

namespace steadyfire {
namespace {

using nlohmann::json;
constexpr size_t most_dots = 3000, bands = 10, columns = 56, rows = 36, most_rings = 6;
constexpr double far = 3;  // times as far from the middle nine tenths as these reach

struct Dot {
  double x, figure;
};

/// How the points of one stretch of x lie: half of them are on either side of `middle`, 8 of 10 between `low` and `high`.
struct Band {
  double from, to, low, middle, high;
};

double at_share(std::vector<Dot>::iterator begin, std::vector<Dot>::iterator end, double share) {
  auto const at = begin + long(std::floor(share * double(end - begin - 1) + 0.5));
  std::nth_element(begin, at, end, [](auto const& a, auto const& b) { return a.figure < b.figure; });
  return at->figure;
}

Band band_of(std::vector<Dot>::iterator begin, std::vector<Dot>::iterator end) {
  auto const [least, most] = std::minmax_element(begin, end, [](auto const& a, auto const& b) { return a.x < b.x; });
  Band b{least->x, most->x, 0, 0, 0};
  b.low = at_share(begin, end, 0.1), b.middle = at_share(begin, end, 0.5), b.high = at_share(begin, end, 0.9);
  return b;
}

/// Of points sorted by x: bands of as many each, never cut between equal x; where x has no more than `count` values, one for each.
std::vector<Band> bands_of(std::vector<Dot> const& dots, size_t count) {
  std::vector<size_t> ends;
  for (size_t i = 1; i <= dots.size() && ends.size() <= count; ++i)
    if (i == dots.size() || dots[i].x != dots[i - 1].x) ends.push_back(i);
  if (ends.size() > count) {
    ends.clear();
    for (size_t k = 0, end = 0; k < count && end < dots.size(); ++k) {
      end = std::max(end + 1, dots.size() * (k + 1) / count);
      while (end < dots.size() && dots[end].x == dots[end - 1].x) ++end;
      ends.push_back(end);
    }
  }
  std::vector<Band> out;
  for (size_t k = 0; k < ends.size(); ++k) {
    std::vector<Dot> part(dots.begin() + long(k ? ends[k - 1] : 0), dots.begin() + long(ends[k]));
    out.push_back(band_of(part.begin(), part.end()));
  }
  return out;
}

/// Equal cells along one axis, an own one for each number where numbers are few and evenly apart.
struct Cells {
  double from = 0, width = 1;
  size_t count = 1;
  size_t of(double v) const { return size_t(std::clamp((v - from) / width, 0., double(count - 1))); }
};
Cells cells_of(std::vector<double> const& numbers, size_t most) {
  Cells c;
  double low = INFINITY, high = -INFINITY;
  for (double v : numbers)
    if (std::isfinite(v)) low = std::min(low, v), high = std::max(high, v);
  if (!(low < high)) return c.from = low - 0.5, c;
  double gap = INFINITY;
  auto const few = distinct(numbers, most);
  for (size_t i = 1; i < few.size(); ++i) gap = std::min(gap, few[i] - few[i - 1]);
  if (!few.empty() && (high - low) / gap < double(most)) return {low - gap / 2, gap, size_t(std::lround((high - low) / gap)) + 1};
  return {low, (high - low) / double(most), most};
}

/// How far up and down a picture reaches, so that a few points far off do not press all others flat.
struct Reach {
  double low, high;
};
Reach reach_of(std::vector<Dot> dots) {
  auto const [least, most] =
      std::minmax_element(dots.begin(), dots.end(), [](auto const& a, auto const& b) { return a.figure < b.figure; });
  Reach all{least->figure, most->figure};
  double const low = at_share(dots.begin(), dots.end(), 0.05), high = at_share(dots.begin(), dots.end(), 0.95), middling = high - low;
  if (!(middling > 0)) return all;
  if (all.high - high > far * middling) all.high = high + middling;
  if (low - all.low > far * middling) all.low = low - middling;
  return all;
}

std::string title_of(std::vector<Dot> const& dots, std::vector<Band> const& all, ColumnText const& x, ColumnText const& f) {
  auto const begin = begun_large(f.name()) + ": ";
  if (x.has_words()) {
    auto const [low, high] = std::minmax_element(all.begin(), all.end(), [](auto const& a, auto const& b) { return a.middle < b.middle; });
    if (f.told(low->middle) == f.told(high->middle)) return begin + "typically " + f.told(low->middle) + " whatever the " + x.name();
    return fmt::format("{}typically {} with {} {}, {} with {}", begin, f.told(low->middle), x.name(), x.told(low->from),
                       f.told(high->middle), x.told(high->from));
  }
  auto const thirds = bands_of(dots, 3);
  auto const &first = thirds.front(), &last = thirds.back();
  if (thirds.size() < 2) return begin + "typically " + f.told(first.middle) + " at " + x.name() + " " + x.told(first.from);
  if (f.told(first.middle) == f.told(last.middle))
    return fmt::format("{}typically {} at low and at high {} alike", begin, f.told(first.middle), x.name());
  return fmt::format("{}typically {} where {} is {} or less, {} where it is {} or more", begin, f.told(first.middle), x.name(),
                     x.told_at_least(first.to), f.told(last.middle), x.told_at_most(last.from));
}

}  // namespace

StudyPicture scatter_picture(StudyColumn const& xs, StudyColumn const& figures, UnitSystem s) {
  ColumnText const x{xs, s}, f{figures, s};
  std::vector<Dot> dots;
  for (size_t i = 0; i < figures.numbers.size(); ++i)
    if (std::isfinite(xs.numbers[i]) && std::isfinite(figures.numbers[i])) dots.push_back({xs.numbers[i], figures.numbers[i]});
  if (dots.empty()) return {begun_large(f.name()) + ": nothing to draw", "", "", {}, ""};

  json table{{"across", {{"label", x.label()}, {"words", xs.words}}},
             {"up", {{"label", f.label()}}},
             {"x", json::array()},
             {"y", json::array()},
             {"counts", json::array()},
             {"middle", json::array()},
             {"beyond", json::array()},
             {"best", json::array()}};
  std::string caption;
  size_t const all = dots.size();
  bool const is_counted = all > most_dots;
  auto const reach = reach_of(dots);
  auto const is_beyond = [&](Dot const& d) { return d.figure < reach.low || d.figure > reach.high; };
  auto const beyond = size_t(std::count_if(dots.begin(), dots.end(), is_beyond));
  auto const told = [&](Dot const& d) { return x.name() + " " + x.told(d.x) + "\n" + f.name() + " " + f.told(d.figure); };
  if (is_counted) {
    std::vector<double> inside;
    for (auto const& d : dots) inside.push_back(std::clamp(d.figure, reach.low, reach.high));
    auto const across = cells_of(xs.numbers, columns), up = cells_of(inside, rows);
    std::vector<long> counts(across.count * up.count);
    for (auto const& d : dots) ++counts[up.of(d.figure) * across.count + across.of(d.x)];
    for (size_t k = 0; k < counts.size(); ++k) {
      if (!counts[k]) continue;
      double const x0 = across.from + double(k % across.count) * across.width, y0 = up.from + double(k / across.count) * up.width;
      table["counts"].push_back({x.plain(x0), x.plain(x0 + across.width), f.plain(y0), f.plain(y0 + up.width), counts[k]});
    }
    caption = counted(all) + " points, counted by cell. ";
    if (beyond) caption += counted(beyond) + " of them lie beyond the picture and are counted at its edge. ";
  } else {
    for (auto const& d : dots) {
      if (!is_beyond(d)) table["x"].push_back(x.plain(d.x)), table["y"].push_back(f.plain(d.figure));
      else table["beyond"].push_back({{"x", x.plain(d.x)}, {"y", f.plain(std::clamp(d.figure, reach.low, reach.high))}, {"told", told(d)}});
    }
    caption = all == 1 ? "One point. " : "A dot for each of " + counted(all) + " points. ";
    if (beyond)
      caption += fmt::format("{} {} beyond the picture: the open diamond{} at its edge. ", counted(beyond), beyond == 1 ? "lies" : "lie",
                             beyond == 1 ? "" : "s");
  }
  if ((figures.lower_is_better || figures.higher_is_better) && all > 1) {
    auto const [least, most] =
        std::minmax_element(dots.begin(), dots.end(), [](auto const& a, auto const& b) { return a.figure < b.figure; });
    double const value = (figures.higher_is_better ? most : least)->figure;
    auto const words = f.told(value);
    double const step = std::pow(10, -f.decimals());
    std::vector<Dot> best;
    for (auto const& d : dots)
      if (std::abs(f.plain(d.figure) - f.plain(value)) <= step && f.told(d.figure) == words)
        best.push_back(d);  // reads the same, is as good
    for (size_t i = 0; i < best.size() && best.size() <= most_rings; ++i)
      table["best"].push_back(
          {{"x", x.plain(best[i].x)}, {"y", f.plain(std::clamp(best[i].figure, reach.low, reach.high))}, {"words", "best: " + words}});
    caption += best.size() == 1 ? fmt::format("Best, {}, at {} {}. ", words, x.name(), x.told(best[0].x))
                                : fmt::format("Best, {}, at {} points. ", words, counted(best.size()));
  }
  std::sort(dots.begin(), dots.end(), [](auto const& a, auto const& b) { return a.x < b.x; });
  auto const trace = bands_of(dots, xs.words.empty() ? std::min(bands, std::max<size_t>(1, all / 8)) : xs.words.size());
  auto title = title_of(dots, trace, x, f);
  if (all >= 16) {
    for (auto const& b : trace)
      table["middle"].push_back(
          {x.plain((b.from + b.to) / 2), f.plain(std::max(b.low, reach.low)), f.plain(b.middle), f.plain(std::min(b.high, reach.high))});
    caption += x.has_words() ? "Half of the points are at or above the diamond, half at or below it; 8 of 10 are on its bar."
               : is_counted  ? "Half of the points are on or above the line, half on or below it; 8 of 10 are between the dashed lines."
                             : "Half of the points are on or above the line, half on or below it; 8 of 10 are in the band.";
  }
  return {std::move(title), std::move(caption), "scatter", std::move(table), ""};
}

}  // namespace steadyfire
