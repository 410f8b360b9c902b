#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <iostream>

#include "plots/fit_report.hpp"
#include "sim/core/files.hpp"
#include "sim/core/units.hpp"
#include "sim/record/json_parts.hpp"
#include "tools/cli/running.hpp"
#include "tools/study/fit.hpp"

namespace steadyfire::cli {
namespace {

using nlohmann::json;

double time_of(std::string const& words, std::string const& option) {
  UnitFault fault{};
  auto const q = parse_quantity(words, Time::dimension, fault);
  if (!q || q->si < 0)
    throw BadInput(fmt::format("error: {} is \"{}\"\n  expected  a time, for example \"2 h\" or \"30 min\"\n", option, words));
  return q->si;
}

json number(double x) { return std::isfinite(x) ? json(x) : json(nullptr); }

char const* word_for(Told told) {
  switch (told) {
    case Told::well:
      return "well";
    case Told::roughly:
      return "roughly";
    case Told::hardly:
      return "hardly";
    case Told::not_by_this_log:
      return "not by this log";
    case Told::not_apart:
      return "not apart from another";
    case Told::at_its_bound:
      return "at its bound";
  }
  return "";
}

json to_json(FitResult const& r, HouseFit const& fit, std::string const& scenario) {
  json all{{"format", 1},
           {"program_version", STEADYFIRE_VERSION},
           {"scenario", scenario},
           {"log", fit.log().file},
           {"window_s", r.window},
           {"length_s", r.length},
           {"rows", r.rows},
           {"gaps", r.gaps},
           {"runs", r.runs},
           {"starting_points", r.starts},
           {"independent_windows", r.effective},
           {"condition", r.condition},
           {"words", r.words},
           {"advice", r.advice},
           {"unknowns", json::array()},
           {"columns", json::array()}};
  for (auto const& u : r.unknowns) {
    json one{{"address", u.parameter.turn.address},
             {"name", u.parameter.name},
             {"is_factor", u.parameter.as == Parameter::As::factor},
             {"begun", u.begun},
             {"found", u.value},
             {"low_95", number(u.low)},
             {"high_95", number(u.high)},
             {"told", word_for(u.told)},
             {"words", u.words}};
    if (u.twin >= 0) one["twin"] = r.unknowns[std::size_t(u.twin)].parameter.turn.address, one["correlation"] = u.correlation;
    all["unknowns"].push_back(std::move(one));
  }
  for (auto const& c : r.columns)
    all["columns"].push_back({{"column", c.column->words()},
                              {"windows", c.windows},
                              {"rms_before", c.before},
                              {"rms_after", c.after},
                              {"worst", c.worst},
                              {"worst_at_s", c.worst_at}});
  return all;
}

std::string words(FitResult const& r, UnitSystem units) {
  std::string text = fmt::format("  {:<30} {:>14} {:>14} {:>12}\n", "value", "before", "found", "95% range");
  for (auto const& u : r.unknowns) {
    bool const is_told = !std::isnan(u.low);
    auto const shown = [&](double x) {
      if (u.parameter.as == Parameter::As::factor) return fmt::format("× {:.4g}", x);
      auto const all = u.parameter.shown(x, units);
      std::size_t end = 0;
      double const number = std::stod(all, &end);
      return fmt::format("{:.4g}{}", number, all.substr(end));
    };
    text += fmt::format("  {:<30} {:>14} {:>14} {:>12}  {}\n", u.parameter.name, shown(u.begun), is_told ? shown(u.value) : "-",
                        is_told ? fmt::format("±{:.1f}%", 100 * (u.high - u.low) / 2 / u.value) : "-", u.words);
  }
  text += fmt::format("\n  {:<30} {:>14} {:>14} {:>14}\n", "averages over " + show(r.window, measure::minutes, units), "error before",
                      "error now", "largest now");
  for (auto const& c : r.columns) {
    auto const m = c.column->is_temperature() ? measure::fine_temperature_change : c.column->measure();
    text += fmt::format("  {:<30} {:>14} {:>14} {:>14}  {} after the start of the log\n", c.column->words(), show(c.before, m, units),
                        show(c.after, m, units), show(c.worst, m, units), show(c.worst_at, measure::hours, units));
  }
  text += "\n";
  for (auto const& w : r.words) text += "  " + w + "\n";
  text += fmt::format(
      "  Errors are averages (rms). {} runs, {}. The log gives {:.0f} independent comparisons.\n", r.runs,
      r.starts == 1 ? "started at the scenario's values" : "started at the scenario's values and at the best of others around them",
      r.effective);
  for (auto const& a : r.advice) text += "  To learn more: " + a + "\n";
  return text;
}

std::string lines_to_paste(FitResult const& r, UnitSystem units) {
  std::string text;
  for (auto const& u : r.unknowns)
    if (!std::isnan(u.low) && u.parameter.as == Parameter::As::value)
      text += fmt::format("  {} = {}\n", u.parameter.turn.address,
                          u.parameter.turn.field->sort == Field::Sort::quantity ? toml_text(u.stated(units)) : u.stated(units));
  return text.empty() ? text : "\nPut these in the scenario, each in its table:\n" + text;
}

}  // namespace

int fit(Outputs& outputs, Common const& common, FitAsked const& asked) {
  FitOptions options;
  options.find = asked.find, options.jobs = asked.jobs;
  if (!asked.window.empty()) options.window = time_of(asked.window, "--window");
  if (!asked.skip.empty()) options.skip = time_of(asked.skip, "--skip");
  auto const text = read_text(common.scenario);
  auto const log = read_log(asked.log, rooms_of(Case{common.scenario, text, {}, common.system()}.project()));
  std::optional<HouseFit> fit;
  try {
    fit.emplace(common.scenario, text, log, options, common.system());
  } catch (BadAddress const& e) { throw as_usage(e, "--find"); }
  listen_for_interrupt();
  outputs.begin();
  auto const result = [&] {
    Progress progress;
    return fit->solve({std::ref(progress), was_interrupted});
  }();
  if (was_interrupted() || !result) return exit_by_signal();
  if (!common.silent()) {
    Case const own{common.scenario, text, {}, common.system()};
    std::cout << own.project().installation.title << "\n\n" << words(*result, common.system()) << lines_to_paste(*result, common.system());
    if (!asked.write.empty()) std::cout << "\nscenario with the values found: " << asked.write << '\n';
    if (!asked.report.empty()) std::cout << "report: " << asked.report << '\n';
    std::cout << '\n' << caution << '\n';
  }
  outputs.write(asked.write, [&] { return fit->text_with(*result); });
  outputs.write(common.json, [&] { return json_text(to_json(*result, *fit, common.scenario)); });
  outputs.write(asked.report, [&] { return make_fit_report(fit->record(*result), common.system()); });
  outputs.commit();
  return done;
}

}  // namespace steadyfire::cli
