#include "models/hot_water/family_days.hpp"

#include <algorithm>
#include <random>

#include "sim/core/quantity.hpp"

namespace steadyfire {
namespace {

/// The engine is the same everywhere, the distributions of the standard library are not: so our own.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_{seed} {}
  double unit() { return double(engine_() >> 11) * 0x1p-53; }  ///< [0, 1)
  bool happens(double probability) { return unit() < probability; }
  /// An hour of the day by weights, and a place within it [s].
  double time(std::array<int, 24> const& weights) {
    int sum = 0;
    for (int const w : weights) sum += w;
    double left = unit() * sum;
    int hour = 0;
    while (left >= weights[hour]) left -= weights[hour++];
    return 3600 * (hour + unit());
  }

 private:
  std::mt19937_64 engine_;
};

struct Habit {
  double share;     // of a person's water
  int chances;      // a day
  double probability;
  double temperature;  // °F
  std::array<int, 24> hours;
};

// Midnight first.
constexpr std::array<Habit, fixtures> habits{
    Habit{0.55, 1, 0.75, 105, {0, 0, 0, 0, 0, 1, 6, 8, 5, 2, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 3, 4, 3, 1}},
    Habit{0.10, 1, 0.10, 105, {0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 0, 0, 0, 0, 0, 1, 2, 3, 5, 6, 5, 2, 0}},
    Habit{0.20, 4, 0.75, 110, {0, 0, 0, 0, 0, 1, 4, 6, 5, 3, 2, 3, 6, 5, 2, 2, 3, 6, 8, 7, 4, 2, 1, 0}},
    Habit{0.15, 8, 0.75, 100, {1, 0, 0, 0, 0, 1, 6, 8, 6, 3, 2, 2, 4, 3, 2, 2, 3, 4, 5, 4, 4, 6, 5, 2}}};

}  // namespace

std::vector<FixtureDraw> family_days(Family const& family, int days) {
  Dice dice{family.seed};
  std::vector<FixtureDraw> all;
  for (int day = 0; day < days; ++day)
    for (int person = 0; person < family.people; ++person)
      for (int f = 0; f < fixtures; ++f) {
        auto const& habit = habits[f];
        double const mean = habit.share * family.water / (habit.chances * habit.probability);
        for (int chance = 0; chance < habit.chances; ++chance) {
          if (!dice.happens(habit.probability)) continue;
          double const start = 86400. * day + dice.time(habit.hours);
          all.push_back({Fixture(f), {start, family.flow[f], unit::degF.to_si(habit.temperature), mean * (0.5 + dice.unit())}});
        }
      }
  std::stable_sort(all.begin(), all.end(), [](auto const& a, auto const& b) { return a.draw.start < b.draw.start; });
  return all;
}

}  // namespace steadyfire
