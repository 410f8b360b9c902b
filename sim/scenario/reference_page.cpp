#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "sim/core/si_unit.hpp"
#include "sim/core/units.hpp"
#include "sim/scenario/field_words.hpp"
#include "sim/scenario/reader.hpp"
#include "sim/scenario/table_reader.hpp"

namespace steadyfire {

namespace {
/// A | would end the cell of a Markdown table.
std::string cell(std::string s) {
  for (std::size_t at = 0; (at = s.find('|', at)) != std::string::npos; at += 2) s.replace(at, 1, "\\|");
  return s;
}

std::string value_text(Field const& f, Catalog catalog, UnitSystem system) {
  using Sort = Field::Sort;
  auto const units = printed_units(f.unit.dimension, system);
  auto const measured = [&] {
    return f.unit.symbol.empty() ? "number" : word_for(f.unit.dimension) + (units.empty() ? "" : " (" + units + ")");
  };
  switch (f.sort) {
    case Sort::quantity: return measured();
    case Sort::list: return "list, each " + measured();
    case Sort::number: return "number";
    case Sort::count: return "whole number";
    case Sort::choice: return fmt::format("\"{}\"", fmt::join(f.choices, "\", \""));
    case Sort::flag: return "true or false";
    case Sort::text: return "text";
    case Sort::clock: return "time of day, \"22:30\"";
    case Sort::clocks: return "times of day, [\"7:00\", \"18:30\"]";
    case Sort::curve:
      return fmt::format(
          "curve of {1} over {0}: `{{ {0} = \"{2}\", {1} = \"{3}\", points = [[x, y], …] }}` or `coefficients = [c0, c1, …]`", f.key_x,
          f.key_y, unit_for(f, system).symbol, system == UnitSystem::us ? f.unit_y.symbol : si_unit(f.unit_y).symbol);
    case Sort::reference: return "name of " + with_article(f.refers_to);
    case Sort::references: return "name of " + with_article(f.refers_to) + ", or a list of names";
    case Sort::written: return "value of another field";
    case Sort::written_list: return "list of values of another field";
    case Sort::entry: {
      std::vector<std::string> names;
      for (auto const* k : nested_kinds(catalog, f.refers_to)) names.push_back("`" + k->name + "`");
      return names.size() == 1 ? fmt::format("`{{ … }}`, {}", names[0])
                               : fmt::format("`{{ kind = \"…\", … }}`, kind one of {}", fmt::join(names, ", "));
    }
  }
  throw InternalError("a field of no sort");
}

std::string otherwise_text(Field const& f, UnitSystem system) {
  using Sort = Field::Sort;
  if (f.is_required()) return "**required**";
  if (f.is_estimated) return "estimated from " + f.absent.in(system);
  if (!f.absent.empty()) return f.absent.in(system);
  if (std::isnan(f.standard)) return "not used";
  if (f.sort == Sort::choice) return '"' + f.choices.at(std::size_t(f.standard)) + '"';
  if (f.sort == Sort::flag) return f.standard != 0 ? "true" : "false";
  if (f.sort == Sort::clock) return clock_text(f.standard);
  return fmt::format("{}{}", with_unit(number_in(unit_for(f, system), f, f.standard), unit_for(f, system)),
                     f.has_typical() ? ", assumed" + (f.replaced_by.empty() ? "" : " without " + f.replaced_by) : "");
}

/// The meaning, with the usual range where "unknown" takes its middle.
std::string meaning_text(Field const& f, UnitSystem system) {
  auto const help = f.help.in(system);
  if (f.is_estimated) return help + "; may be \"unknown\"";
  if (!f.has_typical()) return help;
  auto const unit = unit_for(f, system);
  return fmt::format("{}; usually {} to {} ({})", help, number_in(unit, f, f.low), with_unit(number_in(unit, f, f.high), unit),
                     f.typical_source);
}

/// Branches may share a port.
std::vector<std::string> unique_port_keys(Kind const& kind) {
  std::vector<std::string> keys;
  for (auto& key : port_keys(kind))
    if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(std::move(key));
  return keys;
}

std::string section(Kind const& kind, Catalog catalog, UnitSystem system) {
  std::string const key = table_key(kind);
  std::string const heading = kind.name == "scenario"       ? "Above all tables"
                              : kind.home == Home::repeated ? "`[[" + key + "]]`"
                              : kind.home == Home::single   ? "`[" + key + "]`"
                                                            : "`kind = \"" + kind.name + "\"`, " + with_article(kind.family);
  std::string out = fmt::format("\n## {}\n\n{}.\n", heading, kind.summary);
  bool const joined = !kind.branches.empty() && kind.home != Home::nested;
  if (kind.fields.empty() && kind.home != Home::repeated && !joined) return out;
  out += "\n| Key | Value | Range | If not given | Meaning |\n|---|---|---|---|---|\n";
  if (kind.home == Home::repeated && !kind.is_nameless) out += "| `name` | text | | **required** | a name of its own |\n";
  if (joined)
    for (auto const& port : unique_port_keys(kind))
      out += fmt::format(
          "| `{}` | name of a joint | | **required** in a piping network without boiler; in a house as arranged | joint at this end |\n",
          port);
  for (auto const& f : kind.fields) {
    bool const ranged = f.most > f.least && f.choices.empty() && f.sort != Field::Sort::clock && f.sort != Field::Sort::clocks;
    out += fmt::format("| `{}` | {} | {} | {} | {} |\n", f.key, cell(value_text(f, catalog, system)),
                       ranged ? range_text(f, unit_for(f, system)) : "", cell(otherwise_text(f, system)), cell(meaning_text(f, system)));
  }
  return out;
}
}  // namespace

std::string reference_page(Catalog catalog, UnitSystem system, std::string const& opening) {
  auto const of_scenarios = say(
      "# Scenario files\n\n"
      "A scenario is a text file in TOML format. It starts with `format = 1`. Write a number with its unit in quotes: `\"{}\"`,\n"
      "`\"{}\"` (or `\"{}\"`), `\"{}\"`. {} units work too. \"Assumed\" below means: where the key is absent or\n"
      "`\"unknown\"`, the middle of the usual range is used and listed with the results. Other values below are used unless the file\n"
      "has its own. `[[…]]` may appear any number of times, `[…]` once. With a `[boiler]` or a `[[zone]]` the piping is arranged for\n"
      "you; a part named without its joints changes a part of that arrangement. {}\n",
      InEach{"8 gpm", "0.5 L/s"}, InEach{"140 °F", "60 °C"}, InEach{"140 degF", "60 degC"}, InEach{"1-1/4 in", "32 mm"}, InEach{"SI", "US"},
      InEach{"A Cv is the flow in gpm at a pressure drop of 1 psi; a\nKv is 0.865 times that number.",
             "A Kv is the flow in m³/h at a pressure drop of 1 bar; a\nCv is 1.156 times that number."});
  std::string out = opening.empty() ? of_scenarios.in(system) : opening;
  auto const add = [&](bool (*chosen)(Kind const&)) {
    for (auto const& kind : catalog)
      if (chosen(kind)) out += section(kind, catalog, system);
  };
  add([](Kind const& k) { return k.name == "scenario"; });
  add([](Kind const& k) { return k.name != "scenario" && k.home != Home::nested; });
  auto const is_nested = [](Kind const& k) { return k.name != "scenario" && k.home == Home::nested; };
  if (std::any_of(catalog.begin(), catalog.end(), is_nested)) out += "\n# Tables inside other tables\n";
  add(is_nested);
  return out;
}

}  // namespace steadyfire
