#include "tools/cli/running.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <csignal>

#include "models/boiler.hpp"

namespace steadyfire::cli {

char const* const caution =
    "Gas, flue, pressure, scald, carbon monoxide and electricity can kill. This computation helps to decide; local code, the appliance's "
    "manual and licensed practice decide.";

namespace {
volatile std::sig_atomic_t asked_to_stop = 0;
}

RunOptions options_of(Project const& project, UnitSystem system) {
  auto const& run = project.run;
  RunOptions o;
  o.duration = *run.duration, o.clock = *run.clock, o.start_water = *run.start_water;
  o.ground = project.ground, o.unheated = project.unheated, o.tolerance = *run.tolerance;
  o.short_burn = *run.short_burn, o.note_burn = *run.note_burn, o.starts_limit = run.starts_limit;
  if (!std::isnan(*run.fuel_price)) o.fuel_price = *run.fuel_price;
  if (!std::isnan(*run.electricity_price)) o.electricity_price = *run.electricity_price;
  o.carbon_per_joule = std::isnan(*run.carbon) ? project.carbon_per_joule : *run.carbon;
  o.weather_source = project.weather.source;
  o.units = system;
  auto boiler = fill<Boiler>(project.installation.pieces[project.installation.boiler].values);
  boiler.prepare();
  o.condensing = [boiler](double entering, double fire) { return entering + boiler.approach(fire) < boiler.chemistry.dew_point; };
  return o;
}

RunWeather::RunWeather(Project const& project)
    : weather_{project.weather}, offset_{(project.run.start_day - 1) * 86400.0 + *project.run.clock} {}

Progress::Progress() : shown_{bool(isatty(STDERR_FILENO))} {}

Progress::~Progress() {
  if (wrote_) fmt::print(stderr, "\r{:30}\r", "");
}

void Progress::operator()(double share) {
  double const spent = std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count();
  if (!shown_ || spent < 1 || share <= 0) return;
  fmt::print(stderr, "\r{:3.0f} %, {:.0f} s left ", 100 * share, spent / share - spent);
  std::fflush(stderr);
  wrote_ = true;
}

void listen_for_interrupt() {
  std::signal(SIGINT, [](int) { asked_to_stop = 1; });
}
bool was_interrupted() { return asked_to_stop != 0; }

}  // namespace steadyfire::cli
