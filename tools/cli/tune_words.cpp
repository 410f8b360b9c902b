#include "tools/cli/tune_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "tools/job/house_run.hpp"

namespace steadyfire::cli {
namespace {

/// Words for one tuning in one system of units.
class Teller {
public:
  Teller(Tuned const& t, UnitSystem units) : t_{t}, units_{units} {}

  std::string all(std::string const& to_paste) const {
    std::string text = varied();
    text += verdict() + "\n" + before_and_after() + "\n" + counted() + "\n";
    if (t_.is_better()) text += "Lines to change in the scenario:\n" + to_paste;
    return text + "\n" + front() + "\n" + flatness();
  }

  std::vector<std::string> sentences() const {
    std::vector<std::string> all{verdict_line()};
    if (auto const cost = price(); !cost.empty()) all.push_back(cost);
    for (auto const& line : leeway_lines()) all.push_back(line);
    return all;
  }
  std::string settings_at(std::size_t trial) const {
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < t_.settings.size(); ++i)
      parts.push_back(t_.settings[i].parameter.name + " " + t_.settings[i].shown(at(trial)[i]));
    return fmt::format("{}", fmt::join(parts, ", "));
  }

private:
  std::vector<double> const& at(std::size_t trial) const { return t_.trials[trial].at; }
  double figure(std::size_t trial, std::size_t f) const { return t_.trials[trial].verdict.figures[f]; }
  std::string told(double si, std::size_t f) const { return show(si, t_.figures[f].measure, units_); }
  std::size_t number_of(std::string_view key) const {
    return std::size_t(std::find_if(t_.figures.begin(), t_.figures.end(), [&](auto const& f) { return f.key == key; }) -
                       t_.figures.begin());
  }
  bool is_more_than_chance(double change, std::size_t f, double of) const {
    bool const is_point = t_.figures[f].measure.us.dimension == Temperature::dimension;
    return std::abs(change) > 2 * t_.scatter[f] && std::abs(change) > (is_point ? 0.05 : 2e-3 * std::abs(of));
  }

  std::string varied() const {
    std::string text = fmt::format("Settings varied, over {}:\n", fmt::join(t_.spells, "; "));
    std::size_t wide = 10;
    for (auto const& d : t_.settings) wide = std::max(wide, d.parameter.name.size());
    for (auto const& d : t_.settings) {
      auto const between = d.parameter.words.empty() ? fmt::format("{} to {}", d.shown(d.least), d.shown(d.most))
                                                     : fmt::format("{}", fmt::join(d.parameter.words, ", "));
      text += fmt::format("  {:<{}}  now {:<12} tried {}{}\n", d.parameter.name, wide, d.shown(d.present), between,
                          d.is_usual ? " (usual range; set another with --turn)" : "");
    }
    text += fmt::format("{} points tried", t_.trials.size());
    if (t_.refused) text += fmt::format("; {} of them rejected: {}", t_.refused, t_.refused_why);
    return text + "\n\n";
  }

  std::string change_of(std::size_t f, std::size_t from, std::size_t to) const {
    return fmt::format("{} {} → {}", t_.figures[f].name, told(figure(from, f), f), told(figure(to, f), f));
  }
  /// "fuel 25.01 therm → 24.80 therm" for what gains, or loses.
  std::vector<std::string> changes(std::vector<std::size_t> const& figures, bool gains) const {
    std::vector<std::string> parts;
    for (auto const f : figures) {
      double const now = figure(t_.present, f), then = figure(t_.chosen, f);
      bool const is_gain = (then < now) == (t_.figures[f].better == Better::lower);
      if (then == now || is_gain != gains || !is_more_than_chance(then - now, f, now)) continue;
      parts.push_back(change_of(f, t_.present, t_.chosen));
    }
    return parts;
  }

  std::string verdict_line() const {
    if (!t_.is_better()) {
      std::vector<std::string> names;
      for (auto const f : t_.guarded) names.push_back(t_.figures[f].name);
      return fmt::format(
          "No better settings within these bounds: nothing improves one of {} without making another worse. Keep the present settings.",
          fmt::join(names, ", "));
    }
    return fmt::format("Better settings: {}. Result: {}; nothing weighed gets worse.", settings_at(t_.chosen),
                       fmt::join(changes(t_.guarded, true), ", "));
  }

  /// What the chosen settings cost beyond what was weighed; or what a trade would give where nothing is better.
  std::string price() const {
    if (t_.is_better()) {
      std::vector<std::size_t> rest;
      for (std::size_t f = 0; f < t_.figures.size(); ++f)
        if (std::find(t_.guarded.begin(), t_.guarded.end(), f) == t_.guarded.end() &&
            std::find(t_.aims.begin(), t_.aims.end(), f) == t_.aims.end())
          rest.push_back(f);
      auto const worse = changes(rest, false);
      return worse.empty() ? "" : fmt::format("Gets worse, but was not weighed: {}.", fmt::join(worse, ", "));
    }
    auto const trade = t_.evenest;
    if (trade == t_.present) return "";
    std::vector<std::string> parts;
    for (auto const f : t_.guarded) parts.push_back(change_of(f, t_.present, trade));
    return fmt::format("Middle trade-off: {}: {}.", settings_at(trade), fmt::join(parts, ", "));
  }
  std::string verdict() const {
    auto const cost = price();
    return verdict_line() + "\n" + (cost.empty() ? "" : cost + "\n");
  }

  std::string before_and_after() const {
    auto text = t_.is_better() ? fmt::format("  {:<26}{:>14}{:>14}   {}\n", "", "now", "chosen", "change")
                               : fmt::format("  {:<26}{:>14}\n", "", "now");
    for (std::size_t f = 0; f < t_.figures.size(); ++f) {
      double const now = figure(t_.present, f), then = figure(t_.chosen, f);
      bool const weighed = std::find(t_.aims.begin(), t_.aims.end(), f) != t_.aims.end();
      text += fmt::format("{} {:<26}{:>14}", weighed ? "*" : " ", t_.figures[f].name, told(now, f));
      if (t_.is_better()) text += fmt::format("{:>14}   {}", told(then, f), change_words(now, then, f));
      text += "\n";
    }
    return text + "  * weighed\n";
  }
  std::string change_words(double now, double then, std::size_t f) const {
    if (std::isnan(now) || std::isnan(then)) return "";
    if (!is_more_than_chance(then - now, f, now)) return "the same";
    auto const& m = t_.figures[f].measure;
    auto const better = t_.figures[f].better == Better::neither                   ? ""
                        : (then < now) == (t_.figures[f].better == Better::lower) ? ", better"
                                                                                  : ", worse";
    bool const is_point = m.us.dimension == Temperature::dimension;
    if (is_point)
      return (then > now ? "+" : "") + show(then - now, measure::fine_temperature_change, units_) + better;
    return now != 0 ? fmt::format("{:+.1f}%{}", 100 * (then - now) / std::abs(now), better) : std::string(better).erase(0, 2);
  }

  std::string counted() const {
    auto text = fmt::format(
        "Fuel counts what was burned less the heat still stored at the end, at the boiler's {:.0f}%: ending with a colder floor saves "
        "nothing.\n",
        100 * t_.boiler_efficiency);
    if (t_.figures[t_.aims.back()].key == "energy" || number_of("cost") == t_.figures.size())
      text +=
          fmt::format("Electricity counts {:.1f} times, as primary energy (EU default), because [run] has no prices. ", electricity_counts);
    else text += "Electricity counts by its price. ";
    return text + "The warm-up counts too.\n";
  }

  std::string row(std::string const& mark, std::size_t trial) const {
    auto text = fmt::format("  {:<9}", mark);
    for (auto const f : shown_of_front()) text += fmt::format("{:>16}", told(figure(trial, f), f));
    for (std::size_t i = 0; i < t_.settings.size(); ++i) text += fmt::format("{:>{}}", t_.settings[i].shown(at(trial)[i]), width(i));
    return text + "\n";
  }
  std::size_t width(std::size_t setting) const { return std::clamp<std::size_t>(t_.settings[setting].parameter.name.size() + 2, 14, 40); }
  std::vector<std::size_t> shown_of_front() const {
    auto all = t_.aims;
    for (auto const f : t_.guarded)
      if (std::find(all.begin(), all.end(), f) == all.end()) all.push_back(f);
    return all;
  }
  std::string front() const {
    auto text = fmt::format("Best trade-offs: no setting tried is better in one of {} without being worse in the other.\n  {:<9}",
                            fmt::join(names_of(t_.aims), ", "), "");
    for (auto const f : shown_of_front()) {
      auto const& one = t_.figures[f];
      text += fmt::format("{:>16}", one.key == "comfort" ? "warm and cold" : one.key == "energy" ? "fuel and el." : one.name.substr(0, 15));
    }
    for (std::size_t i = 0; i < t_.settings.size(); ++i)
      text += fmt::format("{:>{}}", t_.settings[i].parameter.name.substr(0, width(i) - 2), width(i));
    text += "\n";
    constexpr std::size_t rows = 8;
    auto const n = t_.front.size();
    std::size_t last = n;
    for (std::size_t k = 0; k < std::min(rows, n); ++k) {
      auto const i = n <= rows ? k : k * (n - 1) / (rows - 1);
      if (i != last) text += row(t_.front[i] == t_.chosen ? "chosen" : t_.front[i] == t_.present ? "now" : "", t_.front[i]);
      last = i;
    }
    text += row("now", t_.present);
    if (t_.is_better()) text += row("chosen", t_.chosen);
    return text;
  }
  std::vector<std::string> names_of(std::vector<std::size_t> const& figures) const {
    std::vector<std::string> names;
    for (auto const f : figures) names.push_back(t_.figures[f].name);
    return names;
  }

  std::vector<std::string> leeway_lines() const {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < t_.leeway.size(); ++i) {
      auto const& l = t_.leeway[i];
      auto const& d = t_.settings[i];
      if (!d.parameter.words.empty()) continue;
      auto const least = d.shown(l.least), most = d.shown(l.most);
      auto line = least == most ? fmt::format("{}: keep {}", d.parameter.name, least)
                                : fmt::format("{}: {} to {} is as good", d.parameter.name, least, most);
      std::vector<std::string> ends;
      if (l.to_least_end && l.to_most_end) ends.push_back("all of the range tried");
      else {
        if (!l.least_why.empty()) ends.push_back("limited below by " + l.least_why);
        if (!l.most_why.empty()) ends.push_back("limited above by " + l.most_why);
      }
      lines.push_back(line + (ends.empty() ? "" : fmt::format(" ({})", fmt::join(ends, ", "))));
    }
    return lines;
  }
  std::string flatness() const {
    auto const lines = leeway_lines();
    if (lines.empty()) return "";
    auto text = fmt::format("How far each setting can move (the others as {}) before {} is {:.3g}% worse:\n",
                            t_.is_better() ? "chosen" : "now", fmt::join(names_of(t_.aims), " or "), 100 * t_.flat);
    for (auto const& line : lines) text += "  " + line + "\n";
    return text;
  }

  Tuned const& t_;
  UnitSystem units_;
};

}  // namespace

std::string changed_lines(std::string const& before, std::string const& after) {
  std::set<std::string> known;
  std::string line, text;
  for (std::istringstream all{before}; std::getline(all, line);) known.insert(line);
  for (std::istringstream all{after}; std::getline(all, line);)
    if (!known.contains(line)) text += "  " + line + "\n";
  return text;
}

std::string tuning_words(Tuned const& t, std::string const& to_paste, UnitSystem units) { return Teller{t, units}.all(to_paste); }

nlohmann::ordered_json tuning_json(Tuned const& t, std::string const& scenario) {
  using Json = nlohmann::ordered_json;
  auto const number = [](double x) { return std::isfinite(x) ? Json(x) : Json(nullptr); };
  auto const trial = [&](std::size_t i) {
    Json settings = Json::object(), figures = Json::object();
    for (std::size_t k = 0; k < t.settings.size(); ++k)
      settings[t.settings[k].parameter.turn.address] = t.settings[k].words(t.trials[i].at[k]);
    for (std::size_t f = 0; f < t.figures.size(); ++f)
      if (t.trials[i].is_good()) figures[t.figures[f].key] = number(t.trials[i].verdict.figures[f]);
    return Json{{"settings", settings}, {"figures", figures}};
  };
  Json settings = Json::array(), front = Json::array(), figures = Json::array(), aims = Json::array();
  for (std::size_t i = 0; i < t.settings.size(); ++i) {
    auto const& d = t.settings[i];
    Json one{{"address", d.parameter.turn.address}, {"name", d.parameter.name}, {"least", d.words(d.least)}, {"most", d.words(d.most)}};
    if (i < t.leeway.size()) {
      auto const& l = t.leeway[i];
      one["as_good"] = {{"from", d.words(l.least)}, {"to", d.words(l.most)}, {"ends_below", l.least_why}, {"ends_above", l.most_why}};
    }
    settings.push_back(one);
  }
  for (std::size_t f = 0; f < t.figures.size(); ++f)
    figures.push_back({{"key", t.figures[f].key}, {"name", t.figures[f].name}, {"scatter", number(t.scatter[f])}});
  for (auto const f : t.aims) aims.push_back(t.figures[f].key);
  for (auto const i : t.front) front.push_back(trial(i));
  return {{"format", 1},
          {"scenario", scenario},
          {"program_version", STEADYFIRE_VERSION},
          {"spells", t.spells},
          {"aims", aims},
          {"is_better", t.is_better()},
          {"tried", t.trials.size()},
          {"refused", t.refused},
          {"refused_why", t.refused_why},
          {"boiler_efficiency", t.boiler_efficiency},
          {"electricity_counts", electricity_counts},
          {"settings", settings},
          {"figures", figures},
          {"now", trial(t.present)},
          {"chosen", trial(t.chosen)},
          {"evenest", trial(t.evenest)},
          {"front", front}};
}

FrontRecord front_record(Tuned const& t, std::string const& scenario, std::string const& title, UnitSystem units) {
  Teller const teller{t, units};
  FrontRecord r;
  r.title = title, r.scenario = scenario, r.program_version = STEADYFIRE_VERSION;
  auto const axis = [&](std::size_t f) {
    return FrontAxis{t.figures[f].name, t.figures[f].measure, t.figures[f].better != Better::higher};
  };
  auto const x = t.aims[0], y = t.aims[1];
  r.x = axis(x), r.y = axis(y);
  for (auto const i : t.within) {
    auto const& f = t.trials[i].verdict.figures;
    r.points.push_back({f[x], f[y], std::find(t.front.begin(), t.front.end(), i) != t.front.end(), teller.settings_at(i)});
  }
  auto const mark = [&](char const* name, std::size_t i) {
    auto const& f = t.trials[i].verdict.figures;
    r.marks.push_back({name, f[x], f[y], teller.settings_at(i)});
  };
  if (t.is_better()) mark("chosen", t.chosen);
  mark("now", t.present);
  if (!t.is_better() && t.evenest != t.present) mark("middle trade-off", t.evenest);
  r.words = teller.sentences();
  if (auto const left = long(t.trials.size() - t.within.size()) - t.refused; left > 0)
    r.words.push_back(
        fmt::format("{} of the {} points tried are not drawn: more than twice as bad as now, or rooms {} off all the time.", left,
                    t.trials.size(), show(unit::degF_change.to_si(0.5), measure::fine_temperature_change, units)));
  r.cautions = {caution};
  return r;
}

}  // namespace steadyfire::cli
