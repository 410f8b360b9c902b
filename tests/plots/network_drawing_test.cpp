#include "plots/network_drawing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <regex>
#include <set>

#include "plots/piping_layout.hpp"
#include "plots/warmth_scale.hpp"
#include "sim/core/diagnostic.hpp"
#include "tests/plots/sample_drawings.hpp"

namespace steadyfire {
namespace {

struct Segment {
  double x1, y1, x2, y2;
};

std::vector<Segment> pipes(std::string const& svg) {
  std::vector<Segment> out;
  std::regex const pipe{R"re(<path class="pipe[^"]*"[^>]* d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)"/>)re"};
  for (std::sregex_iterator it{svg.begin(), svg.end(), pipe}, end; it != end; ++it) {
    out.push_back({std::stod((*it)[1]), std::stod((*it)[2]), std::stod((*it)[3]), std::stod((*it)[4])});
  }
  return out;
}

/// Crossings and overlaps. Segments that only share an end do not count.
int crossings(std::vector<Segment> const& all) {
  int n = 0;
  double const close = 0.75;  // [px] rounding of what is drawn
  for (size_t i = 0; i < all.size(); ++i) {
    for (size_t j = 0; j < i; ++j) {
      auto box = [](Segment const& s) {
        return std::array{std::min(s.x1, s.x2), std::max(s.x1, s.x2), std::min(s.y1, s.y2), std::max(s.y1, s.y2)};
      };
      auto const a = box(all[i]), b = box(all[j]);
      double const x = std::min(a[1], b[1]) - std::max(a[0], b[0]), y = std::min(a[3], b[3]) - std::max(a[2], b[2]);
      if (x < -close || y < -close) continue;  // upright and level segments meet where their boxes do
      if (x > close || y > close) {
        ++n;
        continue;
      }  // they run along each other
      auto const is_end = [&](Segment const& s, double px, double py) {
        return std::hypot(s.x1 - px, s.y1 - py) < 2 * close || std::hypot(s.x2 - px, s.y2 - py) < 2 * close;
      };
      double const px = std::max(a[0], b[0]), py = std::max(a[2], b[2]);
      if (!is_end(all[i], px, py) || !is_end(all[j], px, py)) ++n;
    }
  }
  return n;
}

std::string drawn(Drawing const& d) {
  auto const m = sample::moment_of(d);
  return draw_network(d, &m, UnitSystem::us);
}

TEST(NetworkDrawing, ACrossingIsSeen) {  // the check below can fail
  EXPECT_EQ(crossings({{0, 5, 10, 5}, {5, 0, 5, 10}}), 1);
  EXPECT_EQ(crossings({{0, 5, 10, 5}, {2, 5, 8, 5}}), 1);
  EXPECT_EQ(crossings({{0, 5, 10, 5}, {10, 5, 10, 10}}), 0);
}

TEST(NetworkDrawing, HousesOfOneToSixZonesHaveNoCrossings) {
  for (int zones = 1; zones <= 6; ++zones) {
    EXPECT_EQ(crossings(pipes(drawn(sample::direct(zones)))), 0) << "direct, zones " << zones;
    EXPECT_EQ(crossings(pipes(drawn(sample::close_tees(zones)))), 0) << "close tees, zones " << zones;
    EXPECT_EQ(crossings(pipes(drawn(sample::tank_and_hot_water(zones)))), 0) << "tank, zones " << zones;
    EXPECT_EQ(crossings(pipes(drawn(sample::reverse_return(zones)))), 0) << "reverse return, zones " << zones;
    EXPECT_EQ(crossings(pipes(drawn(sample::floor_manifold(zones)))), 0) << "manifold, loops " << zones;
  }
}

TEST(NetworkDrawing, TwelveZonesAndTwoBoilersHaveNoCrossings) {
  EXPECT_EQ(crossings(pipes(drawn(sample::close_tees(12)))), 0);
  EXPECT_EQ(crossings(pipes(drawn(sample::four_pipe_tank(12)))), 0);
  for (int zones : {1, 3, 12}) EXPECT_EQ(crossings(pipes(drawn(sample::two_boilers(zones)))), 0) << zones;
}

TEST(NetworkDrawing, CloseTeesStandCloseTogetherOnTheBoilersLoop) {
  for (auto const& d : {sample::close_tees(1), sample::close_tees(4), sample::two_boilers(12)}) {
    auto const layout = lay_out(d);
    auto const of = [&](std::string const& id) {
      return layout.limbs[std::find_if(d.limbs.begin(), d.limbs.end(), [&](auto const& l) { return l.id == id; }) - d.limbs.begin()];
    };
    auto const gap = of("tees");
    EXPECT_LT(gap.end.y - gap.start.y, 80);
    EXPECT_LT(of("system/supply").start.y, gap.start.y - 40);  // the loop and the zones' rows reach above and below the tees
    EXPECT_GT(of("system/return").end.y, gap.end.y + 40);
    EXPECT_GT(of("system/supply").start.x, gap.start.x + 40);
  }
}

TEST(NetworkDrawing, DeadLegsAreShortStubsAtTheirJoint) {
  sample::Pipefitter f;
  f.drawing = sample::close_tees(3);
  auto const plain = lay_out(f.drawing);
  f.limb("cushion", "other", "expansion tank", "tee2", "cushion.end");
  auto const layout = lay_out(f.drawing);
  EXPECT_LT(layout.width, plain.width + 150);
  auto const& p = layout.limbs.back();
  EXPECT_LT(std::hypot(p.end.x - p.start.x, p.end.y - p.start.y), 120);
  EXPECT_EQ(crossings(pipes(drawn(f.drawing))), 0);
}

TEST(NetworkDrawing, TwoLoopsHaveNoCrossings) { EXPECT_EQ(crossings(pipes(drawn(sample::two_loops()))), 0); }

TEST(NetworkDrawing, PipesAreLevelOrUpright) {
  auto const all = pipes(drawn(sample::tank_and_hot_water(4)));
  ASSERT_GT(all.size(), 50u);
  for (auto const& s : all)
    EXPECT_TRUE(std::abs(s.x1 - s.x2) < 0.05 || std::abs(s.y1 - s.y2) < 0.05) << s.x1 << " " << s.y1 << " to " << s.x2 << " " << s.y2;
}

TEST(NetworkDrawing, EveryPieceIsDrawnOnceByItsId) {
  auto const d = sample::close_tees(6);
  auto const svg = drawn(d);
  for (auto const& l : d.limbs) {
    auto const mark = "<g id=\"piece:" + l.id + "\">";
    auto const at = svg.find(mark);
    ASSERT_NE(at, std::string::npos) << l.id;
    EXPECT_EQ(svg.find(mark, at + 1), std::string::npos) << l.id;
  }
}

TEST(NetworkDrawing, LimbsOfOnePieceShareItsGroup) {
  sample::Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "a", "b");
  f.limb("plates", "exchanger", "hot side", "b", "a");
  f.limb("plates", "exchanger", "cold side", "c", "d");
  f.limb("tap", "pipe", "to the taps", "d", "c");
  auto const svg = drawn(f.drawing);
  EXPECT_EQ(svg.find("piece:plates"), svg.rfind("piece:plates"));
  EXPECT_NE(svg.find("hot side"), std::string::npos);
  EXPECT_NE(svg.find("cold side"), std::string::npos);
}

TEST(NetworkDrawing, BoilerIsLeftmostAndSupplyAboveReturn) {
  auto const d = sample::close_tees(4);
  auto const layout = lay_out(d);
  double supply = 0, back = 0;
  for (size_t l = 0; l < d.limbs.size(); ++l) {
    if (d.limbs[l].role != "boiler") { EXPECT_GT(layout.limbs[l].symbol.x, layout.limbs[0].symbol.x) << d.limbs[l].id; }
    if (d.limbs[l].id == "system/supply") supply = layout.limbs[l].symbol.y;
    if (d.limbs[l].id == "system/return") back = layout.limbs[l].symbol.y;
  }
  EXPECT_LT(supply, back);
}

TEST(NetworkDrawing, SymbolsKeepTheirDistance) {
  for (auto const& d : {sample::tank_and_hot_water(6), sample::floor_manifold(5), sample::reverse_return(6), sample::two_loops()}) {
    auto const layout = lay_out(d);
    for (size_t i = 0; i < d.limbs.size(); ++i) {
      for (size_t j = 0; j < i; ++j) {
        auto const& a = layout.limbs[i].symbol;
        auto const& b = layout.limbs[j].symbol;
        EXPECT_TRUE(std::abs(a.x - b.x) > 50 || std::abs(a.y - b.y) > 45) << d.limbs[i].id << " and " << d.limbs[j].id;
      }
    }
  }
}

TEST(NetworkDrawing, StillWaterIsDashedAndSaidInWords) {
  auto const svg = drawn(sample::direct(3));  // the third zone rests
  auto const bath = svg.find("piece:bath/supply"), next = svg.find("</g>", svg.find("</text>", bath));
  auto const part = svg.substr(bath, next - bath);
  EXPECT_NE(part.find("no flow"), std::string::npos);
  EXPECT_NE(part.find("pipe still"), std::string::npos);
  auto const rooms = svg.find("piece:bedrooms/supply");
  EXPECT_EQ(svg.substr(rooms, svg.find("</text>", rooms) - rooms).find("still"), std::string::npos);
}

TEST(NetworkDrawing, TemperatureAndFlowAreWrittenInTheUsersUnits) {
  sample::Pipefitter f;
  f.limb("boiler", "boiler", "boiler", "a", "b");
  f.limb("rest", "emitter", "radiator", "b", "a", "room");
  Moment const m{.time = 0, .words = "", .flow = {1e-3, 1e-3}, .temperature = {273.15 + 60, 273.15 + 40}};
  EXPECT_NE(draw_network(f.drawing, &m, UnitSystem::us).find("140\u00a0°F · 15.9\u00a0gpm"),
            std::string::npos);  // 60 °C; 1 L/s is 15.85 US gal/min
  EXPECT_NE(draw_network(f.drawing, &m, UnitSystem::si).find("60.0\u00a0°C · 1.000\u00a0L/s"), std::string::npos);
}

TEST(NetworkDrawing, HostileNamesAreEscaped) {
  sample::Pipefitter f;
  f.limb("b\"><script>", "boiler", "<b>&\"'", "a", "b", "z<z");
  f.limb("p", "pipe", "pipe", "b", "a");
  auto const svg = drawn(f.drawing);
  EXPECT_EQ(svg.find("<script"), std::string::npos);
  EXPECT_EQ(svg.find("<b>"), std::string::npos);
  EXPECT_NE(svg.find("&lt;b&gt;&amp;&quot;&#39;"), std::string::npos);
}

TEST(NetworkDrawing, OddGraphsAreDrawnToo) {
  sample::Pipefitter loop, dead, parts;
  loop.limb("ring", "pipe", "ring", "a", "a");
  dead.limb("boiler", "boiler", "boiler", "a", "b");
  dead.limb("rest", "emitter", "emitter", "b", "a");
  dead.limb("stub", "pipe", "dead leg", "b", "c");
  for (int i = 0; i < 3; ++i) {
    auto const n = std::to_string(i);
    parts.limb("p" + n, "circulator", "pump", "a" + n, "b" + n);
    parts.limb("q" + n, "pipe", "pipe", "b" + n, "a" + n);
  }
  for (auto const& d : {loop.drawing, dead.drawing, parts.drawing}) {
    auto const svg = drawn(d);
    for (auto const& l : d.limbs) EXPECT_NE(svg.find("piece:" + l.id), std::string::npos);
  }
  EXPECT_EQ(crossings(pipes(drawn(dead.drawing))), 0);
  EXPECT_NE(draw_network({}, nullptr, UnitSystem::us).find("<svg"), std::string::npos);
}

TEST(NetworkDrawing, MomentOfAnotherDrawingIsRefused) {
  auto const m = sample::moment_of(sample::direct(1));
  EXPECT_THROW(draw_network(sample::direct(2), &m, UnitSystem::us), InternalError);
}

TEST(WarmthScale, OklabHasWhiteAtOneAndNoColourInGreys) {  // Ottosson 2020: white is (1, 0, 0)
  auto const white = oklab({1, 1, 1});
  EXPECT_NEAR(white[0], 1, 1e-4);
  EXPECT_NEAR(white[1], 0, 1e-4);
  EXPECT_NEAR(white[2], 0, 1e-4);
}

TEST(WarmthScale, WarmerIsLighterInEvenSteps) {
  int const steps = 64;
  double const whole = oklab(warmth_colour(1))[0] - oklab(warmth_colour(0))[0];
  EXPECT_GT(whole, 0.45);
  for (int i = 0; i < steps; ++i) {
    double const step = oklab(warmth_colour((i + 1.) / steps))[0] - oklab(warmth_colour(double(i) / steps))[0];
    EXPECT_NEAR(step, whole / steps, 0.02 * whole / steps);  // a straight line in OKLab; 2 % for the border of sRGB
  }
}

}  // namespace
}  // namespace steadyfire

// Graphviz 2.43 does not give back some tables of its own (about 3 kB a layout) even
// after gvFreeLayout, agclose and gvFreeContext. Nothing of ours is allocated there.
extern "C" char const* __lsan_default_suppressions() { return "leak:libgvc.so\n"; }
