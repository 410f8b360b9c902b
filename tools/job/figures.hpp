#pragma once
/// The figures by which runs are compared, kept and judged: each has one name, one measure and one better side everywhere.

#include <span>
#include <string>
#include <vector>

#include "sim/record/record.hpp"

namespace steadyfire {

enum class Better { lower, higher, neither };

/// Shape  `key` is for files and options, `name` for readers. `of` gives SI; NaN where the run has nothing to tell.
template <class Of>
struct FigureOf {
  std::string_view key, name;
  Measure measure;
  Better better;
  double (*of)(Of const&);
  std::string_view help;
  std::string_view heading{};  ///< of CSV columns, where their first format had other words than `name` has now
};
/// Of a whole run.
using RunFigure = FigureOf<Record>;
std::span<RunFigure const> figures();

/// Of one zone; its full key is "ZONE.KEY", as "bath.mean_room".
using ZoneFigure = FigureOf<ZoneRecord>;
std::span<ZoneFigure const> zone_figures();

/// A figure that somebody asked for, of the run or of one zone.
struct AskedFigure {
  std::string heading{};  ///< of its CSV column
  std::string key, name;  ///< "most_in_one_hour", "starts in the worst hour"; "bath.mean_room", "bath: average room"
  Measure measure = measure::plain;
  Better better = Better::neither;
  /// NaN where the run has nothing to tell, as a burn when none ended. Errors: InternalError for a run without the zone.
  double of(Record const&) const;

 private:
  friend std::vector<AskedFigure> all_figures(std::span<std::string const>);
  RunFigure const* whole_ = nullptr;
  ZoneFigure const* of_zone_ = nullptr;
  std::string zone_;
};
/// Those of the run, then those of each zone.
std::vector<AskedFigure> all_figures(std::span<std::string const> zones);

/// A figure with its value, as cards and tables show it; two runs are compared by `key`.
struct KeyFigure {
  std::string key, name;
  double value;
  Measure measure;
};
/// In the order in which a trainer asks for them.
std::vector<KeyFigure> key_figures(Record const&);

}  // namespace steadyfire
