/// What a recirculation loop loses, and the tank that feeds taps against the one with draws of its own.

#include <gtest/gtest.h>

#include "models/emitters/potable_tank.hpp"
#include "models/pipe.hpp"
#include "tests/models/stand.hpp"

namespace steadyfire {
namespace {

/// Closed form: 60 m that lose 0.243 W/(m·K) at 57.5 °C in 20 °C lose 547 W; with 5 K of drop that is 0.02616 kg/s, 0.421 gpm.
TEST(Recirculation, ALoopLosesWhatItsPipeLoses) {
  auto const stand = [](double conductivity) {
    static Kind const kinds[]{kind<Pipe>()};
    StandBuilder b{kinds};
    b.water_at(celsius(57.5)).add("pipe", "loop", {"a", "b"},
                                  {{"length", 60.0}, {"size", "3/4 in copper M"}, {"insulation", 0.0127}, {"cells", 40.0},
                                   {"insulation_conductivity", conductivity}});
    return b.build();
  };
  auto const loss_per_metre = [](double conductivity) {
    Pipe p{};
    p.length = {60}, p.size = "3/4 in copper M", p.insulation = {0.0127}, p.insulation_conductivity = {conductivity};
    p.diameter = {std::nan("")}, p.cell_count = 40;
    p.prepare();
    return p.loss_per_metre;
  };
  double low = 0.01, high = 1;
  for (int i = 0; i < 60; ++i) (loss_per_metre((low + high) / 2) < 0.243 ? low : high) = (low + high) / 2;
  auto s = stand(low);
  s.hold(s.joint("a"), celsius(60)), s[given::unheated] = celsius(20);
  s.flow("loop", 0.02616);
  s.steady();
  EXPECT_NEAR(s[s.joint("a")] - s[s.joint("b")], 5, 0.05);
  EXPECT_NEAR(s.into(account::piping), 547, 0.01 * 547);
  EXPECT_NEAR(0.02616 / Water{}.at(celsius(57.5)).density / unit::gpm.scale, 0.421, 0.001);
}

/// The same draw through a way of its own, or told as a draw: the same layers.
TEST(PotableTank, CoolsAsTheTankWithDraws) {
  static Kind const kinds[]{kind<IndirectTank>(), kind<PotableTank>()};
  double const q = 3e-5;  // [m³/s] 0.48 gpm
  std::vector<Setting> const alike{{"volume", 0.15}, {"layers", 8.0}, {"setting", celsius(54.4)}, {"start", celsius(52)}};
  auto with = [&](char const* name, std::vector<std::string> ports) {
    StandBuilder b{kinds};
    auto settings = alike;
    bool const plain = ports.size() == 2;
    if (plain) settings.push_back({"cold_water", celsius(10)});
    b.add(name, "tank", std::move(ports), settings);
    if (plain) b.list("draws", {q});
    return b.build();
  };
  auto a = with("indirect tank", {"in", "out"}), b = with("potable tank", {"in", "out", "cold", "hot"});
  for (auto* s : {&a, &b}) {
    s->hold(s->joint("in"), celsius(70)), s->flow("tank", 0.3), s->mode("tank", 1), (*s)[given::unheated] = celsius(15);
  }
  b.hold(b.joint("cold"), celsius(10));
  b.state.flow[1] = IndirectTank::heat_per_volume * q / b.plan.fluid.heat_capacity;
  for (auto* s : {&a, &b}) s->advance(3600, 400);
  for (int i = 0; i < 8; ++i) EXPECT_NEAR(a[a.own("tank", i)], b[b.own("tank", i)], 1e-6) << i;
  EXPECT_NEAR(b[b.joint("hot")], b[b.own("tank")], 1e-3) << "the top layer leaves";
  EXPECT_LT(b[b.own("tank", 7)], celsius(40));
}

}  // namespace
}  // namespace steadyfire
