#include "models/fittings.hpp"

#include <algorithm>
#include <cmath>
#include <span>

#include "models/pipe_sizes.hpp"

namespace steadyfire {

namespace {

constexpr double absent = -1;

struct FittingRow { std::string_view fitting; std::array<double, nominal_sizes.size()> by_size; };

constexpr std::array screwed{
    FittingRow{"elbow", {2.1, 1.7, 1.5, 1.3, 1.2, 1.0}},
    FittingRow{"elbow 45", {0.36, 0.35, 0.33, 0.32, 0.31, 0.30}},
    FittingRow{"tee through", {0.90, 0.90, 0.90, 0.90, 0.90, 0.90}},
    FittingRow{"tee branch", {2.4, 2.1, 1.9, 1.7, 1.6, 1.4}},
    FittingRow{"globe valve", {14, 10, 8.7, 8.0, 7.5, 6.9}},
    FittingRow{"gate valve", {0.32, 0.28, 0.24, 0.22, 0.20, 0.17}},
};

constexpr std::array equivalent_feet{
    FittingRow{"elbow", {0.5, 1, 1, 2, 2, 2}},
    FittingRow{"elbow 45", {0.5, 0.5, 1, 1, 2, 2}},
    FittingRow{"tee through", {0.5, 0.5, 0.5, 0.5, 1, 1}},
    FittingRow{"tee branch", {1, 2, 3, 4, 5, 7}},
    FittingRow{"cast elbow", {1, 2, 4, 5, 8, 11}},
    FittingRow{"cast elbow 45", {0.5, 1, 2, 2, 3, 5}},
    FittingRow{"cast tee branch", {2, 3, 5, 7, 9, 12}},
    FittingRow{"globe valve", {absent, absent, absent, 53, 66, 90}},
    FittingRow{"gate valve", {absent, absent, 1, 1, 2, 2}},
};

// Of any size and either source: pump handbook; the exit loses its whole velocity head.
struct Plain { std::string_view fitting; double k; };
constexpr std::array of_any_size{Plain{"inlet square", 0.5}, Plain{"inlet bell-mouth", 0.05}, Plain{"inlet inward", 1.0},
                                  Plain{"exit", 1.0}};

std::span<FittingRow const> table(FittingSource source) {
  if (source == FittingSource::screwed) return screwed;
  return equivalent_feet;
}

}  // namespace

std::optional<double> fitting_k(FittingSource source, std::string_view fitting, std::string_view nominal, double friction_factor,
                                double diameter) {
  for (auto const& [name, k] : of_any_size)
    if (name == fitting) return k;
  auto const size = std::find(nominal_sizes.begin(), nominal_sizes.end(), nominal) - nominal_sizes.begin();
  if (size == std::ssize(nominal_sizes)) return std::nullopt;
  for (auto const& [name, by_size] : table(source)) {
    if (name != fitting) continue;
    double const listed = by_size[std::size_t(size)];
    if (listed == absent) return std::nullopt;
    return source == FittingSource::screwed ? listed : friction_factor * listed * 0.3048 / diameter;
  }
  return std::nullopt;
}

std::optional<double> fitting_k(FittingSource source, std::string_view fitting, double diameter) {
  std::string_view nearest;
  double least = HUGE_VAL;
  for (auto nominal : nominal_sizes) {
    double const off = std::abs(find_pipe_size(std::string{nominal} + " in copper M")->inside_diameter - diameter);
    if (off < least) least = off, nearest = nominal;
  }
  return fitting_k(source, fitting, nearest, colebrook(3e4, 1.5e-6 / diameter).value, diameter);
}

std::vector<std::string> fitting_names(FittingSource source) {
  std::vector<std::string> names;
  for (auto const& row : table(source)) names.emplace_back(row.fitting);
  for (auto const& row : of_any_size) names.emplace_back(row.fitting);
  return names;
}

}  // namespace steadyfire
