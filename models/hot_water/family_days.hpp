#pragma once
/// Random days of a family, the same from the same seed on every machine.

#include <array>
#include <cstdint>
#include <vector>

#include "models/hot_water/draw.hpp"

namespace steadyfire {

enum class Fixture { shower, bath, kitchen, basin };
inline constexpr int fixtures = 4;

/// What each of a family wants.
struct Family {
  int people = 4;
  double water = 0;                     ///< [m³] a person and day, mixed, at the taps
  std::array<double, fixtures> flow{};  ///< [m³/s] of each fixture
  std::uint64_t seed = 1;
};

struct FixtureDraw { Fixture fixture; Draw draw; };

/// Draws of a number of days from a midnight on, in order of their starts.
///
/// Each person showers on three days of four, bathes on one of ten, and on a mean day stands six times at a basin and
/// three times in the kitchen; 55, 10, 15 and 20 % of the water go there. Hours are drawn with morning, noon and evening
/// peaks, volumes evenly between half and one and a half times their mean: common practice, no source.
///
/// Shape   the mean volume a person and day is `water`; showers and baths at 105 °F, kitchen 110 °F, basin 100 °F.
///         Draws of one fixture may overlap: a house may have several.
/// Valid   washing machines and dishwashers that fill with hot water are not among them.
std::vector<FixtureDraw> family_days(Family const&, int days);

}  // namespace steadyfire
