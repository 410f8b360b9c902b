#include "tools/study/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "models/building/room.hpp"
#include "tools/job/catalog.hpp"
#include "sim/scenario/field_words.hpp"
#include "sim/scenario/value_reader.hpp"

namespace steadyfire {
namespace {

using What = LogColumn::What;
double constexpr a_day = 86400;

/// The scenario's own [run] turned to the log's time, with the days before it.
std::vector<Edit> run_edits(HouseLog const& log, Project const& project, double lead) {
  auto const set = [](char const* key, std::string value) { return Edit{Edit::Do::set, {"run", 0, {key}}, std::move(value)}; };
  int const before = int(std::lround(lead / a_day)), begun = log.start_day.value_or(project.run.start_day);
  int const start = ((begun - 1 - before) % 365 + 365) % 365 + 1;
  double const clock = log.start_clock.value_or(*project.run.clock);
  return {set("start_day", std::to_string(start)), set("start_clock", clock_text(clock / 3600)),
          set("duration", fmt::format("{} d", (lead + log.length() + log.spacing()) / a_day))};
}

/// "design load of bath", "speed of bath circulator".
std::string name_of(Turn const& turn) {
  auto const& keys = turn.keys;
  auto const& named = turn.places.at(0).name;
  auto const spoken = [&](std::string key) {
    if (key != named) std::replace(key.begin(), key.end(), '_', ' ');
    return key;
  };
  auto name = spoken(keys.back());
  for (std::size_t i = 0; i + 1 < keys.size(); ++i) {
    if (i == 0 && keys.size() > 2) continue;  // "zone" says nothing where its name follows
    name += (i == 0 || (i == 1 && keys.size() > 2) ? " of " : " ") + spoken(keys[i]);
  }
  return name;
}

/// What a room works with where its table does not say it.
double in_use(Project const& project, Turn const& turn) {
  auto const& place = turn.places.at(0);
  if (place.table != "zone" || place.path.empty()) return std::nan("");
  auto const& zones = project.installation.zones;
  if (place.index >= int(zones.size())) return std::nan("");
  auto const& zone = zones[std::size_t(place.index)];
  auto const& key = place.path.back();
  if (place.path.size() == 1 && key == "design_load") return zone.design_load;
  if (place.path.size() != 2 || place.path[0] != "room" || zone.room < 0) return std::nan("");
  auto room = fill<Room>(project.installation.pieces[std::size_t(zone.room)].values);
  room.prepare();
  if (key == "design_load") return *room.design_load;
  if (key == "air_capacity") return *room.air_capacity;
  if (key == "mass_capacity") return *room.mass_capacity;
  if (key == "coupling") return *room.coupling;
  return key == "floor_area" ? *room.floor_area : std::nan("");
}

[[noreturn]] void refuse(std::string const& file, std::string const& code, std::string const& what, std::string const& expected,
                         std::string const& hint = "") {
  Diagnostics d;
  d.add({code, {}, what, expected, hint});
  throw BadInput{d.render(file, "")};
}

/// Twice the burner's usual cycle; an hour where the log does not show it.
double usual_window(HouseLog const& log) {
  auto const* burner = log.find(What::burner) ? log.find(What::burner) : log.find(What::fire);
  long starts = 0;
  double before = 1;
  if (burner)
    for (double const x : burner->values)
      if (!std::isnan(x)) starts += x > 0 && before == 0, before = x;
  double const cycle = starts > 0 ? log.length() / double(starts) : 1800;
  return std::clamp(600 * std::ceil(2 * cycle / 600), 1800.0, 10800.0);
}

}  // namespace

std::vector<std::string> rooms_of(Project const& project) {
  std::vector<std::string> names;
  for (auto const& z : project.installation.zones)
    if (z.room >= 0) names.push_back(z.name);
  return names;
}

HouseFit::HouseFit(std::string file, std::string text, HouseLog log, FitOptions options, UnitSystem units)
    : log_{std::move(log)}, options_{std::move(options)}, units_{units}, stated_{file, text, {}, units},
      case_{file, text, run_edits(log_, stated_.project(), options_.lead), units} {
  choose_unknowns(options_.find);
  count_starts(log_);
  lay_windows();
}

void HouseFit::choose_unknowns(std::vector<std::string> const& asked) {
  auto addresses = asked;
  if (addresses.empty()) {
    for (auto const& c : log_.columns)
      if (c.what == What::room) addresses.push_back(address_of("zone", c.zone) + ".design_load");
    if (log_.find(What::burner) || log_.find(What::fire)) addresses.push_back("boiler.minimum_input");
    if (addresses.empty())
      refuse(log_.file, "E394", "the log has neither a room nor the burner, so there is no usual value to find", "--find ADDRESS",
             "for example --find zone.bath.circulator.speed");
  }
  for (auto const& address : addresses) {
    auto turn = case_.turn(address);
    Parameter p{name_of(turn), std::move(turn)};
    auto const& f = *p.turn.field;
    auto const is = [&](Field::Sort s) { return f.sort == s; };
    if ((!is(Field::Sort::quantity) && !is(Field::Sort::number)) || f.unit.dimension.point)
      refuse(case_.document().file, "E394", fmt::format("{} cannot be found from a log", address),
             "the address of an amount, for example a load, a mass, a flow or an input",
             f.unit.dimension.point ? "read a set temperature off the control" : "");
    double begun = p.turn.places.size() == 1 ? p.turn.own[0] : 1;
    if (p.turn.places.size() > 1) {
      p.as = Parameter::As::factor;
      if (std::any_of(p.turn.own.begin(), p.turn.own.end(), [](double x) { return std::isnan(x); })) begun = std::nan("");
    } else {
      if (std::isnan(begun)) begun = in_use(stated_.project(), p.turn);
      if (std::isnan(begun) && !std::isnan(f.standard)) begun = f.unit.to_si(f.standard);
    }
    if (!(begun > 0))
      refuse(case_.document().file, "E394", fmt::format("{} has no value in the scenario to start from", address),
             fmt::format("'{}' in the scenario, above 0", f.key), "a guess is good enough");
    double const lowest = p.as == Parameter::As::factor ? 0 : f.unit.to_si(f.least),
                 highest = p.as == Parameter::As::factor ? 1e9 : f.unit.to_si(f.most);
    unknowns_.push_back(std::move(p));
    begun_.push_back(begun);
    least_.push_back(std::max(begun / 4, lowest * (1 + 1e-9))), most_.push_back(std::min(begun * 4, highest * (1 - 1e-9)));
    if (begun_.back() < least_.back() || begun_.back() > most_.back()) begun_.back() = std::clamp(begun, least_.back(), most_.back());
  }
}

void HouseFit::lay_windows() {
  window_ = options_.window > 0 ? options_.window : usual_window(log_);
  if (window_ < 2 * log_.spacing())
    refuse(log_.file, "E391", fmt::format("averages over {}, but the log has one row every {}", show(window_, measure::minutes, units_),
                                          show(log_.spacing(), measure::minutes, units_)),
           "a window of two rows or more", "use --window \"2 h\"");
  double const skip = options_.skip;
  if (log_.length() - skip < 4 * window_)
    refuse(log_.file, "E391",
           fmt::format("the log is {} long, and its first {} are left out", show(log_.length(), measure::hours, units_),
                       show(skip, measure::hours, units_)),
           fmt::format("at least {}", show(skip + 4 * window_, measure::hours, units_)), "use --skip \"0 h\" to leave out nothing");
  int const windows = int((log_.length() - skip) / window_ + 1e-9);
  double const enough = 0.5 * window_ / log_.spacing();
  for (auto const& c : log_.columns) {
    std::vector<int> of(log_.times.size(), -1), counted(std::size_t(windows), 0);
    if (c.what != What::outdoors)
      for (std::size_t i = 0; i < of.size(); ++i) {
        double const place = (log_.times[i] - skip) / window_;
        if (place >= 0 && place < windows && !std::isnan(c.values[i])) ++counted[std::size_t(of[i] = int(place))];
      }
    for (int& w : of)
      if (w >= 0 && counted[std::size_t(w)] < enough) w = -1;  // mostly a gap
    window_of_.push_back(std::move(of));
  }
}

Shown HouseFit::shown_at(Point const& point, std::function<bool()> const& interrupted) const {
  Diagnostics faults;
  auto const document = read_document(case_.document().file, case_.text_at(unknowns_, point), catalog(), faults);
  Project project;
  if (faults.empty()) project = make_project(document, catalog(), faults);
  if (!faults.empty() || !project.file_faults.empty())
    throw BadInput{faults.render(document.file, document.text) + project.file_faults.rendered};
  return march_beside(log_, project, options_.lead, units_, interrupted);
}

std::string FoundUnknown::stated(UnitSystem units, std::size_t place) const {
  auto const& f = *parameter.turn.field;
  double const si = parameter.as == Parameter::As::factor ? value * parameter.turn.own.at(place) : value;
  auto const unit = unit_for(f, units);
  auto const x = fmt::format("{:.4g}", unit.from_si(si));
  return unit.symbol.empty() ? x : x + " " + std::string(unit.symbol);
}

std::string HouseFit::text_with(FitResult const& result) const {
  std::vector<Edit> edits;
  for (auto const& u : result.unknowns)
    for (std::size_t k = 0; k < u.parameter.turn.places.size() && u.told != Told::not_by_this_log; ++k)
      edits.push_back({Edit::Do::set, u.parameter.turn.places[k], u.stated(units_, k)});
  return edits.empty() ? stated_.text() : edited(stated_.text(), edits, catalog());
}

}  // namespace steadyfire
