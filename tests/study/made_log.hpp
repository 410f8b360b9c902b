#pragma once
// Logs made by our own run of a house whose truth is known, with the noise of gauges.

#include <fmt/format.h>

#include <cmath>
#include <random>

#include "tests/project_of.hpp"
#include "tools/study/fit.hpp"

namespace steadyfire {

/// What gauges would have shown, read at instants: the true house has lived three days before, by its own weather, so that nobody who fits
/// knows in what state it begins.
inline HouseLog true_log(std::string const& file, std::string text, std::vector<Edit> truth, double days, double every) {
  double const lead = 3 * 86400, fine = 10;
  auto const base = project_of(text, file);
  HouseLog log;
  for (double t = 0; t <= days * 86400; t += fine) log.times.push_back(t);
  auto const add = [&](LogColumn::What what, std::string heading, std::string zone = "") {
    log.columns.push_back({what, std::move(heading), std::move(zone), std::vector<double>(log.times.size(), 0.0)});
  };
  for (auto const& zone : rooms_of(base)) add(LogColumn::What::room, zone + " [degF]", zone);
  add(LogColumn::What::supply, "supply [degF]"), add(LogColumn::What::return_water, "return [degF]"),
      add(LogColumn::What::burner, "burner");
  truth.push_back({Edit::Do::set, {"run", 0, {"start_day"}}, std::to_string(base.run.start_day - 3)});
  truth.push_back({Edit::Do::set, {"run", 0, {"duration"}}, fmt::format("{} d", days + 3.1)});
  auto const project = project_of(edited(std::move(text), truth, catalog()), file);
  auto const shown = march_beside(log, project, lead, UnitSystem::us);
  HouseLog seen;
  seen.file = "made";
  auto const by = std::size_t(every / fine);
  for (std::size_t i = 0; i < log.times.size(); i += by) seen.times.push_back(log.times[i]);
  RunWeather const weather{base};
  for (std::size_t c = 0; c < log.columns.size(); ++c) {
    auto column = log.columns[c];
    column.values.clear();
    for (std::size_t i = 0; i < log.times.size(); i += by) column.values.push_back(shown.columns[c][i]);
    if (column.what == LogColumn::What::burner)
      for (auto& x : column.values) x = x > 0.5;
    seen.columns.push_back(std::move(column));
  }
  LogColumn outdoors{LogColumn::What::outdoors, "outdoors [degF]", "", {}};
  for (double const t : seen.times) outdoors.values.push_back(weather.at(t));
  seen.columns.push_back(std::move(outdoors));
  return seen;
}

/// Gaussian noise on every temperature; the same seed, the same noise on every machine.
inline HouseLog with_noise(HouseLog log, double kelvin, unsigned seed) {
  std::mt19937_64 generator{seed};
  auto const even = [&] { return (double(generator() >> 11) + 0.5) * 0x1p-53; };
  for (auto& column : log.columns)
    if (column.is_temperature())
      for (auto& x : column.values) {
        double const far = even(), turn = even();  // Box and Muller
        x += kelvin * std::sqrt(-2 * std::log(far)) * std::cos(6.283185307179586 * turn);
      }
  return log;
}

}  // namespace steadyfire
