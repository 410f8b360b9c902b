#pragma once
/// A record as tables for a spreadsheet.

#include <filesystem>

#include "sim/record/record.hpp"
#include "sim/record/review_record.hpp"

namespace steadyfire {

/// Writes series.csv (the whole run: mean of each bin), events.csv, zones.csv, burns.csv and, with taps, draws.csv into
/// a folder, which is made if need be. SI, temperatures in degC; units in the headers; RFC 4180.
///
/// Errors  std::filesystem::filesystem_error or std::ios_base::failure where it cannot write.
void write_csv(Record const&, std::filesystem::path const& folder, UnitSystem);

/// A table of a review. A column of numbers is followed by one of their units, in the units chosen; RFC 4180.
std::string to_csv(ReviewTable const&, UnitSystem);

/// A text as it stands in a cell: in quotes where it must (RFC 4180).
std::string csv_cell(std::string const&);

}  // namespace steadyfire
