#include "sim/core/units.hpp"

#include <udunits2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <locale>
#include <map>
#include <memory>
#include <mutex>
#include <regex>
#include <sstream>

#include "sim/core/diagnostic.hpp"
#include "sim/core/measure.hpp"
#include "sim/core/si_unit.hpp"
#include "sim/core/unit_table.hpp"

namespace steadyfire {

namespace {
struct FreeUnit { void operator()(ut_unit* u) const { ut_free(u); } };
using UnitHandle = std::unique_ptr<ut_unit, FreeUnit>;

/// What UDUNITS tells of a unit: value in base units = scale·(written + origin).
struct Composition {
  std::array<ut_unit const*, 5> base;
  Dimension dimension{};
  double scale = 1, origin = 0;
  int* power_of(ut_unit const* basic) {
    std::array<int*, 5> const powers{&dimension.m, &dimension.kg, &dimension.s, &dimension.K, &dimension.money};
    for (std::size_t i = 0; i < base.size(); ++i)
      if (ut_compare(base[i], basic) == 0) return powers[i];
    throw InternalError("an unknown base unit");
  }
};

ut_status visit_basic(ut_unit const* unit, void* to) {
  ++*static_cast<Composition*>(to)->power_of(unit);
  return UT_SUCCESS;
}
ut_status visit_product(ut_unit const*, int count, ut_unit const* const* basics, int const* powers, void* to) {
  for (int i = 0; i < count; ++i) *static_cast<Composition*>(to)->power_of(basics[i]) += powers[i];
  return UT_SUCCESS;
}
ut_status visit_scaled(ut_unit const*, double scale, ut_unit const* below, double origin, void* to);
ut_status visit_timestamp(ut_unit const*, ut_unit const*, double, void*) { return UT_MEANINGLESS; }
ut_status visit_logarithmic(ut_unit const*, double, ut_unit const*, void*) { return UT_MEANINGLESS; }
ut_visitor const visitor{visit_basic, visit_product, visit_scaled, visit_timestamp, visit_logarithmic};
ut_status visit_scaled(ut_unit const*, double scale, ut_unit const* below, double origin, void* to) {
  auto& c = *static_cast<Composition*>(to);
  c.scale *= scale, c.origin = origin;
  return ut_accept_visitor(below, &visitor, to);
}

/// UDUNITS reads numbers, offsets and times in a unit too; here a digit is an exponent
/// or the 1 of "1/h", so that "gpm 5" is no unit.
bool is_plain_unit(std::string const& s) {
  static std::regex const digit_alone{R"((^|[^A-Za-z0-9)^-])([02-9]|1(?!/))|(^|[^A-Za-z0-9^)])-|[A-Za-z)]-?1/|[@,;"'+])"};
  int open = 0;  // UDUNITS overlooks a bracket that closes nothing
  for (char c : s)
    if (c == '(') ++open;
    else if (c == ')' && --open < 0) return false;
  return !std::regex_search(s, digit_alone);
}

std::string in_one_word(std::string s) {
  for (auto const& [phrase, word] : unit_table::phrases)
    for (std::size_t at = 0; (at = s.find(phrase, at)) != std::string::npos; at += word.size()) s.replace(at, phrase.size(), word);
  return s.starts_with('/') ? "1" + s : s;
}

/// The unit system. UDUNITS' parser keeps its state in globals, hence one lock.
class Units {
 public:
  static Units& instance() {
    static Units units;
    return units;
  }
  std::optional<AnyUnit> find(std::string_view symbol) {
    std::scoped_lock const lock{mutex_};
    if (auto const known = cache_.find(symbol); known != cache_.end()) return known->second;
    auto const expression = in_one_word(std::string(symbol));
    if (expression.empty() || expression == "1" || !is_plain_unit(expression)) return {};
    UnitHandle const parsed{ut_parse(system_.get(), expression.c_str(), UT_UTF8)};
    Composition c{{base_[0].get(), base_[1].get(), base_[2].get(), base_[3].get(), base_[4].get()}};
    if (!parsed || ut_accept_visitor(parsed.get(), &visitor, &c) != UT_SUCCESS) return {};
    if (!(c.scale > 0) || !std::isfinite(c.scale)) return {};
    AnyUnit unit{unit::one};
    unit.dimension = c.dimension, unit.scale = c.scale, unit.offset = c.scale * c.origin;
    auto const kept = cache_.emplace(std::string(symbol), unit).first;
    kept->second.symbol = kept->first;  // a view of the key: the map never moves or drops it
    return kept->second;
  }

 private:
  Units() {
    ut_set_error_message_handler(ut_ignore);
    constexpr std::array names{"m", "kg", "s", "K", "money"};
    for (std::size_t i = 0; i < names.size(); ++i) {
      base_[i].reset(ut_new_base_unit(system_.get()));
      must(ut_map_symbol_to_unit(names[i], UT_UTF8, base_[i].get()), names[i]);
    }
    for (auto const& d : unit_table::si) define(d, ut_map_symbol_to_unit);
    for (auto const& d : unit_table::trade) define(d, ut_map_name_to_unit);
  }
  void define(unit_table::Definition const& d, decltype(&ut_map_name_to_unit) map) {
    UnitHandle const unit{ut_parse(system_.get(), std::string(d.meaning).c_str(), UT_UTF8)};
    if (!unit) throw InternalError("a unit table line cannot be parsed: " + std::string(d.meaning));
    std::istringstream spellings{std::string(d.spellings)};
    for (std::string s; spellings >> s;) must(map(s.c_str(), UT_UTF8, unit.get()), s);
  }
  static void must(ut_status status, std::string const& symbol) {
    if (status != UT_SUCCESS) throw InternalError("the unit " + symbol + " cannot be defined");
  }

  struct FreeSystem { void operator()(ut_system* s) const { ut_free_system(s); } };
  std::mutex mutex_;
  std::unique_ptr<ut_system, FreeSystem> system_{ut_new_system()};
  std::array<UnitHandle, 5> base_;
  std::map<std::string, AnyUnit, std::less<>> cache_;
};

double to_double(std::string const& digits) {
  std::istringstream in{digits};
  in.imbue(std::locale::classic());
  double x = 0;
  return in >> x ? x : std::nan("");
}

double fraction(std::ssub_match const& whole, std::ssub_match const& above, std::ssub_match const& below) {
  return (whole.matched ? to_double(whole) : 0) + to_double(above) / to_double(below);
}

/// "12.5 gpm", "1/2 in", "1-1/4 in", "$1.20/therm", "50 ft 6 in" taken apart; empty if no number leads.
struct Parts { double number; std::string digits, symbol; };

/// "50 ft 6 in", "50' 6 1/2\"", "40'", "6\"": lengths as they are read off a tape, in feet where both are given.
/// Valid   inches below 12 beside feet.
std::optional<Parts> off_the_tape(std::string const& text) {
  static std::regex const shape{R"(\s*([+-]?)(?:(\d+\.?\d*) ?(?:ft\.?|foot|feet|')[ -]*)?)"
                                R"((?:(?:(?:(\d+)[- ])?(\d+)/(\d+)|(\d+\.?\d*|\.\d+)) ?(in\.?|inch|inches|"|''))?\s*)"};
  std::smatch found;
  if (!std::regex_match(text, found, shape)) return {};
  bool const has_feet = found[2].matched, has_inches = found[7].matched, has_marks = text.find_first_of("'\"") != text.npos;
  if ((!has_feet && !has_inches) || (!(has_feet && has_inches) && !has_marks)) return {};  // one number with a unit is read as any is
  double const inches = !has_inches ? 0 : found[4].matched ? fraction(found[3], found[4], found[5]) : to_double(found[6]);
  if (has_feet && !(inches < 12)) return {};
  double const number = (found[1].str() == "-" ? -1 : 1) * (has_feet ? to_double(found[2]) + inches / 12 : inches);
  if (!std::isfinite(number)) return {};
  std::ostringstream digits;
  digits.imbue(std::locale::classic());
  digits << number;
  return Parts{number, digits.str(), has_feet ? "ft" : "in"};
}

std::optional<Parts> take_apart(std::string_view text) {
  static std::regex const shape{R"(\s*([+-]?\$?)((?:(\d+)[- ])?(\d+)/(\d+)|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*?)\s*)"};
  std::smatch found;
  std::string s{text.substr(0, 100)};  // no quantity is longer, and std::regex recurses
  for (auto const& [sign, plain] : unit_table::signs)
    for (std::size_t at = 0; (at = s.find(sign, at)) != std::string::npos; at += plain.size()) s.replace(at, sign.size(), plain);
  if (text.size() > 100) return {};
  if (auto const length = off_the_tape(s)) return length;
  if (!std::regex_match(s, found, shape)) return {};
  double number = found[4].matched ? fraction(found[3], found[4], found[5]) : to_double(found[2]);
  auto const sign = found[1].str();
  if (sign.starts_with('-')) number = -number;
  if (!std::isfinite(number)) return {};
  return Parts{number, (sign.starts_with('-') ? "-" : "") + found[2].str(), (sign.ends_with('$') ? "$" : "") + found[6].str()};
}

bool same_sort(Dimension a, Dimension b) {
  a.point = b.point = a.of_fuel = b.of_fuel = false;
  return a == b;
}

/// "psi", "kPa", "inH2O": of the units with the dimension of a pressure those in one word. A heating value is a quotient.
bool names_pressure(std::string_view symbol) { return in_one_word(std::string(symbol)).find_first_of("/-^ ") == std::string::npos; }
}  // namespace

std::optional<WrittenQuantity> parse_quantity(std::string_view text, Dimension wanted, UnitFault& fault) {
  auto const parts = take_apart(text);
  if (!parts) return fault = UnitFault::no_number, std::nullopt;
  if (parts->symbol.empty()) return fault = UnitFault::no_unit, std::nullopt;
  auto const any = Units::instance().find(parts->symbol);
  if (!any) return fault = UnitFault::unknown_unit, std::nullopt;
  auto const unit = parse_unit(parts->symbol, wanted);
  if (!unit) return fault = UnitFault::wrong_dimension, std::nullopt;
  double const si = unit->to_si(parts->number);
  if (!std::isfinite(si)) return fault = UnitFault::no_number, std::nullopt;
  fault = UnitFault::none;
  return WrittenQuantity{si, parts->digits, parts->symbol};
}

std::optional<AnyUnit> parse_unit(std::string_view symbol, Dimension wanted) {
  auto unit = Units::instance().find(symbol);
  if (!unit || !same_sort(unit->dimension, wanted) || (wanted.of_fuel && names_pressure(symbol))) return {};
  unit->dimension = wanted;
  if (!wanted.point) unit->offset = 0;
  return unit;
}

std::optional<AnyUnit> unit_in(std::string_view text) {
  auto const parts = take_apart(text);
  return parts ? Units::instance().find(parts->symbol) : std::nullopt;
}

namespace {
/// "80,000 Btu/h" without its commas; a comma before another number of digits stands for a decimal point.
std::string comma_hint(std::string_view text) {
  static std::regex const thousands{R"(\s*[+-]?\$?\d{1,3}(,\d{3})+(?![\d,]).*)"};
  std::string s{text.substr(0, 100)};
  auto const comma = s.find(',');
  if (std::regex_match(s, thousands)) std::erase(s, ',');
  else if (s.find(',', comma + 1) == std::string::npos) s[comma] = '.';
  else return "write the number without commas";
  return "write \"" + s + "\"";
}
}  // namespace

std::string unit_hint(std::string_view text, Dimension wanted) {
  auto const parts = take_apart(text);
  std::string const symbol = parts ? parts->symbol : std::string(text.substr(0, 100)), number = parts ? parts->digits + " " : "";
  if (symbol == "F" || symbol == "C") return "write \"" + number + "°" + symbol + "\"";
  if (symbol == "R") return "write degR";
  if (symbol.starts_with(',')) return comma_hint(text);
  if (symbol.find_first_of("0123456789") != std::string::npos && parts && symbol.find_first_of(" '\"") != std::string::npos)
    return wanted == Length::dimension ? "write feet and inches as \"20 ft 3 in\", with less than 12 in"
                                       : "write one number with one unit, such as \"1.5 h\" for 1 h 30 min";
  for (auto const* month : {"month", "months", "mo", "mos"})
    if (symbol == month) return "write d or yr: a month has several lengths";
  if (symbol == "ton" || symbol == "tons") return "write kBtu/h, kW or lb: a ton has several meanings";
  std::vector<std::string> fitting;
  for (auto const& spelling : unit_table::all_spellings())
    if (parse_unit(spelling, wanted)) fitting.push_back(spelling);
  // A single letter is near to every other: then the first that begins with it.
  auto const begins = std::find_if(fitting.begin(), fitting.end(), [&](auto const& s) { return s[0] == symbol[0]; });
  auto const near = symbol.size() > 1 ? nearest(symbol, fitting) : symbol.empty() || begins == fitting.end() ? "" : *begins;
  return near.empty() || near == symbol ? "" : "did you mean \"" + number + near + "\"?";
}

std::string word_for(Dimension d) {
  for (auto const& s : unit_table::sorts)
    if (s.dimension == d) return std::string(s.word);
  std::string words;
  for (auto [name, power] : {std::pair{"m", d.m}, {"kg", d.kg}, {"s", d.s}, {"K", d.K}, {"money", d.money}})
    if (power != 0) words += (words.empty() ? "" : ".") + std::string(name) + (power == 1 ? "" : std::to_string(power));
  return "a quantity in " + words;
}

namespace {
std::vector<std::string> parted(std::string const& all) {
  std::vector<std::string> symbols;
  for (std::size_t from = 0; from < all.size();) {
    auto const end = std::min(all.find(", ", from), all.size());
    symbols.push_back(all.substr(from, end - from));
    from = end + 2;
  }
  return symbols;
}

std::string printed(std::vector<std::string> const& symbols, Dimension d) {
  std::string text;
  for (auto const& symbol : symbols)
    if (auto unit = parse_unit(symbol, d)) text += (text.empty() ? "" : ", ") + printed_unit(*unit);
  return text;
}

/// Whether a unit is one of the US trade; times, shares and the like are of neither system.
bool is_us(std::string_view symbol) {
  auto const has = [&](std::string_view part) { return symbol.find(part) != symbol.npos; };
  return symbol == "in" || has("inH2O") || has("ft") || has("gal") || has("gpm") || has("lb") || has("psi") || has("Btu") || has("therm") ||
         has("degF");
}
}  // namespace

std::string printed_units(Dimension d) { return printed(parted(usual_units(d)), d); }
std::string printed_units(Dimension d, UnitSystem system) { return printed(usual_units(d, system), d); }

std::vector<std::string> usual_units(Dimension d, UnitSystem system) {
  std::vector<std::string> of_us, others;
  for (auto const& symbol : parted(usual_units(d))) (is_us(symbol) ? of_us : others).push_back(symbol);
  return system == UnitSystem::us && !of_us.empty() ? of_us : others;
}

std::string usual_units(Dimension d) {
  for (auto const& s : unit_table::sorts)
    if (s.dimension == d) return std::string(s.units);
  return "";
}

AnyUnit si_unit(AnyUnit const& declared) {
  auto const d = declared.dimension;
  std::string const own{declared.symbol};
  if (own.empty() || own == "%" || own == "W" || d == Time::dimension) return declared;
  auto const all = usual_units(d);
  auto const comma = all.rfind(", ");
  std::string const symbol = d == Length::dimension       ? (own == "ft" ? "m" : own == "in" ? "mm" : own)
                             : d == Volume::dimension     ? "L"
                             : d == VolumeFlow::dimension ? "L/s"
                             : all.empty()                ? own
                             : comma == all.npos          ? all
                                                          : all.substr(comma + 2);
  return symbol == own ? declared : parse_unit(symbol, d).value();
}

}  // namespace steadyfire
