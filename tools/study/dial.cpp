#include "tools/study/dial.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "models/controls.hpp"
#include "sim/scenario/field_words.hpp"
#include "sim/scenario/table_reader.hpp"
#include "sim/scenario/value_reader.hpp"
#include "tools/job/catalog.hpp"

namespace steadyfire {
namespace {

using FieldSort = Field::Sort;

/// 1, 2 or 5 times a power of ten, at least a hundredth of a range.
double fine_step(double range) {
  double const rough = range / 100, power = std::pow(10, std::floor(std::log10(rough) + 1e-9));
  return power * (rough < 1.5 * power ? 1 : rough < 3.5 * power ? 2 : rough < 7.5 * power ? 5 : 10);
}
std::string trimmed(std::string s) {
  s.erase(0, s.find_first_not_of(' '));
  s.erase(s.find_last_not_of(' ') + 1);
  return s;
}

/// The first zone that follows the curve which all share, or null.
ZoneParts const* follower_of_common_curve(Case const& c) {
  for (auto const& t : c.document().tables)
    if (t.kind->name == ZoneSection::kind && !value_of<&ZoneSection::reset>(t).entry &&
        !value_of<&ZoneSection::supply_temperature>(t).given)
      return c.project().installation.zone(t.name);
  return nullptr;
}

/// What the house makes of the value at a place: a piece and its key. A number below 0 where it makes none.
std::pair<int, std::string> made_of(Case const& c, ValuePlace const& at) {
  auto const& in = c.project().installation;
  auto const& key = at.path.back();
  auto const* zone = at.table == ZoneSection::kind ? &in.zones.at(std::size_t(at.index)) : nullptr;
  if (zone && at.path.size() == 1 && key == field_of<&ZoneSection::supply_temperature>(*find_kind(catalog(), ZoneSection::kind)).key)
    return {zone->reset, field_of<&OutdoorReset::cold_supply>(*in.pieces[std::size_t(zone->reset)].kind).key};
  if (at.table == ControlsSection::kind && at.path.size() == 2 &&
      at.path[0] == field_of<&ControlsSection::reset>(*find_kind(catalog(), ControlsSection::kind)).key) {
    auto const* follower = follower_of_common_curve(c);
    return {follower ? follower->reset : -1, key};
  }
  for (std::size_t i = 0; i < in.pieces.size(); ++i) {
    auto const& s = in.pieces[i].stated_in;
    if (s.table && table_key(*s.table) == at.table && (!zone || s.name == zone->name) && at.path.size() == (s.key ? 2 : 1) &&
        (!s.key || s.key->key == at.path[0]))
      return {int(i), key};
  }
  return {at.name.empty() ? -1 : in.find(at.name), key};
}

/// What holds at one place of an address, where the file says nothing: the value of the piece that the house makes of it.
double made_value(Case const& c, Turn const& turn, std::size_t place) {
  auto const [number, key] = made_of(c, turn.places[place]);
  if (number < 0) return std::nan("");
  auto const& piece = c.project().installation.pieces[std::size_t(number)];
  auto const& fields = piece.kind->fields;
  auto const field = std::find_if(fields.begin(), fields.end(), [&, key = key](Field const& f) { return f.key == key; });
  if (field == fields.end()) return std::nan("");
  auto const& numbers = piece.values[std::size_t(field - fields.begin())].numbers;
  return numbers.empty() ? std::nan("") : numbers[0];
}

std::string name_of(Case const& c, Turn const& turn) {
  static std::pair<char const*, char const*> const known[]{{"cold_supply", "supply at the cold point"},
                                                           {"mild_supply", "supply at the mild point"},
                                                           {"cold_outdoors", "outdoor temperature of the cold point"},
                                                           {"mild_outdoors", "outdoor temperature of the mild point"},
                                                           {"averaging_time", "outdoor averaging time"},
                                                           {"supply_temperature", "supply temperature"},
                                                           {"off_differential", "off differential (above target)"},
                                                           {"on_differential", "on differential (below target)"}};
  auto const& at = turn.places.at(0);
  std::string words = at.path.back();
  std::replace(words.begin(), words.end(), '_', ' ');
  for (auto const& [key, told] : known)
    if (at.path.back() == key) words = told;
  if (at.path.size() > 1 && at.path[0] != "reset") words = at.path[0] + ", " + words;
  auto const& zones = c.project().installation.zones;
  if (turn.places.size() > 1 || at.table != ZoneSection::kind || zones.size() < 2)
    return at.name.empty() ? words : at.name + ": " + words;
  return zones.at(std::size_t(at.index)).name + ": " + words;
}

/// Bounds around the present value, where nobody stated any.
void take_usual_bounds(Dial& s) {
  auto const& f = s.field();
  if (std::isnan(s.present))
    throw BadAddress{s.parameter.turn.address + " has no single value now to set bounds around",
                     s.parameter.turn.address + "=LOW..HIGH"};
  double const lowest = s.unit.from_si(f.unit.to_si(f.least)), highest = s.unit.from_si(f.unit.to_si(f.most));
  double below = s.present - s.present / 2, above = s.present;
  bool const is_point = f.unit.dimension == Temperature::dimension, is_change = f.unit.dimension == TemperatureChange::dimension;
  if (f.sort == FieldSort::clock) below = above = 3;
  else if (f.key == "averaging_time") below = s.present;
  else if (is_point) {
    double const per = s.unit.from_si(301) - s.unit.from_si(300);
    bool const is_outdoors = f.key.find("outdoors") != std::string::npos;
    below = above = std::round((is_outdoors ? 15 : 30) / 1.8 * per);
  } else if (is_change) {
    below = std::max(0.0, s.present - s.unit.from_si(unit::degF_change.to_si(1)));
  }
  s.least = std::clamp(s.present - below, lowest, highest), s.most = std::clamp(s.present + above, lowest, highest);
  s.is_usual = true;
}

void read_bounds(Dial& s, std::string const& address, std::string const& bounds) {
  auto const dots = bounds.find("..");
  if (dots == std::string::npos)
    throw BadAddress{address + " has bounds " + in_quotes(bounds),
                     "LOW..HIGH, for example " + in_quotes(address + "=" + s.shown(s.present) + "..…"),
                     "put all of it in quotes for the shell"};
  auto const number = [&](std::string const& words) {
    auto const si = read_stated(s.field(), trimmed(words));
    return s.field().sort == FieldSort::clock ? si / 3600 : s.unit.from_si(si);
  };
  s.least = number(bounds.substr(0, dots)), s.most = number(bounds.substr(dots + 2));
  auto const round = [](double x) { return std::stod(fmt::format("{:.10g}", x)); };
  s.least = round(s.least), s.most = round(s.most);
  if (s.least >= s.most)
    throw BadAddress{fmt::format("the bounds of {}, {}, are {}", address, bounds, s.least > s.most ? "swapped" : "equal"),
                     "LOW..HIGH with LOW below HIGH"};
}

}  // namespace

std::string Dial::words(double x) const {
  if (!parameter.words.empty()) return parameter.words.at(std::size_t(std::lround(x)));
  if (std::isnan(x)) return "as in the file";
  auto const& f = field();
  if (f.sort != FieldSort::quantity && f.sort != FieldSort::number) return stated(f, f.sort == FieldSort::clock ? x * 3600 : x);
  auto const number = fmt::format("{:.8g}", x);
  return unit.symbol.empty() ? number : number + " " + std::string(unit.symbol);
}

std::string Dial::shown(double x) const {
  bool const has_unit = parameter.words.empty() && !std::isnan(x) && field().sort == FieldSort::quantity && !unit.symbol.empty();
  if (!has_unit) return words(x);
  auto const printed = printed_unit(unit);
  return fmt::format("{:.8g}{}{}", x, printed == "%" ? "" : " ", printed);
}

double Dial::in_parameter(double x) const { return parameter.words.empty() ? read_stated(field(), words(x)) : double(std::lround(x)); }

Dial read_dial(Case const& c, std::string const& words) {
  auto const equals = words.find('=');
  auto const address = trimmed(words.substr(0, equals));
  Dial s;
  s.parameter.turn = c.turn(address);
  auto const& turn = s.parameter.turn;
  auto const& f = s.field();
  s.parameter.name = name_of(c, turn);
  s.unit = f.sort == FieldSort::quantity ? unit_for(f, c.units()) : AnyUnit{unit::one};
  std::vector<double> own;
  for (std::size_t k = 0; k < turn.own.size(); ++k) own.push_back(std::isnan(turn.own[k]) ? made_value(c, turn, k) : turn.own[k]);
  s.present = std::all_of(own.begin(), own.end(), [&](double x) { return x == own[0]; }) ? own.at(0) : std::nan("");
  auto const bounds = equals == std::string::npos ? "" : trimmed(words.substr(equals + 1));
  if (f.sort == FieldSort::text || f.sort == FieldSort::reference)
    throw BadAddress{address + " is a name; it cannot be tuned", "the address of a number, a time of day or a choice"};
  if (f.sort == FieldSort::choice || f.sort == FieldSort::flag) {
    auto const all = f.sort == FieldSort::flag ? std::vector<std::string>{"false", "true"} : f.choices;
    auto const present = std::isnan(s.present) ? "" : all.at(std::size_t(s.present));
    for (std::size_t from = 0; !bounds.empty() && from != std::string::npos;) {
      auto const comma = bounds.find(',', from);
      auto const word = trimmed(bounds.substr(from, comma == std::string::npos ? comma : comma - from));
      read_stated(f, word);
      s.parameter.words.push_back(word), from = comma == std::string::npos ? comma : comma + 1;
    }
    if (bounds.empty()) s.parameter.words = all, s.is_usual = true;
    auto const at = std::find(s.parameter.words.begin(), s.parameter.words.end(), present);
    s.present = at == s.parameter.words.end() ? std::nan("") : double(at - s.parameter.words.begin());
    s.parameter.as = Parameter::As::word;
    s.most = double(s.parameter.words.size()) - 1, s.step = 1;
    if (s.most < 1) throw BadAddress{address + " has only one choice", fmt::format("two or more of: {}", fmt::join(all, ", "))};
    return s;
  }
  s.present = std::isnan(s.present)
                  ? s.present
                  : std::stod(fmt::format("{:.10g}", f.sort == FieldSort::clock ? s.present / 3600 : s.unit.from_si(s.present)));
  if (bounds.empty()) take_usual_bounds(s);
  else read_bounds(s, address, bounds);
  s.step = f.sort == FieldSort::count ? 1 : f.sort == FieldSort::clock ? 0.25 : fine_step(s.most - s.least);
  if (f.unit.dimension == Temperature::dimension) s.step = std::max(s.step, s.most - s.least >= 10 ? 0.5 : 0.1);
  return s;
}

std::vector<std::string> usual_dials(Case const& c) {
  std::vector<std::string> all, fixed;
  auto const points = [&](std::string const& where) {
    for (auto const* key : {"cold_supply", "mild_supply", "mild_outdoors", "averaging_time"}) all.push_back(where + ".reset." + key);
  };
  auto const* controls = c.document().find("controls");
  if (controls && value_of<&ControlsSection::reset>(*controls).entry) points("controls");
  for (auto const& t : c.document().tables) {
    if (t.kind->name != "zone") continue;
    auto const where = address_of("zone", t.name);
    if (value_of<&ZoneSection::reset>(t).entry) points(where);
    else if (value_of<&ZoneSection::supply_temperature>(t).given) fixed.push_back(where + ".supply_temperature");
  }
  if (all.empty()) all = fixed;
  if (all.empty())
    for (auto const* key : {"off_differential", "on_differential"}) all.push_back(std::string("boiler.") + key);
  return all;
}

std::string with_dials(Case const& c, std::vector<Dial> const& settings, std::vector<double> const& at) {
  std::vector<Edit> edits;
  for (std::size_t i = 0; i < settings.size(); ++i)
    for (auto const& place : settings[i].parameter.turn.places) edits.push_back({Edit::Do::set, place, settings[i].words(at[i])});
  return edited(c.text(), edits, catalog());
}

}  // namespace steadyfire
