#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "sim/scenario/field_words.hpp"
#include "tools/job/house_run.hpp"
#include "tools/study/fit.hpp"

namespace steadyfire {
namespace {

using What = LogColumn::What;

bool is_fire(FoundUnknown const& u) { return u.parameter.turn.address == "boiler.minimum_input"; }
bool is_mass(FoundUnknown const& u) { return u.parameter.turn.address.find("capacity") != std::string::npos; }

/// Why the log does not tell it, or how well it does.
std::string told_words(FoundUnknown const& u, FitResult const& r) {
  switch (u.told) {
    case Told::well:
      return "well known";
    case Told::roughly:
      return "roughly known";
    case Told::hardly:
      return "poorly known";
    case Told::at_its_bound:
      return "at the end of the range searched; something else in the scenario does not match the house";
    case Told::not_apart:
      return fmt::format("unknown: the log cannot separate it from the {} (correlation {:.2f})",
                         r.unknowns[std::size_t(u.twin)].parameter.name, u.correlation);
    case Told::not_by_this_log:
      break;
  }
  if (is_fire(u)) {
    double const share = r.after.time_firing > 0 ? r.after.time_at_minimum / r.after.time_firing : 0;
    return share < 0.005
               ? "unknown: the burner is never at minimum fire in this log"
               : fmt::format("unknown: the burner is at minimum fire for only {:.0f}% of its firing time in this log", 100 * share);
  }
  return "unknown: the log hardly depends on it";
}

}  // namespace

void HouseFit::tell(FitResult& r) const {
  int told = 0;
  for (auto& u : r.unknowns) u.words = told_words(u, r), told += !std::isnan(u.low);
  r.words.push_back(fmt::format("{} of {} values found from this log, with the 95% ranges shown", told, r.unknowns.size()));
  std::string reach;
  for (auto const& c : r.columns) {
    auto const& m = c.column->is_temperature() ? measure::fine_temperature_change : c.column->measure();
    reach +=
        fmt::format("{}{} {} → {}", reach.empty() ? "" : ", ", c.column->words(), show(c.before, m, units_), show(c.after, m, units_));
  }
  r.reach = fmt::format("Average error (rms) of averages over {}: {}", show(r.window, measure::minutes, units_), reach);
  r.words.push_back(
      fmt::format("{} rows over {}, {} empty cells; the first {} are not compared; before that, {} of warm-up in the first day's weather",
                  r.rows, show(r.length, measure::hours, units_), r.gaps, show(options_.skip, measure::hours, units_),
                  show(options_.lead, measure::hours, units_)));
  if (!log_.find(What::outdoors))
    r.words.push_back("No outdoor temperature in the log; the scenario's weather was used. It may not match.");
  auto const want = [&](bool wanted, std::string words) {
    if (wanted && std::find(r.advice.begin(), r.advice.end(), words) == r.advice.end()) r.advice.push_back(std::move(words));
  };
  for (auto const& u : r.unknowns) {
    bool const is_weak = std::isnan(u.low) || u.told == Told::hardly;
    want(is_weak && is_fire(u), "log a mild day, or one small zone calling alone, so that the burner runs at minimum fire or cycles");
    want(is_weak && is_mass(u), "log a night with setback; how fast a room cools and recovers depends on its mass");
    if (!is_fire(u) && !is_mass(u) && u.told == Told::not_apart)
      want(true, fmt::format("measure the {} or the {} separately and put it in the scenario", u.parameter.name,
                             r.unknowns[std::size_t(u.twin)].parameter.name));
  }
  want(!log_.find(What::outdoors), "log the outdoor temperature too");
  want(!log_.find(What::burner) && !log_.find(What::fire), "log the burner state every minute or two");
  want(log_.spacing() > 120 && log_.find(What::burner), "log the burner every minute or two, so that its starts count too");
}

FitRecord HouseFit::record(FitResult const& r) const {
  FitRecord record;
  record.title = stated_.project().installation.title, record.scenario = stated_.document().file, record.log = log_.file;
  record.program_version = STEADYFIRE_VERSION;
  for (auto const& c : r.columns) {
    FitSeries s;
    s.label = c.column->words(), s.measure = c.column->measure();
    auto const k = std::size_t(c.column - log_.columns.data());
    // What was compared: row by row an on and off that comes a minute late is a difference of all or nothing.
    auto const windows = std::size_t(std::max(0.0, (r.length - options_.skip) / r.window + 1e-9));
    std::vector<double> logged(windows, 0.0), fitted(windows, 0.0), compared(windows, 0.0), all(windows, 0.0), run(windows, 0.0);
    for (std::size_t i = 0; i < log_.times.size(); ++i) {
      double const place = (log_.times[i] - options_.skip) / r.window;
      if (place < 0 || place >= double(windows)) continue;
      auto const w = std::size_t(place);
      double const shown = r.after.columns[k][i];
      all[w] += 1, run[w] += shown;
      if (window_of_[k][i] >= 0) compared[w] += 1, logged[w] += c.column->values[i], fitted[w] += shown;
    }
    for (std::size_t w = 0; w < windows; ++w) {
      if (all[w] == 0) continue;
      bool const is_gap = compared[w] == 0;  // there the fitted house alone is shown
      s.times.push_back(options_.skip + (double(w) + 0.5) * r.window);
      s.logged.push_back(is_gap ? std::nan("") : logged[w] / compared[w]);
      s.fitted.push_back(is_gap ? run[w] / all[w] : fitted[w] / compared[w]);
    }
    record.series.push_back(std::move(s));
  }
  for (auto const& u : r.unknowns) {
    auto const unit = u.parameter.as == Parameter::As::factor ? AnyUnit{unit::one} : unit_for(*u.parameter.turn.field, units_);
    record.unknowns.push_back(
        {u.parameter.turn.address, u.parameter.name, Measure{unit, unit, 2, 2}, u.begun, u.value, (u.high - u.low) / 2, u.words});
  }
  record.words = r.words;
  record.words.insert(record.words.begin() + 1, r.reach);
  record.compared = fmt::format("Each point is an average over {}, as compared in the fit.", show(r.window, measure::minutes, units_));
  for (auto const& a : r.advice) record.words.push_back("To learn more: " + a + ".");
  record.cautions = {caution};
  return record;
}

}  // namespace steadyfire
