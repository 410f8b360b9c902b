#include "sim/scenario/value_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "sim/core/text.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/trade_words.hpp"

namespace steadyfire {

namespace {
/// A fault is told before the reader's units are known, so in those that the field is declared in.
std::string help_text(Field const& f) { return f.help.in(UnitSystem::us); }

std::string number_text(toml::node const& node) {
  if (auto const* i = node.as_integer()) return fmt::format("{}", i->get());
  return fmt::format("{}", node.value_or(0.0));
}

void wrong_type(Field const& f, toml::node const& node, Scope const& scope, std::string hint = "") {
  scope.fault("E209", position_of(node), f.key + " is " + type_text(node), wanted(f), std::move(hint));
}

bool in_range(Field const& f, double si, Position at, std::string const& written, AnyUnit const& written_unit, Scope const& scope) {
  // Rounding of a conversion must not refuse a value that stands exactly on a limit.
  double const x = f.unit.from_si(si), slack = 1e-9 * std::max({std::abs(f.least), std::abs(f.most), f.most - f.least});
  if (x >= f.least - slack && x <= f.most + slack) return true;
  std::string range = range_text(f, f.unit);
  if (printed_unit(written_unit) != printed_unit(f.unit)) range += ", or " + range_text(f, written_unit);
  scope.fault("E204", at, fmt::format("{} is {}, {} its range", f.key, written, x < f.least ? "below" : "above"),
              range + "  (" + help_text(f) + ")");
  return false;
}

/// "a flow": of a unit in which a point and a difference of temperature are written alike.
std::string sort_of(Dimension d) { return word_for(d == TemperatureChange::dimension ? Temperature::dimension : d); }

bool is_blank(std::string const& text) { return text.find_first_not_of(" \t\n\r") == std::string::npos; }

std::optional<double> from_text(Field const& f, std::string const& text, Position at, Scope const& scope) {
  UnitFault fault{};
  auto const q = parse_quantity(text, f.unit.dimension, fault);
  auto const refuse = [&](char const* code, std::string const& words, std::string hint = "") {
    scope.fault(code, at, words, wanted(f), std::move(hint));
  };
  switch (fault) {
    case UnitFault::none: {
      auto const unit = parse_unit(q->symbol, f.unit.dimension);
      bool const fits = in_range(f, q->si, at, with_unit(q->number, *unit), *unit, scope);
      return fits ? std::optional(q->si) : std::nullopt;
    }
    case UnitFault::no_number:
      refuse("E208", f.key + (is_blank(text) ? " is empty" : " is " + in_quotes(text) + ", which does not start with a number"),
             text == "?" || !nearest(text, {"unknown"}).empty()
                 ? f.may_be_unknown() ? "write \"unknown\"" : "find the value: there is no usual one"
                 : "");
      break;
    case UnitFault::no_unit:
      refuse("E206", f.key + " is " + in_quotes(text) + ", without a unit", fmt::format("write \"{}\"", with_unit(text, f.unit)));
      break;
    case UnitFault::unknown_unit:
      if (auto const comma = text.find(','); comma != text.npos && text.find_first_not_of(" +-$0123456789.") == comma)
        refuse("E208", f.key + " is " + in_quotes(text) + ", with a comma", unit_hint(text, f.unit.dimension));
      else refuse("E203", f.key + " is " + in_quotes(text) + ", with an unknown unit", unit_hint(text, f.unit.dimension));
      break;
    case UnitFault::wrong_dimension:
      refuse("E207",
             fmt::format("{} is {}: {}, not {}", f.key, in_quotes(text), sort_of(unit_in(text)->dimension), word_for(f.unit.dimension)));
      break;
  }
  return {};
}

std::optional<double> read_quantity(Field const& f, toml::node const& node, Scope const& scope) {
  auto const at = position_of(node);
  if (auto const* text = node.as_string()) return from_text(f, text->get(), at, scope);
  if (!node.is_number()) return wrong_type(f, node, scope), std::nullopt;
  auto const x = read_number(f.key, node, scope);
  if (!x) return {};
  auto const written = number_text(node);
  if (!f.unit.symbol.empty()) {
    scope.fault("E206", at, f.key + " is " + written + ", without a unit", wanted(f),
                fmt::format("write {}\"{}\"", f.sort == Field::Sort::list ? "" : f.key + " = ", with_unit(written, f.unit)));
    return {};
  }
  return in_range(f, f.unit.to_si(*x), at, written, f.unit, scope) ? std::optional(f.unit.to_si(*x)) : std::nullopt;
}

std::optional<double> read_bare(Field const& f, toml::node const& node, Scope const& scope) {
  if (!node.is_number()) return wrong_type(f, node, scope, node.is_string() ? "write it without quotes" : ""), std::nullopt;
  auto const x = read_number(f.key, node, scope);
  if (!x) return {};
  if (f.sort == Field::Sort::count && *x != std::floor(*x)) return wrong_type(f, node, scope), std::nullopt;
  return in_range(f, *x, position_of(node), number_text(node), f.unit, scope) ? x : std::nullopt;
}

std::optional<double> read_choice(Field const& f, toml::node const& node, Scope const& scope) {
  auto const* text = node.as_string();
  if (!text) return wrong_type(f, node, scope), std::nullopt;
  for (std::size_t i = 0; i < f.choices.size(); ++i)
    if (same_word(f.choices[i], text->get())) return double(i);
  scope.fault("E210", position_of(node), f.key + " is " + in_quotes(text->get()) + ", not one of the choices", wanted(f),
              did_you_mean(text->get(), f.choices));
  return {};
}

/// "22:30" [s]; "24:00" is the end of the day.
std::optional<double> read_clock(Field const& f, toml::node const& node, Scope const& scope) {
  if (auto const* t = node.as_time()) return t->get().hour * 3600.0 + t->get().minute * 60.0 + t->get().second;
  auto const* text = node.as_string();
  if (!text) return wrong_type(f, node, scope), std::nullopt;
  auto const& s = text->get();
  auto const digit = [&](std::size_t i) { return s[i] >= '0' && s[i] <= '9'; };
  auto const colon = s.find(':');
  if ((colon == 1 || colon == 2) && s.size() == colon + 3 && digit(0) && digit(colon - 1) && digit(colon + 1) && digit(colon + 2)) {
    int const hours = std::stoi(s.substr(0, colon)), minutes = std::stoi(s.substr(colon + 1));
    if (minutes < 60 && hours * 60 + minutes <= 24 * 60) return hours * 3600.0 + minutes * 60.0;
  }
  scope.fault("E220", position_of(node), f.key + " is " + in_quotes(s) + ", not a time of day", wanted(f));
  return {};
}

void read_list(Field const& f, toml::node const& node, Scope const& scope, Value& v) {
  auto const take = [&](toml::node const& item) {
    if (auto const x = read_quantity(f, item, scope)) v.numbers.push_back(*x);
  };
  auto const* items = node.as_array();
  if (!items) return take(node);
  if (items->empty() && f.is_required()) scope.fault("E213", v.at, f.key + " is an empty list", wanted(f));
  for (auto const& item : *items) take(item);
  if (v.numbers.size() != items->size()) v.numbers.clear();
}

void read_clocks(Field const& f, toml::node const& node, Scope const& scope, Value& v) {
  auto const* items = node.as_array();
  auto const take = [&](toml::node const& item) {
    if (auto const x = read_clock(f, item, scope)) v.numbers.push_back(*x);
  };
  if (!items) return take(node);
  for (auto const& item : *items) take(item);
  if (v.numbers.size() != items->size()) v.numbers.clear();
}

void read_names(Field const& f, toml::node const& node, Scope const& scope, Value& v) {
  auto const take = [&](toml::node const& item) {
    auto const* name = item.as_string();
    if (name && !name->get().empty()) v.texts.push_back(name->get());
    else wrong_type(f, item, scope, name ? "write at least one letter" : "");
  };
  if (auto const* items = f.sort == Field::Sort::references ? node.as_array() : nullptr) {
    if (items->empty() && f.is_required()) scope.fault("E213", v.at, f.key + " is an empty list", wanted(f));
    for (auto const& item : *items) take(item);
  } else take(node);
}

void read_written(Field const& f, toml::node const& node, Scope const& scope, Value& v) {
  auto const take = [&](toml::node const& item) {
    if (auto const* text = item.as_string()) v.texts.push_back(text->get());
    else if (auto const* flag = item.as_boolean()) v.texts.emplace_back(flag->get() ? "true" : "false");
    else if (item.is_number()) v.texts.push_back(number_text(item));
    else return wrong_type(f, item, scope);
    v.texts_at.push_back(position_of(item));
  };
  if (f.sort == Field::Sort::written) {
    take(node);
    if (!v.texts.empty()) v.text = v.texts[0];
  } else if (auto const* items = node.as_array()) {
    if (items->empty()) scope.fault("E213", v.at, f.key + " is an empty list", wanted(f));
    for (auto const& item : *items) take(item);
  } else wrong_type(f, node, scope);
}
}  // namespace

std::optional<double> read_number(std::string const& key, toml::node const& node, Scope const& scope) {
  auto const x = node.is_number() ? node.value<double>() : std::nullopt;
  if (!x) scope.fault("E209", position_of(node), key + " contains " + type_text(node), "a number");
  else if (!std::isfinite(*x)) scope.fault("E208", position_of(node), key + " is not a finite number", "a finite number");
  else return x;
  return {};
}

Value absent_value(Field const& f, Position table) {
  Value v;
  v.at = table;
  if (!std::isnan(f.standard)) v.numbers = {f.unit.to_si(f.standard)};
  return v;
}

Value read_value(Field const& f, toml::node const& node, Scope const& scope) {
  using Sort = Field::Sort;
  Value v;
  v.given = true, v.at = position_of(node);
  auto const* text = node.as_string();
  bool const measurable =
      f.sort == Sort::quantity || f.sort == Sort::number || f.sort == Sort::count || f.sort == Sort::list || f.is_estimated;
  if (text && measurable && same_word(text->get(), "unknown")) {
    v.unknown = true;
    if (f.has_typical()) v.numbers = {f.unit.to_si(f.standard)};
    else if (!f.may_be_unknown())
      scope.fault("E211", v.at, f.key + " is \"unknown\", and there is no usual value for it", wanted(f),
                  f.is_required() ? "find the value" : "leave the key out");
    return v;
  }
  auto const one = [&](std::optional<double> x) { if (x) v.numbers = {*x}; };
  switch (f.sort) {
    case Sort::quantity: one(read_quantity(f, node, scope)); break;
    case Sort::number:
    case Sort::count: one(read_bare(f, node, scope)); break;
    case Sort::choice: one(read_choice(f, node, scope)); break;
    case Sort::clock: one(read_clock(f, node, scope)); break;
    case Sort::clocks: read_clocks(f, node, scope, v); break;
    case Sort::flag:
      if (auto const* flag = node.as_boolean()) v.numbers = {flag->get() ? 1.0 : 0.0};
      else wrong_type(f, node, scope, text ? "write it without quotes" : "");
      break;
    case Sort::text:
      if (text) v.text = text->get();
      else wrong_type(f, node, scope);
      break;
    case Sort::list: read_list(f, node, scope, v); break;
    case Sort::curve: v.numbers = read_curve(f, node, scope); break;
    case Sort::reference:
    case Sort::references: read_names(f, node, scope, v); break;
    case Sort::entry: v.entry = read_nested(f, node, scope); break;
    case Sort::written:
    case Sort::written_list: read_written(f, node, scope, v); break;
  }
  return v;
}

std::string wanted(Field const& f) {
  using Sort = Field::Sort;
  auto const range = [&] { return "  (" + help_text(f) + ")"; };
  std::string const units = printed_units(f.unit.dimension);
  switch (f.sort) {
    case Sort::quantity:
      return f.unit.symbol.empty() ? "a number, " + range_text(f, f.unit) + range()
                                   : word_for(f.unit.dimension) + " with its unit" + (units.empty() ? "" : ": " + units) + range();
    case Sort::list:
      return "a list, each " + word_for(f.unit.dimension) + (f.unit.symbol.empty() ? "" : " with its unit: " + units) + range();
    case Sort::number: return "a number, " + range_text(f, f.unit) + range();
    case Sort::count: return "a whole number, " + range_text(f, f.unit) + range();
    case Sort::choice: return fmt::format("one of: {}{}", fmt::join(f.choices, ", "), range());
    case Sort::flag: return "true or false" + range();
    case Sort::text: return "text in quotes" + range();
    case Sort::clock: return "a time of day, such as \"22:30\"" + range();
    case Sort::clocks: return "times of day, such as [\"7:00\", \"18:30\"]" + range();
    case Sort::curve:
      return fmt::format("{{ {} = \"{}\", {} = \"{}\", points = [[x, y], …] }} or coefficients = [c0, c1, …]{}", f.key_x, f.unit.symbol,
                         f.key_y, f.unit_y.symbol, range());
    case Sort::reference: return "the name of " + with_article(f.refers_to) + range();
    case Sort::references: return "the name of " + with_article(f.refers_to) + ", or a list of names" + range();
    case Sort::entry: return "a table { … } of " + with_article(f.refers_to) + range();
    case Sort::written: return "a value: text in quotes, a number, true or false" + range();
    case Sort::written_list: return "a list of values: text in quotes, numbers, true or false" + range();
  }
  throw InternalError("a field of no sort");
}

std::string wanted(Field const& f, Catalog catalog) {
  if (f.sort != Field::Sort::entry) return wanted(f);
  std::vector<std::string> names;
  for (auto const* k : nested_kinds(catalog, f.refers_to)) names.push_back(k->name);
  return names.size() == 1 ? "a table { … }  (" + help_text(f) + ")"
                           : fmt::format("{{ kind = \"…\", … }}, with kind one of: {}", fmt::join(names, ", "));
}

std::string number_in(AnyUnit const& unit, Field const& f, double declared) {
  if (unit.symbol == f.unit.symbol) return fmt::format("{:.9g}", declared);
  auto const text = fmt::format("{:.5g}", unit.from_si(f.unit.to_si(declared)));
  return text == "-0" ? "0" : text;
}

std::string range_text(Field const& f, AnyUnit const& unit) {
  return number_in(unit, f, f.least) + " to " + with_unit(number_in(unit, f, f.most), unit);
}

std::string clock_text(double hours) {
  auto const minutes = std::lround(hours * 60);
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

std::string type_text(toml::node const& node) {
  switch (node.type()) {
    case toml::node_type::table: return "a table";
    case toml::node_type::array: return "a list";
    case toml::node_type::string: return "text";
    case toml::node_type::integer: return "the whole number " + number_text(node);
    case toml::node_type::floating_point: return "the number " + number_text(node);
    case toml::node_type::boolean: return "true/false";
    default: return "a date or time";
  }
}

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](char x, char y) { return x == y || ((x == '_' || x == ' ') && (y == '_' || y == ' ')); });
}

std::string did_you_mean(std::string_view word, std::vector<std::string> const& known) {
  if (auto const near = nearest(word, known); !near.empty()) return "did you mean '" + near + "'?";
  auto const ours = meant_by(word, known);
  return ours.empty() ? "" : "write '" + ours + "'";
}

std::string with_article(std::string const& noun) {
  bool const vowel = !noun.empty() && std::string_view("aeiou").find(noun[0]) != std::string_view::npos;
  return (vowel ? "an " : "a ") + noun;
}

std::string in_quotes(std::string_view s) {
  constexpr std::size_t longest = 60;
  std::size_t end = std::min(s.size(), longest);
  while (end < s.size() && (static_cast<unsigned char>(s[end]) & 0xC0) == 0x80) --end;  // not inside a character
  std::string shown{s.substr(0, end)};
  std::replace_if(shown.begin(), shown.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }, ' ');
  for (std::size_t i = 0; i + 1 < shown.size(); ++i)
    if (has_control_character(std::string_view(shown).substr(i, 2))) shown.replace(i, 2, " ");
  return '"' + shown + (end < s.size() ? "…" : "") + '"';
}

}  // namespace steadyfire
