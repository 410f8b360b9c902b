#pragma once
/// Outdoor weather: the dry-bulb temperature that a run meets, and what it amounts to.

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace steadyfire {

/// Dry-bulb temperature over time: samples at equal steps.
///
///   T(t) = T_i + (T_{i+1} − T_i)·(t − t_i)/step,   t_i = first + i·step,   T_{i+n} = T_i
///
/// Time 0 is the midnight that begins the first day, on local standard time. A sample
/// holds at the instant of its stamp: a year of stamps 01:00, 02:00 … 24:00 has `first` =
/// 3600 s, and its last sample, at 24:00, is also what time 0 meets.
///
/// Shape   n samples, n ≥ 1; repeats after n·step, whether that is a year or not, and runs
///         from the last sample to the first within one step.
/// Valid   `first` and `step` in whole seconds, so that knots are met exactly.
/// Errors  linear between samples: what a station did within the hour is not known.
struct Weather {
  std::string source;            ///< where it comes from, for reports
  double first = 0;              ///< time of sample 0 [s]
  double step = 3600;            ///< [s]
  std::vector<double> dry_bulb;  ///< [K]

  double at(double time) const;         ///< [K]
  double slope(double time) const;      ///< [K/s]; at a knot that of the step it begins
  double next_knot(double time) const;  ///< the next change of slope after `time` [s]; infinity for one sample
};

/// The same temperature [K] always.
Weather constant_weather(double temperature);

/// One day that repeats.
///
///   T(t) = mean + amplitude·cos(2π·(t − hour_of_maximum)/24 h)
///
/// Shape   mean [K], amplitude [K], hour of the day with the highest temperature [h].
/// Errors  sampled every 10 min: between samples off by amplitude/4200 at most.
Weather daily_wave(double mean, double amplitude, double hour_of_maximum);

/// What a climate table says of a place, January first.
struct MonthlyNormals {
  std::array<double, 12> mean;         ///< [K]
  std::array<double, 12> daily_range;  ///< mean of each day's highest less lowest hour [K]
  double front_swing = 5;              ///< standard deviation that passing fronts give the coldest month [K]
};

/// A year of hours that nobody measured: season, day and passing fronts.
///
///   T = M(t) + ½·R(t)·cos(2π·(t − 15 h)/24 h) + F(t)
///
/// M and R run straight from mid-month to mid-month and are set so that the year's own
/// monthly means and daily ranges are the normals. F is smooth noise, drawn anew every
/// 60 h, half as strong in the warmest month as in the coldest.
///
/// Shape   8760 hours stamped 01:00 … 24:00, in tenths of a degree Celsius as stations report;
///         one seed gives the same year on every machine.
/// Valid   a plausible year for trying controls; no statement about any place. Extremes
///         follow from `front_swing`, not from records. A daily range below what the
///         fronts alone make is not reached.
/// Errors  monthly means within 0.02 K and daily ranges within 0.1 K of the normals.
/// Source  of our own; 60 h and the half were read off the day-to-day swings (correlation
///         0.6 to 0.8 after one day, 0.2 to 0.5 after two) of two measured typical years.
Weather invented_year(MonthlyNormals const&, std::uint64_t seed);

/// The shipped year, scenarios/weather/invented_cold_coast.csv: a cold coast with warm
/// summers, 1 % of its hours colder than about −15 °C.
Weather cold_coast_year();

/// What a weather amounts to.
struct WeatherStatistics {
  double min, max, mean;     ///< [K]
  double cold_0_4_percent;   ///< 0.4 % of the samples are colder [K]
  double cold_1_percent;     ///< 1 % of the samples are colder: the usual design temperature [K]
  double degree_days_65F;    ///< heating degree-days below 65 °F from daily means [K·d]
};

/// Percentiles run straight between neighbours in rank.
WeatherStatistics statistics(Weather const&);

/// What a day is taken for when degree-days are counted. The choice moves the sum by 2 to 3 %.
enum class DayTemperature {
  samples,    ///< each sample counts alone: degree-hours over 24
  mean,       ///< the mean of the day's samples
  mid_range,  ///< half the sum of the day's highest and lowest sample
};

/// Heating degree-days [K·d]: the sum of max(0, base − T) over the weather's own length.
///
/// `base` [K] is the balance point: indoor temperature less gains over the heat-loss
/// coefficient. A day is 24 h of samples counted from the first.
double degree_days(Weather const&, double base, DayTemperature);

/// Time that the samples are below `temperature` [K] in the weather's length [s].
double time_below(Weather const&, double temperature);

}  // namespace steadyfire
