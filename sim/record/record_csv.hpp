#pragma once
/// A record as tables for a spreadsheet.

#include <array>
#include <functional>
#include <ostream>

#include "sim/record/record.hpp"
#include "sim/record/review_record.hpp"

namespace steadyfire {

/// The tables that a run may have.
inline constexpr std::array csv_tables{"series.csv", "events.csv", "zones.csv", "band.csv", "draws.csv", "burns.csv"};

/// Writes series.csv (the whole run: mean of each bin), events.csv, zones.csv, burns.csv, with assumptions tried band.csv and, with
/// taps, draws.csv, each to the stream that `table` gives for its name. SI, temperatures in degC; units in the headers; RFC 4180.
void write_csv(Record const&, UnitSystem, std::function<std::ostream&(std::string const& name)> const& table);

/// A table of a review. A column of numbers is followed by one of their units, in the units chosen; RFC 4180.
std::string to_csv(ReviewTable const&, UnitSystem);

/// A text as it stands in a cell: in quotes where it must (RFC 4180).
std::string csv_cell(std::string const&);

}  // namespace steadyfire
