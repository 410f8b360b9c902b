#include "models/weather/weather.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <random>

namespace steadyfire {

namespace {
constexpr double an_hour = 3600, a_day = 86400, ice = 273.15;
constexpr std::array days_in{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr int year_hours = 8760;

/// The two samples around a time and how far it is from the first to the second.
struct Between { double before, after, share; };

Between around(Weather const& w, double time) {
  double const place = (time - w.first) / w.step, whole = std::floor(place);
  double const n = double(w.dry_bulb.size());
  auto const i = std::size_t(whole - n * std::floor(whole / n));
  return {w.dry_bulb[i], w.dry_bulb[(i + 1) % w.dry_bulb.size()], place - whole};
}

/// cos of the daily turn, highest at the given hour.
double daily(double hours, double hour_of_maximum) { return std::cos(2 * std::numbers::pi * (hours - hour_of_maximum) / 24); }

/// Straight from mid-month to mid-month, December joined to January.
double seasonal(std::array<double, 12> const& months, double hours) {
  double middle = 0, end = 0;
  for (std::size_t m = 0; m < 12; ++m) {
    double const before = middle - (m == 0 ? 12. * days_in[11] : 0);
    middle = end + 12. * days_in[m], end += 24. * days_in[m];
    if (hours <= middle) return std::lerp(months[(m + 11) % 12], months[m], (hours - before) / (middle - before));
  }
  return std::lerp(months[11], months[0], (hours - middle) / (12. * (days_in[11] + days_in[0])));
}

/// Smooth noise over the year's hours with mean square one over many years: independent
/// draws every 60 h, joined by 3u² − 2u³.
std::vector<double> fronts(std::uint64_t seed) {
  constexpr int spacing = 60, knots = year_hours / spacing;
  static_assert(knots * spacing == year_hours, "the year's end joins its start");
  // The distributions of <random> differ between libraries, the generator does not:
  // twelve even draws from [0, 1) less six have mean 0, variance 1 and no far outliers.
  std::mt19937_64 generator{seed};
  std::array<double, knots> draw;
  for (double& d : draw) {
    d = -6;
    for (int i = 0; i < 12; ++i) d += double(generator() >> 11) * 0x1p-53;
  }
  std::vector<double> noise(year_hours);
  for (int h = 0; h < year_hours; ++h) {
    double const u = double(h % spacing) / spacing, s = u * u * (3 - 2 * u);
    // Between two draws the variance is (1 − s)² + s², on average ∫(1 − 2s + 2s²)du = 26/35.
    noise[h] = std::lerp(draw[h / spacing], draw[(h / spacing + 1) % knots], s) / std::sqrt(26 / 35.);
  }
  return noise;
}

/// Applies `use(month, day's first hour)` to each day of the year.
template <class Use>
void each_day(Use use) {
  for (int m = 0, h = 0; m < 12; ++m)
    for (int d = 0; d < days_in[m]; ++d, h += 24) use(m, h);
}
}  // namespace

double Weather::at(double time) const {
  auto const [before, after, share] = around(*this, time);
  return before + (after - before) * share;
}

double Weather::slope(double time) const {
  auto const [before, after, share] = around(*this, time);
  return (after - before) / step;
}

double Weather::next_knot(double time) const {
  if (dry_bulb.size() == 1) return std::numeric_limits<double>::infinity();
  double const knot = first + (std::floor((time - first) / step) + 1) * step;
  return knot > time ? knot : knot + step;
}

Weather constant_weather(double temperature) { return {.source = "constant", .first = 0, .step = a_day, .dry_bulb = {temperature}}; }

Weather daily_wave(double mean, double amplitude, double hour_of_maximum) {
  Weather wave{.source = "daily wave", .first = 0, .step = 600, .dry_bulb = std::vector<double>(144)};
  for (int i = 0; i < 144; ++i) wave.dry_bulb[i] = mean + amplitude * daily(i / 6., hour_of_maximum);
  return wave;
}

Weather invented_year(MonthlyNormals const& normals, std::uint64_t seed) {
  Weather year{.source = fmt::format("invented year {}", seed), .first = an_hour, .step = an_hour,
               .dry_bulb = std::vector<double>(year_hours)};
  auto const [coldest, warmest] = std::minmax_element(normals.mean.begin(), normals.mean.end());
  double const span = std::max(*warmest - *coldest, 1e-9);
  auto const noise = fronts(seed);
  auto mean = normals.mean, range = normals.daily_range;
  // What the year's months come to follows its mid-month values almost one to one, so
  // correcting these by what is left of the difference closes in: a third a pass or faster.
  for (int pass = 0; pass < 40; ++pass) {
    for (int h = 0; h < year_hours; ++h) {
      double const clock = h + 1;
      double const calm = 1 - 0.5 * (seasonal(normals.mean, clock) - *coldest) / span;
      year.dry_bulb[h] = seasonal(mean, clock) + 0.5 * seasonal(range, clock) * daily(clock, 15) + normals.front_swing * calm * noise[h];
    }
    std::array<double, 12> mean_now{}, range_now{};
    each_day([&](int m, int h) {
      auto const begin = year.dry_bulb.begin() + h;
      auto const [low, high] = std::minmax_element(begin, begin + 24);
      mean_now[m] += std::accumulate(begin, begin + 24, 0.) / (24. * days_in[m]);
      range_now[m] += (*high - *low) / days_in[m];
    });
    for (int m = 0; m < 12; ++m) {
      mean[m] += normals.mean[m] - mean_now[m];
      range[m] = std::max(0., range[m] + normals.daily_range[m] - range_now[m]);
    }
  }
  // Tenths hide what the mathematics libraries of two machines differ by.
  for (double& t : year.dry_bulb) t = std::round((t - ice) * 10) / 10 + ice;
  return year;
}

Weather cold_coast_year() {
  MonthlyNormals normals{.mean = {-6.0, -5.4, -0.8, 5.2, 10.8, 15.8, 19.4, 19.2, 15.2, 9.6, 4.0, -2.6},
                         .daily_range = {7.5, 7.8, 8.0, 8.6, 9.6, 9.8, 9.6, 9.4, 9.2, 8.4, 7.2, 7.0},
                         .front_swing = 6};
  for (double& t : normals.mean) t += ice;
  auto year = invented_year(normals, 1);
  year.source = "invented cold coast";
  return year;
}

WeatherStatistics statistics(Weather const& w) {
  auto sorted = w.dry_bulb;
  std::sort(sorted.begin(), sorted.end());
  auto const colder = [&](double share) {
    double const rank = share * double(sorted.size() - 1);
    auto const below = std::size_t(rank);
    return std::lerp(sorted[below], sorted[std::min(below + 1, sorted.size() - 1)], rank - double(below));
  };
  return {.min = sorted.front(),
          .max = sorted.back(),
          .mean = std::accumulate(sorted.begin(), sorted.end(), 0.) / double(sorted.size()),
          .cold_0_4_percent = colder(0.004),
          .cold_1_percent = colder(0.01),
          .degree_days_65F = degree_days(w, (65 + 459.67) / 1.8, DayTemperature::mean)};
}

double degree_days(Weather const& w, double base, DayTemperature rule) {
  auto const group = rule == DayTemperature::samples ? std::size_t{1} : std::max<std::size_t>(1, std::llround(a_day / w.step));
  double sum = 0;
  for (std::size_t i = 0; i < w.dry_bulb.size(); i += group) {
    auto const begin = w.dry_bulb.begin() + std::ptrdiff_t(i), end = begin + std::ptrdiff_t(std::min(group, w.dry_bulb.size() - i));
    auto const [low, high] = std::minmax_element(begin, end);
    double const count = double(end - begin);
    double const taken = rule == DayTemperature::mid_range ? (*low + *high) / 2 : std::accumulate(begin, end, 0.) / count;
    sum += std::max(0., base - taken) * count * w.step / a_day;
  }
  return sum;
}

double time_below(Weather const& w, double temperature) {
  return w.step * double(std::count_if(w.dry_bulb.begin(), w.dry_bulb.end(), [&](double t) { return t < temperature; }));
}

}  // namespace steadyfire
