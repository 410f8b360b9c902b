#include "models/csv_table.hpp"

// libcsv, not libfccp-dev's reader: the latter fixes the number of columns when compiled,
// keeps the headings it met to itself (so no nearest heading can be named) and does not say
// where in a line a cell stood. libcsv hands over every cell as soon as its last byte is
// fed, so that feeding byte by byte gives line and column.
#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <locale>
#include <sstream>

#include "sim/core/files.hpp"
#include "sim/core/text.hpp"

namespace steadyfire {

std::string read_table(std::filesystem::path const& file) {
  try {
    return read_file(file);
  } catch (NoFile const& e) {
    Diagnostics missing;
    missing.add({"E301", {}, e.what(), "a CSV file (comma-separated values)", "check the file name and folder"});
    throw BadInput{missing, file.string(), ""};
  }
}

std::optional<Position> each_row(std::string_view text, char separator, std::function<bool(CsvRow const&)> const& use) {
  struct Parser : csv_parser {
    CsvRow row;
    Position begin{};  // of the cell being read; line 0: not begun
    Position here{.line = 1, .column = 1};
    bool row_done = false;
    Parser() {
      if (csv_init(this, CSV_STRICT | CSV_STRICT_FINI) != 0) throw InternalError{"libcsv does not start"};
    }
    ~Parser() { csv_free(this); }
    Parser(Parser const&) = delete;
  } parser;
  csv_set_delim(&parser, static_cast<unsigned char>(separator));
  auto const cell_done = [](void* text, std::size_t size, void* data) {
    auto& p = *static_cast<Parser*>(data);
    Position at = p.begin.line > 0 ? p.begin : p.here;
    at.length = std::max(1, int(size));
    p.row.push_back({{static_cast<char const*>(text), size}, at});
    p.begin = {};
  };
  auto const row_done = [](int, void* data) { static_cast<Parser*>(data)->row_done = true; };
  for (char const c : text) {
    bool const blank = c == separator || c == ' ' || c == '\t' || c == '\r' || c == '\n';
    if (parser.begin.line == 0 && !blank) parser.begin = parser.here;
    if (csv_parse(&parser, &c, 1, cell_done, row_done, &parser) != 1) return parser.here;
    if (parser.row_done) {
      if (!use(parser.row)) return {};
      parser.row.clear(), parser.row_done = false;
    }
    if (c == '\n') ++parser.here.line, parser.here.column = 1;
    else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++parser.here.column;  // columns count characters
  }
  if (csv_fini(&parser, cell_done, row_done, &parser) != 0) return parser.begin;
  if (parser.row_done) use(parser.row);
  return {};
}

namespace {
/// Of digits with a point among them, as nearly every cell has them: a whole number below 2^53 over a power of ten that is exact, so
/// that the one rounding is the right one.
std::optional<double> read_plain_number(std::string_view text) {
  static constexpr std::array powers{1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  bool const is_negative = text.starts_with('-');
  text.remove_prefix(is_negative || text.starts_with('+') ? 1 : 0);
  auto const point = std::min(text.find('.'), text.size());
  bool const has_point = point < text.size();
  if (point == 0 || text.size() == point + 1 || text.size() >= powers.size() + (has_point ? 1 : 0)) return {};
  double whole = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i == point) continue;
    if (text[i] < '0' || text[i] > '9') return {};
    whole = 10 * whole + (text[i] - '0');
  }
  double const value = point == text.size() ? whole : whole / powers[text.size() - point - 1];
  return is_negative ? -value : value;
}
}  // namespace

// libc++ 13, which compiles this for browsers, has no from_chars for it.
std::optional<double> read_number(std::string const& text) {
  if (auto const plain = read_plain_number(text)) return plain;
  std::istringstream in{text};
  in.imbue(std::locale::classic());
  double value = 0;
  return in >> std::noskipws >> value && in.peek() == std::istringstream::traits_type::eof() ? std::optional{value} : std::nullopt;
}

std::string plural(long long n, std::string_view one, std::string_view many) { return fmt::format("{} {}", n, n == 1 ? one : many); }

void TableFaults::add(Diagnostic d, std::string const& column) {
  std::pair const sort{d.code, column};
  auto const [known, is_new] = faults_.try_emplace(sort, Fault{std::move(d), 1});
  if (!is_new) ++known->second.count;
}

void TableFaults::refuse(bool show_lines) const {
  if (faults_.empty()) return;
  Diagnostics all;
  for (auto [sort, f] : faults_) {
    auto const more = f.count - 1;
    if (more > 0)
      f.first.message +=
          fmt::format(" (and {})", sort.first == "E303" ? fmt::format("{} more", more) : plural(more, "more row", "more rows"));
    all.add(f.first);
  }
  throw BadInput{all, file_, show_lines ? std::string{text_} : ""};
}

void refuse_control_bytes(std::string_view text, TableFaults& faults) {
  Position at{.line = 1, .column = 1};
  for (char const c : text) {
    if ((static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\r' && c != '\n') || c == 0x7F) {
      faults.add({"E302", at, fmt::format("byte {:#04x} is not text", static_cast<unsigned char>(c)),
                  "a CSV file (comma-separated values)", "save it as CSV in UTF-8"});
      faults.refuse(false);  // such bytes are nothing for a terminal
    }
    if (c == '\n') ++at.line, at.column = 1;
    else if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++at.column;
  }
  if (is_utf8(text)) return;
  auto const good = text.substr(0, utf8_bytes(text)), line = good.substr(good.rfind('\n') + 1);
  at = {.line = 1 + int(std::count(good.begin(), good.end(), '\n')), .column = 1 + int(count_characters(line))};
  faults.add({"E302", at, fmt::format("byte {:#04x} is not UTF-8 text", static_cast<unsigned char>(text[good.size()])),
              "a CSV file (comma-separated values)", "save it as CSV in UTF-8"});
  faults.refuse(false);
}

std::size_t find_column(CsvRow const& headings, std::string const& wanted, int heading_row, TableFaults& faults) {
  auto const is_wanted = [&](CsvCell const& c) { return c.text == wanted; };
  auto const found = std::find_if(headings.begin(), headings.end(), is_wanted);
  if (found == headings.end()) {
    std::vector<std::string> known;
    for (auto const& cell : headings) known.push_back(cell.text);
    auto const near = nearest(wanted, known);
    auto const place = near.empty() ? 0 : std::find(known.begin(), known.end(), near) - known.begin();
    known.resize(std::min<std::size_t>(known.size(), 8));
    faults.add({"E303", headings[std::size_t(place)].at, fmt::format("no column with the heading '{}'", wanted),
                fmt::format("that heading in row {}", heading_row),
                known.size() == 1 && known[0].find_first_of(";\t") != std::string::npos
                    ? "export with commas between cells and points for decimals"
                : near.empty() ? fmt::format("the first headings are '{}'", fmt::join(known, "', '"))
                               : fmt::format("the file has '{}': check this column", near)});
    return 0;
  }
  if (auto const again = std::find_if(found + 1, headings.end(), is_wanted); again != headings.end())
    faults.add({"E304", again->at, fmt::format("two columns have the heading '{}'", wanted), "one such column",
        "rename one of them", found->at});
  return std::size_t(found - headings.begin());
}

}  // namespace steadyfire
