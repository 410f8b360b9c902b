#pragma once
/// Weather read from tables of comma-separated values.

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "models/weather/weather.hpp"
#include "sim/core/quantity.hpp"

namespace steadyfire {

/// Where a table keeps time and dry-bulb temperature, and how it writes them.
struct WeatherColumns {
  std::string time;                                 ///< heading of the time stamps
  std::string clock{};                              ///< heading of the clock time where dates stand apart, else ""
  std::string dry_bulb{};                           ///< heading of the temperatures
  std::string stamp_format = "%Y-%m-%dT%H:%M";      ///< std::get_time's; "date clock" where both are given
  AnyUnit unit = unit::degC;                        ///< of the temperatures: a point on a scale
  int heading_row = 1;                              ///< the row of headings, blank rows not counted
  int step = 3600;                                  ///< between rows [s]
  bool typical_year = false;                        ///< months of different years in 365 days: years do not count
  std::vector<double> missing{-9900, -9999};        ///< numbers that stand for "not measured"
  char separator = ',';
};

/// A typical year in TMY3 form: a row on the station, a row of headings, then hours stamped
/// MM/DD/YYYY and 01:00 … 24:00. Its months come from different years.
WeatherColumns tmy3_columns();

/// Reads a table of equal steps.
///
/// A row's temperature holds at the row's stamp; time 0 is the midnight before the first
/// stamp (at or before it). 24:00 is the next day's midnight. A time zone behind the stamp
/// is ignored: stamps are taken as local standard time, without daylight saving.
///
/// Shape   the last table read is remembered with its text, and not parsed again while that is the same; from any thread.
/// Valid   a day of rows at least, in order, without gaps. Nothing is filled in.
/// Errors  BadInput with the first fault of each sort and how many there are: E301 to E314.
///         A unit is wrong by evidence only: values outside −90 to 60 °C are refused, degrees
///         Celsius read as Fahrenheit may pass.
Weather read_weather(std::filesystem::path const& file, WeatherColumns const&);

/// The same from text; `file` is what messages call it.
Weather parse_weather(std::string_view text, std::string const& file, WeatherColumns const&);

/// A year of hours stamped 01:00 … 24:00 in TMY3 form, dry bulb alone, in tenths of °C.
std::string as_tmy3(Weather const& year, std::string_view station);

}  // namespace steadyfire
