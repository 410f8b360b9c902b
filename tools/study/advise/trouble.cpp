#include "tools/study/advise/trouble.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "sim/core/diagnostic.hpp"

namespace steadyfire {
namespace {

using Sort = Trouble::Sort;
double constexpr day = 86400, kelvin_hour = 3600;

/// "1 start", "138 starts".
std::string counted(long n, std::string_view what) { return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s"); }

ZoneRecord const* zone_of(Record const& r, std::string const& name) {
  auto const z = std::find_if(r.zones.begin(), r.zones.end(), [&](auto const& one) { return one.name == name; });
  return z == r.zones.end() ? nullptr : &*z;
}

void judge_flows(Judged& j) {
  if (j.flows.states.empty()) return;
  for (auto const& z : j.flows.states.front().zones) {
    auto const* ran = zone_of(j.run, z.name);
    double constexpr least_flow = 0.9, allowed = 0.5;  // as zone.short_of_flow says; [K] about a thermostat's differential
    if (ran && !std::isnan(ran->setting))
      if (double const lack = ran->setting - z.room - allowed; lack > 0)
        j.troubles.push_back(
            {Sort::cold_room, z.name, lack,
             say("{}: {} on the design day, setpoint {}", z.name, Amount{z.room, measure::fine_temperature},
                 Amount{ran->setting, measure::fine_temperature})});
    double constexpr heat_enough = 0.95;  // then the wider drop may be accepted
    if (double const lack = least_flow - z.got / z.wanted; lack > 0 && !(z.heat_share >= heat_enough))
      j.troubles.push_back(
          {Sort::short_of_flow, z.name, lack / 0.1 / 2,
           say("{}: flow {}, needs {}", z.name, Amount{z.got, measure::flow}, Amount{z.wanted, measure::flow})});
  }
}

double warm_up(Record const& r) { return std::min(r.duration / 4, day); }

/// A room below its band after the warm-up [K·s], from the means of the track; in setback hours its setback is allowed all day.
double lack_of(Record const& r, ZoneRecord const& zone, Installation const& in) {
  double reference = zone.setting, band = 0.5;  // [K]
  for (auto const& parts : in.zones) {
    if (parts.name != zone.name || parts.thermostat < 0) continue;
    auto const& thermostat = in.pieces[parts.thermostat];
    reference = std::min(reference, number_of(thermostat, FieldRole::setback, reference));
    band += number_of(thermostat, FieldRole::differential, 0);
  }
  double sum = 0;
  for (auto const& channel : r.whole.channels) {
    if (channel.id != "zone/" + zone.name + "/room") continue;
    for (std::size_t i = 0; i < channel.mean.size(); ++i)
      if (r.whole.start + double(i) * r.whole.step >= warm_up(r)) sum += r.whole.step * std::max(0.0, reference - band - channel.mean[i]);
  }
  return sum;
}

void judge_run(Judged& j, Installation const& in, RunOptions const& options) {
  auto const& r = j.run;
  if (r.burner.starts_per_hour_worst > options.starts_limit)
    j.troubles.push_back({Sort::many_starts, "", 2 * (double(r.burner.starts_per_hour_worst) / options.starts_limit - 1),
                          say("burner: {} in the worst hour, limit {} ({} in all)", counted(r.burner.starts_per_hour_worst, "start"),
                              options.starts_limit, counted(r.burner.starts, "start"))});
  if (double constexpr scatter = 0.02; !r.burner.burns.empty() && r.burner.burn_median < (1 - scatter) * options.short_burn)
    j.troubles.push_back({Sort::short_burns, "", 2 * (1 - r.burner.burn_median / options.short_burn),
                          say("burner: median burn {}, minimum {}", Amount{r.burner.burn_median, measure::minutes},
                              Amount{options.short_burn, measure::minutes})});
  double constexpr allowed = kelvin_hour;  // [K·s] a day
  double const days = r.duration / day, warm_days = std::max(1.0, (r.duration - warm_up(r)) / day);
  for (auto const& z : r.zones) {
    if (double const much = z.overshoot / std::max(1.0, days) - allowed; much > 0)
      j.troubles.push_back({Sort::too_warm, z.name, much / kelvin_hour / 2,
                            say("{}: {} too warm, up to {}", z.name, Amount{z.overshoot, measure::degree_hours},
                                Amount{z.room_max, measure::fine_temperature})});
    double const lack = j.lack[z.name] = lack_of(r, z, in);
    if (double const much = lack / warm_days - allowed; much > 0)
      j.troubles.push_back({Sort::too_cold, z.name, much / kelvin_hour / 2,
                            say("{}: {} too cold after warm-up", z.name, Amount{lack, measure::degree_hours})});
  }
}

/// Findings of other sorts; those of cycling and flow are judged by their numbers above.
void judge_findings(Judged& j) {
  static std::set<std::string> const judged{"zone.short_of_flow", "burner.many_starts", "burner.short_burns",
                                            "burner.one_pass",    "room.too_cold",      "room.too_warm"};
  std::set<std::pair<std::string, std::string>> told;
  for (auto const* findings : {&j.flows.findings, &j.run.findings})
    for (auto const& f : *findings)
      if (f.severity == Severity::serious && !judged.count(f.id) && told.emplace(f.id, f.place).second)
        j.troubles.push_back({Sort::other, f.id + " " + f.place, 1, say("{}: {}", f.place, f.words)});
}

}  // namespace

double Judged::total() const {
  double sum = 0;
  for (auto const& t : troubles) sum += t.amount;
  return sum;
}
double Judged::total(Subject subject) const {
  double sum = 0;
  for (auto const& t : troubles)
    if (subject_of(t.sort) == subject) sum += t.amount;
  return sum;
}
bool Judged::has(Trouble::Sort sort) const {
  return std::any_of(troubles.begin(), troubles.end(), [&](auto const& t) { return t.sort == sort; });
}

Judged judge(Case const& house, std::function<bool()> const& interrupted) {
  Judged j;
  try {
    auto const& project = house.project();
    auto flows = flows_options_of(project);
    flows.calls.emplace_back();
    for (auto const& z : project.installation.zones) flows.calls[0].push_back(z.name);
    j.flows = study_flows(project.installation, flows);
    auto const options = options_of(project);
    j.run = run_house(project, options, {.interrupted = interrupted}).record;
    j.fault = j.run.incomplete;
    judge_flows(j), judge_run(j, project.installation, options), judge_findings(j);
  } catch (Stopped const& s) { j.fault = s.what(); }
  if (auto const end = j.fault.find('\n'); end != std::string::npos) j.fault.erase(end);
  std::stable_sort(j.troubles.begin(), j.troubles.end(), [](auto const& a, auto const& b) { return a.amount > b.amount; });
  return j;
}

Subject subject_of(Sort sort) {
  switch (sort) {
    case Sort::cold_room:
    case Sort::short_of_flow:
    case Sort::too_cold:
      return Subject::rooms;
    case Sort::many_starts:
    case Sort::short_burns:
      return Subject::cycling;
    case Sort::too_warm:
      return Subject::overheating;
    case Sort::other:
      return Subject::other;
  }
  throw InternalError("a trouble of no sort");
}

std::string_view words_of(Subject s) {
  constexpr std::array words{"Rooms and flows", "Short cycling", "Rooms too warm", "Other findings"};
  return words.at(std::size_t(s));
}

std::string in_short(Judged const& j, Subject subject, Judged const& of, UnitSystem units) {
  auto const& b = j.run.burner;
  if (subject == Subject::cycling)
    return fmt::format("{}, {} in the worst hour, median burn {}", counted(b.starts, "start"), b.starts_per_hour_worst,
                       b.burns.empty() ? "-" : show(b.burn_median, measure::minutes, units));
  if (subject == Subject::other) {
    auto const left = std::count_if(j.troubles.begin(), j.troubles.end(), [](auto const& t) { return t.sort == Sort::other; });
    return left == 0 ? "no finding left" : counted(left, "finding") + " left";
  }
  std::vector<std::string> zones, parts;
  for (auto const& t : of.troubles)
    if (subject_of(t.sort) == subject && std::find(zones.begin(), zones.end(), t.place) == zones.end()) zones.push_back(t.place);
  for (auto const& name : zones) {
    auto const among = [&](Sort sort) {
      return subject_of(sort) == subject &&
             std::any_of(of.troubles.begin(), of.troubles.end(), [&](auto const& t) { return t.sort == sort && t.place == name; });
    };
    std::vector<std::string> figures;
    if (!j.flows.states.empty())
      for (auto const& z : j.flows.states.front().zones) {
        if (z.name != name) continue;
        if (among(Sort::short_of_flow)) figures.push_back(show(z.got, measure::flow, units));
        if (among(Sort::cold_room) || among(Sort::short_of_flow))
          figures.push_back(show(z.room, measure::fine_temperature, units) + " on the design day");
      }
    if (among(Sort::too_cold)) {
      auto const lack = j.lack.find(name);
      if (lack != j.lack.end()) figures.push_back(show(lack->second, measure::degree_hours, units) + " too cold");
    }
    if (auto const* z = zone_of(j.run, name)) {
      if (among(Sort::too_warm))
        figures.push_back(fmt::format("{} too warm, up to {}", show(z->overshoot, measure::degree_hours, units),
                                      show(z->room_max, measure::fine_temperature, units)));
    }
    parts.push_back(figures.empty() ? name + " joined to another zone" : fmt::format("{} {}", name, fmt::join(figures, ", ")));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

}  // namespace steadyfire
