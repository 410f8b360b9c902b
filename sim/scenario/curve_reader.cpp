#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/core/units.hpp"
#include "sim/scenario/value_reader.hpp"

namespace steadyfire {

namespace {
std::optional<AnyUnit> read_unit(std::string const& key, AnyUnit const& of_field, toml::table const& table, Field const& f,
                                 Scope const& scope) {
  auto const* node = table.get(key);
  if (!node && of_field.symbol.empty()) return of_field;
  std::string const example = of_field.symbol.empty() ? "leave it out" : fmt::format("{} = \"{}\"", key, printed_unit(of_field));
  auto const words = word_for(of_field.dimension);
  if (!node) {
    scope.fault("E205", position_of(table), "'" + key + "' is missing in " + f.key + ": the unit of " + words, example);
    return {};
  }
  auto const* symbol = node->as_string();
  if (!symbol)
    return scope.fault("E209", position_of(*node), fmt::format("{} of {} is {}", key, f.key, type_text(*node)),
                       "the unit of " + words + ": " + example),
           std::nullopt;
  if (auto const unit = parse_unit(symbol->get(), of_field.dimension)) return unit;
  auto const other = unit_in("1 " + symbol->get());
  scope.fault(other ? "E207" : "E203", position_of(*node),
              fmt::format("{} of {} is {}, {}", key, f.key, in_quotes(symbol->get()),
                          other ? "the unit of " + word_for(other->dimension) + ", not of " + words : "an unknown unit"),
              "the unit of " + words + ": " + printed_units(of_field.dimension), other ? "" : unit_hint(symbol->get(), of_field.dimension));
  return {};
}

/// Coefficients over what was written become coefficients over SI: the polynomial of
/// (x − offset)/scale, multiplied out by Horner's rule.
std::vector<double> in_si(std::vector<double> const& written, AnyUnit const& x, AnyUnit const& y) {
  double const slope = 1 / x.scale, constant = -x.offset / x.scale;
  std::vector<double> c;
  for (std::size_t k = written.size(); k-- > 0;) {
    c.push_back(0);
    for (std::size_t i = c.size(); i-- > 0;) c[i] = constant * c[i] + (i > 0 ? slope * c[i - 1] : 0);
    c[0] += written[k];
  }
  for (double& value : c) value *= y.scale;
  c[0] += y.offset;
  return c;
}

std::vector<double> read_coefficients(toml::node const& node, Field const& f, Scope const& scope) {
  constexpr std::size_t most = 10;
  auto const* list = node.as_array();
  if (!list || list->empty() || list->size() > most) {
    scope.fault(list ? "E213" : "E209", position_of(node),
                list ? fmt::format("{} has {} coefficients", f.key, list->size()) : "coefficients of " + f.key + ": " + type_text(node),
                fmt::format("a list [c0, c1, …] of 1 to {} numbers", most));
    return {};
  }
  std::vector<double> c;
  for (auto const& item : *list)
    if (auto const x = read_number("coefficients of " + f.key, item, scope)) c.push_back(*x);
  return c.size() == list->size() ? c : std::vector<double>{};
}

std::vector<double> read_points(toml::node const& node, Field const& f, Scope const& scope) {
  std::string const shape = fmt::format("a list [[{0}, {1}], [{0}, {1}], …]", f.key_x, f.key_y);
  auto const* list = node.as_array();
  if (!list) return scope.fault("E209", position_of(node), "points of " + f.key + ": " + type_text(node), shape), std::vector<double>{};
  if (list->size() < 2)
    scope.fault("E213", position_of(node), f.key + (list->empty() ? " has no points" : " has only one point"),
                "at least two points: " + shape);
  std::vector<double> numbers;
  toml::node const* last = nullptr;
  for (auto const& item : *list) {
    auto const* point = item.as_array();
    if (!point || point->size() != 2) {
      scope.fault("E209", position_of(item),
                  fmt::format("a point of {} is {}", f.key, point ? fmt::format("a list of {}", point->size()) : type_text(item)),
                  fmt::format("two numbers: [{}, {}]", f.key_x, f.key_y));
      last = nullptr;
      continue;
    }
    auto const x = read_number(f.key, (*point)[0], scope), y = read_number(f.key, (*point)[1], scope);
    if (!x || !y) { last = nullptr; continue; }
    if (last && *x <= numbers[numbers.size() - 2])
      scope.fault("E212", position_of(item),
                  fmt::format("{} of {} does not rise: {} after {}", f.key_x, f.key, *x, numbers[numbers.size() - 2]),
                  "points in order of rising " + f.key_x, "sort the points", position_of(*last));
    numbers.push_back(*x), numbers.push_back(*y), last = &item;
  }
  return numbers;
}
}  // namespace

std::vector<double> read_curve(Field const& f, toml::node const& node, Scope const& scope) {
  auto const before = scope.faults.count();
  auto const* table = node.as_table();
  if (!table) return scope.fault("E209", position_of(node), f.key + " is " + type_text(node), wanted(f)), std::vector<double>{};
  std::vector<std::string> const known{f.key_x, f.key_y, "points", "coefficients"};
  for (auto const& [key, value] : *table)
    if (std::find(known.begin(), known.end(), key.str()) == known.end())
      scope.fault("E201", position_of(key), "unknown key in " + f.key + ": " + in_quotes(key.str()),
                  fmt::format("{}, {}, and points or coefficients", f.key_x, f.key_y), did_you_mean(key.str(), known));
  auto const x = read_unit(f.key_x, f.unit, *table, f, scope), y = read_unit(f.key_y, f.unit_y, *table, f, scope);
  auto const *points = table->get("points"), *coefficients = table->get("coefficients");
  if (!points == !coefficients) {
    scope.fault("E214", points ? position_of(*coefficients) : position_of(node),
                f.key + (points ? " has both points and coefficients" : " has neither points nor coefficients"), wanted(f), "",
                points ? position_of(*points) : Position{});
    return {};
  }
  auto numbers = points ? read_points(*points, f, scope) : read_coefficients(*coefficients, f, scope);
  if (scope.faults.count() != before) return {};
  if (points)
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) numbers[i] = x->to_si(numbers[i]), numbers[i + 1] = y->to_si(numbers[i + 1]);
  else numbers = in_si(numbers, *x, *y);
  // Conversion can still carry a number beyond what a double holds, or melt two points into one.
  for (std::size_t i = 0; i < numbers.size(); ++i)
    if (!std::isfinite(numbers[i]) || (points && i % 2 == 0 && i > 0 && !(numbers[i] > numbers[i - 2]))) {
      scope.fault("E208", position_of(points ? *points : *coefficients), f.key + " has numbers too large or too small to compute",
                  "numbers of a usual size");
      return {};
    }
  numbers.insert(numbers.begin(), points ? 1 : 0);
  return numbers;
}

}  // namespace steadyfire
