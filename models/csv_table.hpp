#pragma once
/// Tables of comma-separated values as users hand them in: cells with their places, and
/// faults told so that they can be mended.

#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {

struct CsvCell { std::string text; Position at; };
using CsvRow = std::vector<CsvCell>;

/// The text of a file. Errors: BadInput (E301) where there is none to be read.
std::string read_table(std::filesystem::path const& file);

/// Splits text into rows of cells with their places; false from `use` ends it.
///
/// Errors  the place where quotes stop making sense, if they do.
std::optional<Position> each_row(std::string_view text, char separator, std::function<bool(CsvRow const&)> const& use);

/// A number and nothing besides.
std::optional<double> read_number(std::string const& text);

/// "1 row", "2 rows".
std::string plural(long long n, std::string_view one, std::string_view many);

/// The first fault of each sort in a table, and how many are like it: a table of 8760 rows may hold as many faults.
class TableFaults {
 public:
  /// Both are held by reference.
  TableFaults(std::string const& file, std::string_view text) : file_{file}, text_{text} {}
  /// `column`: where a fault in another column is a sort of its own.
  void add(Diagnostic, std::string const& column = "");
  bool empty() const { return faults_.empty(); }
  /// Errors  BadInput with all faults, if there are any.
  void refuse(bool show_lines = true) const;

 private:
  struct Fault { Diagnostic first; int count; };
  std::string const& file_;
  std::string_view text_;
  std::map<std::pair<std::string, std::string>, Fault> faults_;  ///< by code and column
};

/// Spreadsheets in binary form and text of two bytes a character hold control bytes. Errors: BadInput (E302).
void refuse_control_bytes(std::string_view text, TableFaults&);

/// Which column is headed so. Errors: adds E303 where none is (0 then), E304 where two are.
std::size_t find_column(CsvRow const& headings, std::string const& wanted, int heading_row, TableFaults&);

}  // namespace steadyfire
